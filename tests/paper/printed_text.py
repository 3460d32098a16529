"""Reads a PDF back as pieces of text with the place that each takes up, in mm from the top left."""

import re
from dataclasses import dataclass
from functools import cache
from io import BytesIO

from pypdf import PdfReader
from pypdf.generic import ContentStream

MM = 25.4 / 72
CAPITAL = 0.7  # height of a capital letter in parts of the size
DEPTH = 0.22  # of g and p below the line


@dataclass(frozen=True)
class Piece:
    """Text set in one go; ``left``, ``top``, ``right``, ``bottom`` enclose its letters."""

    text: str
    left: float
    top: float
    right: float
    bottom: float
    size: float


@cache
def pages_of(pdf):
    """The pages as lists of pieces."""
    return tuple(_pieces(page) for page in PdfReader(BytesIO(pdf)).pages)


def texts_of(pdf):
    """The pages as text, a piece a line."""
    return ["\n".join(piece.text for piece in pieces) for pieces in pages_of(pdf)]


def size_of(pdf):
    """Width and height of every page, mm."""
    return [
        (float(page.mediabox.width) * MM, float(page.mediabox.height) * MM)
        for page in PdfReader(BytesIO(pdf)).pages
    ]


def overprinted(pieces):
    """Pairs of pieces that cover one another by more than a hair."""
    return [
        (one.text, other.text)
        for number, one in enumerate(pieces)
        for other in pieces[number + 1 :]
        if min(one.right, other.right) - max(one.left, other.left) > 0.3
        and min(one.bottom, other.bottom) - max(one.top, other.top) > 0.3
    ]


def _pieces(page):
    faces = {name: _Face(font.get_object()) for name, font in page["/Resources"]["/Font"].items()}
    height = float(page.mediabox.height)
    face, size, kept, across, down, found = None, 0.0, [], 0.0, 0.0, []
    for operands, operator in ContentStream(page.get_contents(), page.pdf).operations:
        if operator == b"q":
            kept.append((face, size))
        elif operator == b"Q":
            face, size = kept.pop()
        elif operator == b"Tf":
            face, size = faces[str(operands[0])], float(operands[1])
        elif operator == b"Td":
            across, down = float(operands[0]), float(operands[1])
            found.append([])
        elif operator == b"Tj":
            text, wide = face.read(operands[0].original_bytes)
            found[-1].append((text, across, across + wide * size, height - down, size))
            across += wide * size
    return [_piece(parts) for parts in found if "".join(part[0] for part in parts).strip()]


def _piece(parts):
    _, left, _, baseline, size = parts[0]
    return Piece(
        "".join(part[0] for part in parts),
        left * MM,
        (baseline - CAPITAL * size) * MM,
        parts[-1][2] * MM,
        (baseline + DEPTH * size) * MM,
        size,
    )


class _Face:
    def __init__(self, font):
        inner = font["/DescendantFonts"][0].get_object()
        self.default = float(inner["/DW"])
        self.widths = dict(_widths(inner["/W"]))
        table = font["/ToUnicode"].get_data().decode("ascii")
        self.letters = {
            int(code, 16): bytes.fromhex(letters).decode("utf-16-be")
            for code, letters in re.findall(r"<([0-9A-F]{4})> <([0-9A-F]+)>", table)
        }

    def read(self, raw):
        codes = [int.from_bytes(raw[at : at + 2], "big") for at in range(0, len(raw), 2)]
        wide = sum(self.widths.get(code, self.default) for code in codes) / 1000
        return "".join(self.letters[code] for code in codes), wide


def _widths(entries):
    rest = list(entries)
    while rest:
        first = int(rest.pop(0))
        second = rest.pop(0)
        if isinstance(second, list):
            yield from ((first + away, float(wide)) for away, wide in enumerate(second))
        else:
            wide = float(rest.pop(0))
            yield from ((code, wide) for code in range(first, int(second) + 1))
