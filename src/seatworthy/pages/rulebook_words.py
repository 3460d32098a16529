"""A rulebook in plain words, as headings with their sentences, and its text with numbered lines."""

from collections.abc import Sequence

from seatworthy.pages.markup import escaped, tag
from seatworthy.steps.rulebook_views import Part


def read_out(parts: Sequence[Part]) -> str:
    """A rulebook in plain words, part by part."""
    lines = [
        tag("dt", escaped(part.heading)) + tag("dd", escaped(" ".join(part.sentences)))
        for part in parts
    ]
    return tag("dl", "".join(lines), class_="read-aloud")


def numbered(text: str) -> str:
    """The text of a rulebook with numbered lines, to be scrolled with the keyboard too."""
    lines = "".join(tag("span", escaped(line) + "\n") for line in text.splitlines())
    return tag("pre", lines, class_="lines", tabindex=0, role="group", aria_label="Its text")
