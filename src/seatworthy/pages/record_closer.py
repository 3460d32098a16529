"""One compound of a record from near: what the answers say, and the glasses behind it."""

from datetime import date
from math import exp
from typing import Final

from seatworthy.pages.figures import percent, short_day
from seatworthy.pages.markup import escaped, tag
from seatworthy.phrases import METHOD_WORDS, OUTCOME_WORDS, multiple
from seatworthy.steps.closer_views import CloserView, WeighedGlass

_HEADS: Final = ("Day", "Level", "Asked", "Answer", "Said", "Left of it today", "Speaks")
_HARDLY: Final = 1.15  # odds changed by less are not worth a number


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
    heads = "".join(tag("th", escaped(head), scope="col") for head in _HEADS)
    body = "".join(_row(glass, seen_on) for glass in view.glasses)
    table = tag("table", tag("thead", tag("tr", heads)) + tag("tbody", body), class_="figures")
    label = f"Glasses behind the estimate for {view.label}"
    return tag("div", table, class_="across", tabindex=0, role="region", aria_label=label)


def _row(glass: WeighedGlass, seen_on: date) -> str:
    level = "" if glass.level is None else multiple(glass.level)
    words = (
        f"{level}, in {glass.beers}" if glass.beers else level,
        METHOD_WORDS.get(glass.method, glass.method),
        OUTCOME_WORDS[glass.outcome] + ("" if glass.counts else ", not counted"),
        glass.said,
        "" if glass.weight is None else percent(glass.weight),
        _speaks(glass.pull),
    )
    head = tag("th", escaped(short_day(glass.day, seen_on)), scope="row")
    return tag("tr", head + "".join(tag("td", escaped(word)) for word in words))


def _speaks(pull: float | None) -> str:
    """Log odds as what the odds are multiplied by, for or against the person."""
    if pull is None:
        return "level not known"
    times = exp(abs(pull))
    if times < _HARDLY:
        return "hardly"
    return f"{multiple(times)} {'for' if pull > 0 else 'against'}"
