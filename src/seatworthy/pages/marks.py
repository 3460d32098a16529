"""The four standings as a beer glass seen from the side, each with its word.

Full, not yet filled, turned over on its line, only the coaster: the shapes differ before the
colours do. Streamlit drops SVG from HTML, so a mark is a mask over the text colour.
"""

from types import MappingProxyType
from typing import Final
from urllib.parse import quote

from seatworthy.pages.markup import escaped, tag
from seatworthy.phrases import STANDING_WORDS

_SHAPES: Final = MappingProxyType(
    {
        "met": "<path d='M1.5 .8h11l-2 12.4h-7z'/>",
        "not_met": "<path d='M3.6 0h6.8l2 10.4H1.6z'/><path d='M0 11.6h14v1.9H0z'/>",
        "too_little": (
            "<path d='M2.2 1.5h9.6l-1.75 11h-6.1z' fill='none' stroke='black' stroke-width='1.35'/>"
        ),
        "insensitive": "<path d='M0 11.4h14v2.1H0z'/>",
    }
)


def mark(standing: str) -> str:
    """The glass of one standing, without words; nothing where no glass was poured."""
    if standing not in _SHAPES:
        return ""
    return tag("span", class_=f"mark mark-{standing} hue-{standing}", aria_hidden="true")


def key_to_marks(*, with_ear: bool) -> str:
    """The line that explains the marks; the dog-ear only where the table has one."""
    entries = [mark(standing) + escaped(STANDING_WORDS[standing]) for standing in _SHAPES]
    if with_ear:
        entries.append(tag("span", class_="ear-sample", aria_hidden="true") + "due soon")
    return tag("div", "".join(tag("span", entry) for entry in entries), class_="key")


def mark_rules() -> str:
    """The style rules that give each mark its shape."""
    return "".join(f".mark-{name}{{--shape:{_as_url(path)}}}" for name, path in _SHAPES.items())


def _as_url(path: str) -> str:
    svg = f"<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 14 14'>{path}</svg>"
    return f'url("data:image/svg+xml,{quote(svg)}")'
