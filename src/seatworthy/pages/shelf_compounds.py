"""One compound with all that is known of it, and compounds of the brewery's own."""

from datetime import date
from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.figures import short_day
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import (
    author,
    books_range,
    cleared,
    compound_labels,
    ours_words,
    plain_number,
    written,
)
from seatworthy.pages.telling import act, show_told
from seatworthy.steps import shelf_words
from seatworthy.steps.concentrations import UNITS
from seatworthy.steps.shelf_keeping import keeping_on, state_keeping
from seatworthy.steps.shelf_views import CompoundLine, ShelfView

_FIRST: Final = (
    "Food-grade compounds only. Local codes and the compound's own safety data sheet come before "
    "anything that stands here."
)

_KEEPING: Final = (
    "From your own measurements. The level of a jug is counted from the minutes between adding and "
    "pouring, where they were stated; what the beer holds by itself is not lost. A jug whose real "
    "level was stated keeps that."
)


def show_compounds(view: ShelfView) -> None:
    """Choose a compound, read of it; add one that is missing."""
    labels = compound_labels(view)
    st.html(paper(tag("h2", "One compound")))
    st.selectbox("Compound", list(labels), format_func=labels.get, key="read_compound")
    line = next(line for line in view.compounds if line.key == written("read_compound"))
    st.html(paper(_details(line, view), tag("p", escaped(_FIRST), class_="note")))
    _offer_keeping(line, view)
    st.html(paper(tag("h2", "Add a compound of your own")))
    with st.form("own", border=False):
        name, smell, unit = st.columns([2, 2, 1])
        name.text_input("Its name", max_chars=60, key="own_name")
        smell.text_input(
            "What it smells of, words parted by commas", max_chars=120, key="own_smell"
        )
        unit.selectbox("Unit of its amounts", list(UNITS), index=1, key="own_unit")
        st.form_submit_button("Add the compound", on_click=_add)
    show_told("own")


def _details(line: CompoundLine, view: ShelfView) -> str:
    told = (
        ("Smells of", line.descriptors),
        ("Serving", line.serve),
        ("Keeps, once dosed", line.keeping),
        ("Care", line.safety),
        ("Comes from", line.cause),
        ("Books say", books_range(line)),
        ("How that is known", line.how_known),
        ("Where it stands", line.source),
        ("Ours", "; ".join(ours_words(line, view.today))),
        ("Chemical name", line.chemical_name),
        ("CAS number", line.cas),
        ("Also called", ", ".join(line.synonyms)),
    )
    rows = [tag("dt", head) + tag("dd", escaped(words)) for head, words in told if words]
    warning = tag("p", "Not to be served; vocabulary only.", class_="not-today")
    return ("" if line.is_served else warning) + tag("dl", "".join(rows))


def _offer_keeping(line: CompoundLine, view: ShelfView) -> None:
    """State how fast this compound is lost between dosing and pouring."""
    stated = keeping_on(source.the_desk(), view.today).get(line.key)
    now = (
        f"Half is counted as gone after {plain_number(stated.half_life_h.normalize())} hours, "
        f"since {short_day(stated.since, view.today)}."
        if stated
        else "Nothing is counted as lost."
    )
    with st.expander(f"How fast it is lost once dosed. {now}"):
        st.html(paper(tag("p", escaped(_KEEPING), class_="note")))
        with st.form(f"keeping_{line.key}", border=False):
            hours, since = st.columns(2)
            hours.text_input(
                "Hours until half of it is gone (empty: nothing is lost)",
                max_chars=12, key="keeping_hours",
            )  # fmt: skip
            since.date_input(
                "Counts from", value=view.today, max_value=view.today, format="YYYY-MM-DD",
                min_value=date(1990, 1, 1), key="keeping_since",
            )  # fmt: skip
            st.form_submit_button("Record it", on_click=_state_keeping, args=(line.key,))
    show_told("keeping")


def _state_keeping(compound: str) -> None:
    desk = source.the_desk()
    since = st.session_state["keeping_since"] or desk.today()
    step = partial(state_keeping, desk, compound, written("keeping_hours"), since, by=author())
    if act("keeping", step):
        cleared("keeping_hours")


def _add() -> None:
    step = partial(
        shelf_words.add_compound,
        source.the_desk(),
        written("own_name"),
        written("own_smell"),
        written("own_unit"),
        by=author(),
    )
    if act("own", step):
        cleared("own_name", "own_smell")
