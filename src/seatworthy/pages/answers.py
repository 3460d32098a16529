"""Answers from paper: one sheet at a time, by keyboard; corrections below."""

from functools import partial

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import asked_word, session_address
from seatworthy.pages.answer_corrections import offer_corrections
from seatworthy.pages.answer_grid import answer_grid, take_lines
from seatworthy.pages.figures import long_day
from seatworthy.pages.frame import opening, paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.phrases import HOW_TO_TYPE, NO_SUCH_SESSION
from seatworthy.steps.answers import enter_answer
from seatworthy.steps.session_views import Entered, SheetView
from seatworthy.steps.sheets import sheets


def show() -> None:
    """Draw the page for the session and sheet that its address names."""
    desk = source.the_desk()
    session_id = asked_word("session") or ""
    key = f"grid_{session_id}"
    take_lines(key, partial(_enter, session_id))
    every = sheets(desk, session_id)
    if not every:
        st.html(paper(tag("h1", escaped(NO_SUCH_SESSION), class_="answer")))
        return
    asked = {view.key: view for view in every}
    chosen = asked.get(asked_word("sheet") or "") or _first_waiting(every)
    waiting = sum(row.state == "waiting" for view in every for row in view.rows)
    where = [chosen.session_label, long_day(chosen.session_on, desk.today())]
    answer, catch = _sentence(every, waiting)
    st.html(opening(where, answer, catch, HOW_TO_TYPE if chosen.is_open else ""))
    current = answer_grid(key, every, chosen.key)
    if current in asked and current != asked_word("sheet"):
        st.query_params["sheet"] = current
    back = tag("a", "Back to the session", href=session_address(session_id), target="_self")
    st.html(paper(tag("p", back, class_="ways")))
    offer_corrections(every)


def _enter(session_id: str, sheet: str, code: str, said: str, keep: bool) -> Entered:
    desk = source.the_desk()
    return enter_answer(desk, session_id, sheet, code, said, keep_own_words=keep)


def _first_waiting(every: tuple[SheetView, ...]) -> SheetView:
    waiting = [view for view in every if any(row.state == "waiting" for row in view.rows)]
    return (waiting or list(every))[0]


def _sentence(every: tuple[SheetView, ...], waiting: int) -> tuple[str, str]:
    if not every[0].is_open:
        return "These sheets are as they are on record", ""
    if not waiting:
        return "Every answer is in", "close the session once the last sitting is over."
    answered = sum(row.state == "answered" for view in every for row in view.rows)
    verb = "waits" if waiting == 1 else "wait"
    start = "1 answer is in" if answered == 1 else f"{answered or 'No'} answers are in"
    return start, f"{waiting} {verb}."
