"""Where nothing was on record yet on a past evening: the way to ask by today's record instead."""

from datetime import date

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import READ, asked_as_recorded
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.steps.two_questions import is_empty_then, recorded_words


def offer_other_question(on: date | None) -> None:
    """Offer to ask of the same day by today's record, where only the record of then is empty."""
    desk = source.the_desk()
    if on is None or not asked_as_recorded() or not is_empty_then(desk, on):
        return
    words = recorded_words(desk, on, None)
    st.html(paper(tag("p", escaped(words), class_="note")))
    st.button("Ask by today's record", key="ask_by_today", on_click=_ask_by_today)


def _ask_by_today() -> None:
    if READ in st.query_params:
        del st.query_params[READ]
