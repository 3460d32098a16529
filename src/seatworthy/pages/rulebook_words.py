"""A rulebook in plain words, as a list of headings with their sentences."""

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
