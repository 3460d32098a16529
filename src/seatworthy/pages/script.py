"""The page script: lists the pages and frames whichever one the reader is on."""

import streamlit as st

from seatworthy.errors import PanelError
from seatworthy.pages import (
    answers,
    bench,
    board,
    decision,
    feedback,
    happened,
    jugs,
    miss,
    months,
    people,
    plan,
    pour_next,
    prepare,
    reach,
    record,
    reveal,
    rulebook,
    seats,
    session,
    sessions,
    shelf,
    sure,
    word,
)
from seatworthy.pages.addresses import (
    ANSWERS,
    BENCH,
    DECISION,
    FEEDBACK,
    HISTORY,
    JUGS,
    MISS,
    MONTHS,
    NEXT,
    PEOPLE,
    PHONES,
    PLAN,
    PREPARE,
    RECORD,
    REVEAL,
    RULEBOOK,
    SEATS,
    SESSION,
    SESSIONS,
    SHELF,
    SURE,
    WORD,
)
from seatworthy.pages.frame import footer, refusal
from seatworthy.pages.look import PAGE_ICON, style_sheet

st.set_page_config(page_title="Seatworthy", page_icon=PAGE_ICON, layout="wide")
st.html(style_sheet())
page = st.navigation(
    [
        st.Page(board.show, title="Board", url_path="board", default=True),
        st.Page(record.show, title="Record", url_path=RECORD),
        st.Page(seats.show, title="Seats", url_path=SEATS),
        st.Page(miss.show, title="What we would miss", url_path=MISS),
        st.Page(sure.show, title="How sure are we?", url_path=SURE),
        st.Page(sessions.show, title="Sessions", url_path=SESSIONS),
        st.Page(pour_next.show, title="What to pour next", url_path=NEXT),
        st.Page(shelf.show, title="Shelf", url_path=SHELF),
        st.Page(bench.show, title="Bench", url_path=BENCH),
        st.Page(people.show, title="People", url_path=PEOPLE),
        st.Page(rulebook.show, title="Rulebook", url_path=RULEBOOK),
        st.Page(months.show, title="Over the months", url_path=MONTHS),
        st.Page(happened.show, title="History", url_path=HISTORY),
        st.Page(plan.show, title="Plan", url_path=PLAN, visibility="hidden"),
        st.Page(session.show, title="Session", url_path=SESSION, visibility="hidden"),
        st.Page(prepare.show, title="Prepare", url_path=PREPARE, visibility="hidden"),
        st.Page(reach.show, title="Phones", url_path=PHONES, visibility="hidden"),
        st.Page(answers.show, title="Answers", url_path=ANSWERS, visibility="hidden"),
        st.Page(reveal.show, title="Reveal", url_path=REVEAL, visibility="hidden"),
        st.Page(jugs.show, title="Jugs to doubt", url_path=JUGS, visibility="hidden"),
        st.Page(feedback.show, title="Feedback", url_path=FEEDBACK, visibility="hidden"),
        st.Page(word.show, title="Proposed to you", url_path=WORD, visibility="hidden"),
        st.Page(decision.show, title="Decision", url_path=DECISION, visibility="hidden"),
    ],
    position="top",
)
try:
    page.run()
except PanelError as error:
    st.html(refusal(str(error)))
st.html(footer())
