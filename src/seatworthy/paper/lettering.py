"""The faces and sizes of the papers, and text made printable in them."""

import unicodedata
from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Final

from fpdf import FPDF

_FONTS: Final = Path(__file__).parent / "fonts"
_FILES: Final = (
    ("asap", "", "asap-400.ttf"),
    ("asap", "B", "asap-600.ttf"),
    ("besley", "", "besley-450.ttf"),
    ("dejavu", "", "dejavu-sans-400.ttf"),
)
_SPACES: Final = frozenset({"Zs", "Zl", "Zp", "Cc"})
_UNSEEN: Final = frozenset({"Cf", "Cs", "Cn", "Co"})
_VARIATIONS: Final = range(0xFE00, 0xFE10)

MISSING: Final = "\ufffd"  # printed where no face has the letter
CUT: Final = "…"


@dataclass(frozen=True)
class Lettering:
    """How a piece of text is set.

    Attributes:
        face: "asap" or "besley".
        size: Points.
        is_bold: For Asap only.
    """

    face: str
    size: float
    is_bold: bool = False

    @property
    def line(self) -> float:
        """Height of one line, mm."""
        return self.size * 0.44

    def at(self, size: float) -> "Lettering":
        """The same face in another size."""
        return replace(self, size=size)


ANSWER: Final = Lettering("besley", 19)
HEAD: Final = Lettering("besley", 13)
LETTER: Final = Lettering("besley", 15)
BODY: Final = Lettering("asap", 10.5)
STRONG: Final = Lettering("asap", 10.5, is_bold=True)
CODE: Final = Lettering("asap", 12.5, is_bold=True)
PLAIN: Final = Lettering("asap", 10)
NOTE: Final = Lettering("asap", 9)
COLUMN: Final = Lettering("asap", 8.5)


def take_faces(pdf: FPDF) -> frozenset[int]:
    """Give a document its faces; the code points that it can print."""
    for family, style, name in _FILES:
        pdf.add_font(family, style, _FONTS / name)
    pdf.set_fallback_fonts(["dejavu"], exact_match=False)
    asap, besley, dejavu = (frozenset(pdf.fonts[f].cmap) for f in ("asap", "besley", "dejavu"))
    return asap & besley | dejavu


def printable(text: str, known: Collection[int]) -> str:
    """The same text in letters that can be printed, on one line.

    Accents are joined to their letters, every kind of space becomes a plain one, marks that have
    no shape go, and a letter that no face has becomes `MISSING`.

    Args:
        text: As somebody typed it.
        known: Code points that can be printed.
    """
    return "".join(_printed(letter, known) for letter in unicodedata.normalize("NFC", text))


def unprintable(texts: Iterable[str]) -> tuple[str, ...]:
    """Which of these texts hold a letter or an accent that no face has, each once.

    Latin, Greek and Cyrillic print; most other scripts and pictures don't. Marks without a shape of
    their own (a soft hyphen, the direction of writing) are no loss and no reason to warn.

    Args:
        texts: Names, labels and the like, as somebody typed them.
    """
    known = _letters_of_the_faces()
    return tuple(dict.fromkeys(text for text in texts if _loses_something(text, known)))


@cache
def _letters_of_the_faces() -> frozenset[int]:
    pdf = FPDF()
    known = take_faces(pdf)
    for face in pdf.fonts.values():
        face.close()  # only a document that is finished closes its files
    return known


def _loses_something(text: str, known: Collection[int]) -> bool:
    return any(
        _printed(letter, known) == MISSING
        or (unicodedata.category(letter) in ("Mn", "Me") and not _is_set(letter, known))
        for letter in unicodedata.normalize("NFC", text)
    )


def _is_set(mark: str, known: Collection[int]) -> bool:
    return ord(mark) in known or ord(mark) in _VARIATIONS


def _printed(letter: str, known: Collection[int]) -> str:
    category = unicodedata.category(letter)
    if category in _SPACES:
        return " "
    if category in ("Cf", "Mn") and ord(letter) not in known or ord(letter) in _VARIATIONS:
        return ""
    if category in _UNSEEN or ord(letter) not in known:
        return "" if category == "Cf" else MISSING
    return letter
