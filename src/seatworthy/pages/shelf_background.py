"""What a base beer holds of a compound before anything is added."""

from datetime import date
from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.doubting import ask_again, record_unless_doubted
from seatworthy.pages.figures import short_day
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.shelf_parts import (
    author,
    beer_labels,
    compound_labels,
    listing,
    plain_number,
    written,
)
from seatworthy.pages.telling import act, show_told
from seatworthy.steps import shelf_amounts
from seatworthy.steps.concentrations import UNITS
from seatworthy.steps.shelf_amounts import KNOWN, Background, TypedAmount
from seatworthy.steps.shelf_views import BackgroundLine, ShelfView

_MEANING: Final = (
    "A level is a total: what the beer holds by itself and what you add. Say what was measured, what is "
    "assumed from beers like it, and what is simply unknown; a compound that isn't listed is taken as "
    "not there."
)
_PLACE: Final = "background"


def show_background(view: ShelfView) -> None:
    """One beer's backgrounds, and the way to state another."""
    head = tag("h2", "What your beers hold by themselves")
    st.html(paper(head, tag("p", escaped(_MEANING), class_="note")))
    beers = beer_labels(view)
    if not beers:
        st.html(paper(tag("p", "Put a base beer on the shelf first, under “Brewery and beers”.")))
        return
    st.selectbox("Base beer", list(beers), format_func=beers.get, key="background_beer")
    _form(view)
    lines = [line for line in view.backgrounds if line.beer == written("background_beer")]
    rows = [_row(line, view.today) for line in lines]
    heads = ("Compound", "It holds", "How we know", "Since")
    nothing = tag("p", "Nothing is stated of this beer yet.")
    st.html(paper(listing(heads, rows) if rows else nothing))


def _form(view: ShelfView) -> None:
    labels = compound_labels(view)
    with st.form("background", border=False):
        compound, known = st.columns(2)
        compound.selectbox(
            "Compound", list(labels), index=None, format_func=labels.get,
            placeholder="Choose a compound", key="background_compound",
        )  # fmt: skip
        known.segmented_control(
            "How you know", list(KNOWN), default=KNOWN[0], required=True, key="background_known"
        )
        number, unit, since = st.columns(3)
        number.text_input("It holds (empty if unknown)", max_chars=20, key="background_number")
        unit.selectbox("Unit", list(UNITS), index=1, key="background_unit")
        since.date_input(
            "Counts from", value=view.today, max_value=view.today, min_value=date(1990, 1, 1),
            format="YYYY-MM-DD", key="background_since",
        )  # fmt: skip
        st.form_submit_button("Record the background", type="primary", on_click=_record)
    ask_again(_PLACE, "It is meant so: record it", _record)
    show_told(_PLACE)


def _record() -> None:
    desk = source.the_desk()
    stated = Background(
        written("background_beer"),
        written("background_compound"),
        written("background_known"),
        written("background_number"),
        written("background_unit"),
        st.session_state["background_since"] or desk.today(),
    )
    step = partial(shelf_amounts.set_background, desk, stated, is_sure=True, by=author())
    typed = (TypedAmount(stated.compound, stated.written, stated.unit),)
    asks = stated.known != "unknown"
    doubts = shelf_amounts.doubts(desk, typed, both_ways=False) if asks else ()
    if record_unless_doubted(_PLACE, stated, doubts, lambda: act(_PLACE, step)):
        st.session_state["background_number"] = ""


def _row(line: BackgroundLine, today: date) -> tuple[str, ...]:
    amount = "" if line.value is None else f"{plain_number(line.value)} {line.unit}"
    since = short_day(line.since, today)
    return escaped(line.label), escaped(amount), escaped(line.known), escaped(since)
