"""One compound of a record from near: what the answers say, and the glasses behind it."""

from datetime import date
from math import exp
from typing import Final

from seatworthy.pages.figures import percent, short_day
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import listing
from seatworthy.phrases import METHOD_WORDS, multiple, outcome_words
from seatworthy.steps.closer_views import CloserView, WeighedGlass

_HEADS: Final = ("Day", "Level", "Asked", "Answer", "Said", "Left of it today", "Speaks")
_HARDLY: Final = 1.5  # odds changed by less are not worth a number


def closer_lines(view: CloserView) -> str:
    """What the answers say, a line each; what a person should look at carries the amber."""
    rows = [
        tag("dt", escaped(line.title))
        + tag("dd", escaped(line.words), class_="is-flagged" if line.is_flagged else None)
        for line in view.lines
    ]
    return tag("dl", "".join(rows), class_="said")


def glasses_table(view: CloserView, seen_on: date) -> str:
    """One row a glass, the newest first: what it was, and what it does to the estimate."""
    return listing(_HEADS, [_row(glass, seen_on) for glass in view.glasses])


def _row(glass: WeighedGlass, seen_on: date) -> tuple[str, ...]:
    level = "" if glass.level is None else multiple(glass.level)
    words = (
        short_day(glass.day, seen_on),
        f"{level}, in {glass.beers}" if glass.beers else level,
        METHOD_WORDS.get(glass.method, glass.method),
        outcome_words(glass.method, glass.outcome) + ("" if glass.counts else ", not counted"),
        glass.said,
        "" if glass.weight is None else percent(glass.weight),
        _speaks(glass.pull),
    )
    return tuple(escaped(word) for word in words)


def _speaks(pull: float | None) -> str:
    """Log odds as what the odds are multiplied by, for or against the person."""
    if pull is None:
        return "level not known"
    times = exp(abs(pull))
    if times < _HARDLY:
        return "hardly"
    return f"{multiple(times)} {'for' if pull > 0 else 'against'}"
