"""The faces and sizes of the papers, and text made printable in them."""

import unicodedata
from collections.abc import Collection
from dataclasses import dataclass, replace
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


def _printed(letter: str, known: Collection[int]) -> str:
    category = unicodedata.category(letter)
    if category in _SPACES:
        return " "
    if category in ("Cf", "Mn") and ord(letter) not in known or ord(letter) in _VARIATIONS:
        return ""
    if category in _UNSEEN or ord(letter) not in known:
        return "" if category == "Cf" else MISSING
    return letter
