"""What was stated about the shelf, when and by whom."""

from datetime import date
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.figures import short_day
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import beer_labels, compound_labels, listing
from seatworthy.steps import shelf_history
from seatworthy.steps.shelf_views import HistoryLine, ShelfView

_SHOWN: Final = 200


def show_history(view: ShelfView) -> None:
    """All of it, or what is about one compound or one beer."""
    st.html(paper(tag("h2", "What was stated, newest first")))
    compounds, beers = compound_labels(view), beer_labels(view)
    one, other = st.columns(2)
    everything = {"index": None, "placeholder": "All"}
    compound = one.selectbox(
        "About a compound", list(compounds), format_func=compounds.get, key="told_compound",
        **everything,
    )  # fmt: skip
    beer = other.selectbox(
        "About a base beer", list(beers), format_func=beers.get, key="told_beer", **everything
    )
    lines = [
        line
        for line in shelf_history.shelf_history(source.the_desk())
        if (compound is None or line.compound == compound) and (beer is None or line.beer == beer)
    ]
    st.html(paper(_table(lines, view.today), class_="proof"))


def _table(lines: list[HistoryLine], today: date) -> str:
    if not lines:
        return tag("p", "Nothing was stated yet beside the shipped vocabulary.")
    heads = ("Day", "What", "It was stated", "By")
    table = listing(heads, [_row(line, today) for line in lines[:_SHOWN]])
    older = len(lines) - _SHOWN
    return table + (
        tag("p", f"{older} older ones are not shown.", class_="note") if older > 0 else ""
    )


def _row(line: HistoryLine, today: date) -> tuple[str, ...]:
    day = f"{short_day(line.day, today)}{tag('i', escaped(line.time))}"
    return day, escaped(line.what), escaped(line.value), escaped(line.who)
