"""Where paper sheets are entered: one person's glasses at a time, with the keyboard alone."""

from collections.abc import Sequence

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import asked_word, session_address
from seatworthy.pages.answer_changes import offer_changes
from seatworthy.pages.answer_grid import show_grid
from seatworthy.pages.figures import whole_day
from seatworthy.pages.frame import opening, paper
from seatworthy.pages.markup import tag
from seatworthy.pages.session import no_session
from seatworthy.pages.telling import tell_only_about
from seatworthy.phrases import (
    HOW_TO_TYPE,
    HOW_TO_TYPE_ASKED,
    HOW_TO_TYPE_RELEASE,
    HOW_TO_TYPE_SETS,
    NO_SUCH_SESSION,
)
from seatworthy.steps import sheets as sheet_steps
from seatworthy.steps.people import everybody
from seatworthy.steps.sheet_views import SheetView
from seatworthy.steps.views import Choice


def show() -> None:
    """Draw the sheet that the address names, else the first one that waits for answers."""
    desk = source.the_desk()
    every = sheet_steps.sheets(desk, asked_word("session") or "")
    if not every:
        st.html(no_session(NO_SUCH_SESSION))
        return
    view = _chosen(every, asked_word("sheet"))
    tell_only_about(f"{view.session_id} {view.key}")
    st.html(opening(_where(view), view.answer, view.catch, _how_to_type(view)))
    show_grid(view, every)
    people = [Choice(person.person_id, person.name) for person in everybody(desk)]
    offer_changes(view, people)
    way = tag("a", "To the session", href=session_address(view.session_id), target="_self")
    st.html(paper(tag("p", way, class_="ways")))


def _how_to_type(view: SheetView) -> str:
    """What is typed for glasses, for questions and for sets, as far as the sheet has them; "" once it is closed."""
    if not view.is_open:
        return ""
    if view.is_release:
        return HOW_TO_TYPE_RELEASE
    single = [HOW_TO_TYPE] if any(not row.codes and not row.asks for row in view.rows) else []
    asked = [HOW_TO_TYPE_ASKED] if any(row.asks for row in view.rows) else []
    sets = [HOW_TO_TYPE_SETS] if any(row.codes for row in view.rows) else []
    return " ".join(single + asked + sets)


def _chosen(every: Sequence[SheetView], key: str | None) -> SheetView:
    known = [view for view in every if view.key == key]
    waiting = [view for view in every if any(row.state == "waiting" for row in view.rows)]
    return [*known, *waiting, *every][0]


def _where(view: SheetView) -> list[str]:
    words = (view.session_label, whole_day(view.session_on), view.sitting)
    return [part for part in words if part]
