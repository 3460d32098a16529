"""The ballot's style sheet, under an address that changes with it, so that phones may keep it."""

from functools import cache
from hashlib import sha256
from importlib.resources import files
from typing import Final

LOOK_ROUTE: Final = "/ballot-look"
MOST_ROWS: Final = 60  # of names in two columns; more than that run across


@cache
def style_sheet() -> bytes:
    """All rules; those that set how many names stand in a column are written here."""
    rules = (files(__package__) / "look" / "ballot.css").read_text(encoding="utf-8")
    rows = "".join(
        f".rows-{count}{{grid-template-rows:repeat({count},auto)}}"
        for count in range(1, MOST_ROWS + 1)
    )
    return f"{rules}@media (min-width:340px){{{rows}}}\n".encode()


@cache
def style_address() -> str:
    """Where a page finds the style sheet."""
    return f"{LOOK_ROUTE}/{sha256(style_sheet()).hexdigest()[:16]}.css"
