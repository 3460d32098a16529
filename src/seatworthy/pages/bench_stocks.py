"""The stocks on the bench, by compound, with their care and their state."""

from collections.abc import Sequence
from datetime import date
from itertools import groupby
from operator import attrgetter

from streamlit import html

from seatworthy.pages.bench_new_stock import show_new_stock
from seatworthy.pages.bench_states import show_states
from seatworthy.pages.figures import short_day
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.steps.bench_views import BenchView, StockLine

_HEADS = ("Stock", "Strength", "Opened", "Last day", "Left", "State")
_KEPT_WHOLE = {"Strength": "day", "Opened": "day", "Last day": "day", "Left": "count"}
_FIRST_AID = "First aid and spills: see its safety data sheet."


def show_stocks(view: BenchView) -> None:
    """What stands there, what became of one, and the way to put another there."""
    standing = [line for line in view.stocks if not line.is_used_up]
    gone = [line for line in view.stocks if line.is_used_up]
    if standing:
        html(paper(tag("h2", "Stocks"), _table(standing, view.today)))
    if gone:
        count = "One is" if len(gone) == 1 else f"{len(gone)} are"
        summary = tag("summary", f"{count} used up")
        html(paper(tag("details", summary + _table(gone, view.today)), class_="proof"))
    if view.stocks:
        show_states(view)
    show_new_stock(view)


def _table(lines: Sequence[StockLine], today: date) -> str:
    """A ledger with a heading for each compound, which carries its care."""
    head = "".join(
        tag("th", escaped(word), scope="col", class_=_KEPT_WHOLE.get(word)) for word in _HEADS
    )
    body = []
    for label, group in groupby(lines, key=attrgetter("compound_label")):
        same = list(group)
        body.append(tag("tr", _care(label, same[0].care), class_="section"))
        body += [tag("tr", _cells(line, today)) for line in same]
    return tag(
        "table", tag("thead", tag("tr", head)) + tag("tbody", "".join(body)), class_="listing"
    )


def _care(label: str, care: str) -> str:
    words = f"{care[:1].upper()}{care[1:].rstrip('.')}. {_FIRST_AID}" if care else _FIRST_AID
    inside = tag("b", escaped(label)) + tag("i", escaped(words))
    return tag("th", inside, colspan=len(_HEADS), scope="rowgroup")


def _cells(line: StockLine, today: date) -> str:
    name = escaped(f"Lot {line.label.rpartition(', lot ')[2]}")
    cells = (
        escaped(line.strength),
        _day(line.opened_on, today),
        _day(line.expires_on, today),
        escaped(line.left),
        tag("span", escaped(line.fault), class_="hue-not_met") if line.fault else _state(line),
    )
    named = zip(_HEADS[1:], cells, strict=True)
    others = [
        tag("td", cell, data_head=f"{word} " if cell else None, class_=_KEPT_WHOLE.get(word))
        for word, cell in named
    ]
    notes = tag("i", escaped(line.notes)) if line.notes else ""
    return tag("th", name + notes, scope="row") + "".join(others)


def _state(line: StockLine) -> str:
    return escaped(line.state[:1].upper() + line.state[1:])


def _day(day: date | None, today: date) -> str:
    return "" if day is None else escaped(short_day(day, today))
