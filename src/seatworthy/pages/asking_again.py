"""A page without glasses: where to start, or how to ask by today's record of a past evening."""

from datetime import date

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import READ, asked_as_recorded
from seatworthy.pages.frame import headline, paper, start_here
from seatworthy.pages.markup import escaped, tag
from seatworthy.steps.two_questions import is_empty_then, recorded_words


def show_nothing_yet(sentence: str, on: date | None) -> None:
    """Say that there are no glasses, and what to do.

    Args:
        sentence: What is said on top.
        on: The day asked; where only its own evening knew of no glasses, the way to today's
            record is offered.
    """
    desk = source.the_desk()
    if on is None or not asked_as_recorded() or not is_empty_then(desk, on):
        st.html(start_here(sentence))
        return
    words = tag("p", escaped(recorded_words(desk, on, None)), class_="lead")
    st.html(paper(headline(sentence, ""), words))
    st.button("Ask by today's record", key="ask_by_today", on_click=_ask_by_today)


def _ask_by_today() -> None:
    if READ in st.query_params:
        del st.query_params[READ]
