"""The style sheet every page sends first: inks, font files, marks, and the rules in look*.css."""

from functools import cache
from importlib.resources import files
from typing import Final

from seatworthy.charts.palette import COLOURS, SENTENCE_FACE, TEXT_FACE
from seatworthy.pages.marks import mark_rules

FONT_ROUTE: Final = "/fonts"
_SHEETS: Final = (
    "look.css",
    "look_ballots.css",
    "look_miss.css",
    "look_sure.css",
    "look_months.css",
    "look_talk.css",
    "look_brewers.css",
)
PAGE_ICON: Final = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 14 14" width="28" height="28">'
    f'<path fill="{COLOURS["light"]["bottle"]}" d="M1.5 .8h11l-2 12.4h-7z"/></svg>'
)


@cache
def style_sheet() -> str:
    """All rules as one ``<style>`` element; each ink follows the shade the reader has chosen."""
    rules = "".join((files(__package__) / name).read_text(encoding="utf-8") for name in _SHEETS)
    return f"<style>{_inks()}{mark_rules()}{rules}</style>"


def _inks() -> str:
    light, dark = COLOURS["light"], COLOURS["dark"]
    inks = "".join(f"--{name}:light-dark({light[name]},{dark[name]});" for name in light)
    return f":root{{{inks}--text-face:{TEXT_FACE};--sentence-face:{SENTENCE_FACE}}}"
