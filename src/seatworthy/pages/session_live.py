"""Who has answered, drawn anew every few seconds by itself: never what was said, nor whether right."""

from collections.abc import Callable
from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag, unseen
from seatworthy.pages.session_table import pick
from seatworthy.pages.telling import act, show_told
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps import ballot_presence, live_table
from seatworthy.steps.live_views import LiveGlass, LiveSeat, LiveSitting, LiveView
from seatworthy.steps.views import Choice

PLACE: Final = "live"
_EVERY: Final = 3.0  # seconds
_MARKS: Final = {
    "answered": ("got", "answered"),
    "waiting": ("not-yet", "waits"),
    "spilled": ("lost", "spilled"),
    "gone": ("", "not awaited"),
}
_PEOPLE: Final = {"late": "came late", "left": "left early"}


@st.fragment(run_every=_EVERY)
def show_live(drawn: LiveView, show_above: Callable[[LiveView], None]) -> None:
    """The block that keeps itself up to date.

    With the last answer the whole page is drawn anew, since what comes next then may be done; once the
    session is closed too, and this is not on it.

    Args:
        drawn: A session that somebody answers by phone, as it was when the whole page was drawn.
        show_above: Draws the sentence on top of the page, so that it tells the same numbers.
    """
    session_id = drawn.session_id
    view = live_table.live_table(source.the_desk(), session_id)
    if view is None or not view.is_open or view.is_all_in != drawn.is_all_in:
        st.rerun()
    else:
        show_above(view)
        st.html(live_block(view))
        _offer_nudges(view)


def live_block(view: LiveView) -> str:
    """Who has answered: a sentence, one row a person, one mark a glass in the order of serving."""
    sentence = f"{view.answer}; {view.catch}"
    parts = [tag("p", escaped(sentence), class_="live-answer", role="status")]
    for sitting in view.sittings:
        if len(view.sittings) > 1:
            over = tag("i", "over") if sitting.is_over else ""
            parts.append(tag("h3", escaped(sitting.label) + over))
        parts.append(_table(sitting))
    parts.append(_key())
    return paper(*parts)


def _table(sitting: LiveSitting) -> str:
    rows = "".join(_row(seat) for seat in sitting.seats)
    return tag("table", tag("tbody", rows), class_="live")


def _row(seat: LiveSeat) -> str:
    here = _PEOPLE.get(seat.state, "")
    cells = [
        tag("th", escaped(seat.name) + (tag("i", here) if here else ""), scope="row"),
        tag("td", _count(seat), class_="count"),
        tag("td", tag("ol", "".join(_glass(glass) for glass in seat.glasses)), class_="glasses"),
        tag("td", _phone(seat), class_="phone"),
    ]
    return tag("tr", "".join(cells), class_=f"is-{seat.state}")


def _count(seat: LiveSeat) -> str:
    if seat.state == "absent":
        return "not tasting"
    return f"{tag('b', str(seat.answered))} of {seat.expected}"


def _glass(glass: LiveGlass) -> str:
    shape, words = _MARKS[glass.state]
    mark = tag("span", class_=shape, aria_hidden="true") if shape else ""
    codes = "".join(tag("span", escaped(code), class_="code") for code in glass.codes)
    return tag("li", mark + unseen(f"{words}: ") + codes, class_=f"is-{glass.state}")


def _phone(seat: LiveSeat) -> str:
    """How their ballot stands; what was answered on paper is said where some came by phone."""
    if seat.state == "absent":
        return ""
    if seat.is_on_paper:
        return "on paper"
    on_paper = sum(g.state == "answered" and not g.is_by_phone for g in seat.glasses)
    words = "opened" if seat.is_opened else "not opened" if seat.has_link else "no link"
    notes = [f"{on_paper} on paper"] if on_paper else []
    notes += ["asked"] if seat.is_nudged and seat.waiting else []
    return escaped(words) + (tag("i", escaped(", ".join(notes))) if notes else "")


def _key() -> str:
    entries = [
        tag("span", tag("span", class_=shape, aria_hidden="true") + words)
        for shape, words in _MARKS.values()
        if shape
    ]
    return tag("div", "".join(entries), class_="live-key")


def _offer_nudges(view: LiveView) -> None:
    """One click asks somebody, on their own phone, for what is missing."""
    asked = {
        f"{seat.sitting_id} {seat.person_id}": seat
        for seat in view.seats
        if seat.is_opened and seat.waiting and not seat.is_nudged
    }
    names = labels_told_apart(Choice(key, seat.name) for key, seat in asked.items())
    pick("Ask for what is missing", names, f"nudge_{view.session_id}", _nudge)
    show_told(PLACE)


def _nudge(seat: str) -> None:
    sitting_id, person_id = seat.split()
    act(PLACE, partial(ballot_presence.nudge, source.the_desk(), sitting_id, person_id))
