"""The page script: lists the pages and frames whichever one the reader is on."""

import streamlit as st
from streamlit.navigation.page import Page

from seatworthy.errors import PanelError
from seatworthy.pages import (
    answers,
    around_table,
    bench,
    board,
    decision,
    feedback,
    fit_today,
    happened,
    how_sure,
    jugs,
    kept_about,
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
    safekeeping,
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
    KEPT,
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
    SAFEKEEPING,
    SEATS,
    SESSION,
    SESSIONS,
    SHELF,
    SURE,
    WORD,
)
from seatworthy.pages.frame import footer, refusal
from seatworthy.pages.look import PAGE_ICON, style_sheet
from seatworthy.pages.role import asked_path, role_now
from seatworthy.steps.roles import AROUND_A_TABLE, FIT, LEADER, WEIGHED, Role, is_brewers_page

st.set_page_config(page_title="Seatworthy", page_icon=PAGE_ICON, layout="wide")
st.html(style_sheet())


def _leaders() -> list[Page]:
    return [
        st.Page(board.show, title="Board", url_path="first", default=True),
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
        st.Page(
            board.show, title="Board", url_path="board", visibility="hidden"
        ),  # as others are typed
        st.Page(safekeeping.show, title="Safekeeping", url_path=SAFEKEEPING, visibility="hidden"),
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
        st.Page(kept_about.show, title="Kept about", url_path=KEPT, visibility="hidden"),
        st.Page(fit_today.show, title="Fit today", url_path=FIT, visibility="hidden"),
        st.Page(
            around_table.show,
            title="Around the table",
            url_path=AROUND_A_TABLE,
            visibility="hidden",
        ),
        st.Page(how_sure.show, title="In words", url_path=WEIGHED, visibility="hidden"),
    ]


def _brewers() -> list[Page]:
    """The only pages a brewer's ticket opens, whatever an address or a message names."""
    return [
        st.Page(fit_today.show, title="Fit today", url_path="brewers", default=True),
        st.Page(fit_today.show, title="Fit today", url_path=FIT, visibility="hidden"),
        st.Page(around_table.show, title="Around the table", url_path=AROUND_A_TABLE),
        st.Page(how_sure.show, title="How sure are we?", url_path=WEIGHED),
    ]


def _run(role: Role) -> None:
    page = st.navigation(_leaders() if role == LEADER else _brewers(), position="top")
    if role != LEADER and not is_brewers_page(f"/{asked_path()}"):
        st.html(refusal(_LEADERS))
        return
    try:
        page.run()
    except PanelError as error:
        st.html(refusal(str(error)))


_LEADERS = "This page is the leader's; what brewers see stands in the line on top."
_ENDED = "This browser is not signed in any more. Load the page again to type the passphrase."

found = role_now()
if found is None:
    st.navigation([st.Page(lambda: None, title="Seatworthy", url_path="ended")], position="hidden")
    st.html(refusal(_ENDED))
    st.stop()
_run(found)
st.html(footer())
