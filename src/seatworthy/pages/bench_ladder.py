"""A ladder: the same shot once, twice, three times and more, and the levels that gives."""

from typing import Final

import streamlit as st

from seatworthy.errors import PanelError
from seatworthy.pages import source
from seatworthy.pages.frame import paper, refusal
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import listing, written
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps.bench_ladder import AskedLadder, LadderView, ladder_beers, ladder_view
from seatworthy.steps.bench_views import BenchView
from seatworthy.steps.views import Choice

_MEANING: Final = (
    "One setting of one pipette, shot once, twice and more often into like vessels: what the levels are meant to be, "
    "and what they really are. Nothing is recorded here; plan the session with the real ones."
)
_HEADS: Final = (
    "Shots",
    "In each vessel",
    "Meant to add",
    "Really in it",
    "Between",
    "Counts for a seat",
)


def show_ladder(view: BenchView) -> None:
    """Choose what is shot into what; the rungs below."""
    st.html(paper(tag("h2", "Ladder of shots"), tag("p", escaped(_MEANING), class_="note")))
    stocks = [line for line in view.stocks if line.kind != "unit" and not line.fault]
    pipettes = [line for line in view.pipettes if line.is_in_use]
    vessels = [line for line in view.containers if line.is_in_use]
    lacking = [
        words
        for words, found in (("a liquid stock that may be used", stocks), ("a pipette", pipettes),
                             ("a kind of vessel", vessels))
        if not found
    ]  # fmt: skip
    if lacking:
        words = f"A ladder needs {' and '.join(lacking)} on the bench."
        st.html(paper(tag("p", escaped(words))))
        return
    stock, beer, vessel = st.columns([2, 1.5, 1.5])
    with stock:
        _choose(
            "Stock",
            "stock",
            [Choice(one.stock_id, f"{one.label[:1].upper()}{one.label[1:]}") for one in stocks],
        )
    with beer:
        _choose("Base beer", "beer", ladder_beers(source.the_desk()))
    with vessel:
        _choose("Vessel", "vessel", [Choice(one.container_id, one.label) for one in vessels])
    pipette, setting, counts = st.columns([2, 1.5, 1.5])
    with pipette:
        _choose(
            "Pipette", "pipette",
            [Choice(one.pipette_id, f"{one.label}, {one.settings}") for one in pipettes],
        )  # fmt: skip
    setting.text_input("Set to, µl", max_chars=12, key="ladder_setting")
    counts.text_input("Shots, parted by spaces", max_chars=40, key="ladder_counts")
    if written("ladder_setting") and written("ladder_counts"):
        _show()


def _choose(label: str, field: str, choices: list[Choice]) -> None:
    labels = labels_told_apart(choices)
    st.selectbox(
        label, list(labels), format_func=labels.get, key=f"ladder_{field}",
        placeholder="None on the shelf",
    )  # fmt: skip


def _show() -> None:
    asked = AskedLadder(
        stock_id=written("ladder_stock"),
        beer=written("ladder_beer"),
        container_id=written("ladder_vessel"),
        pipette_id=written("ladder_pipette"),
        setting=written("ladder_setting"),
        counts=written("ladder_counts"),
    )
    try:
        view = ladder_view(source.the_desk(), asked)
    except PanelError as fault:
        st.html(refusal(str(fault)))
        return
    st.html(paper(_table(view)))


def _table(view: LadderView) -> str:
    rows = [
        tuple(map(escaped, (rung.shots, rung.amount, rung.meant, rung.really, rung.between,
                            rung.counts)))
        for rung in view.rungs
    ]  # fmt: skip
    notes = "".join(tag("li", escaped(note)) for note in view.notes)
    return listing(_HEADS, rows) + (tag("ul", notes, class_="care") if notes else "")
