"""The sessions: what is planned, under way and done, and what is next for each."""

from datetime import date
from typing import Final

import streamlit as st

from seatworthy.pages import going, source
from seatworthy.pages.addresses import (
    JUGS,
    PLAN,
    RELEASE,
    SESSIONS,
    plan_address,
    reveal_address,
    session_address,
)
from seatworthy.pages.figures import short_day
from seatworthy.pages.frame import opening, paper
from seatworthy.pages.markup import escaped, tag, unseen
from seatworthy.phrases import START_PAGES
from seatworthy.steps import sessions as session_steps
from seatworthy.steps.session_views import SessionLine

STATE_WORDS: Final = {
    "planned": "planned",
    "in_hand": "answers coming in",
    "over": "tasted",
    "closed": "closed",
    "called_off": "called off",
    "brought_in": "from a file",
}
_RUNNING: Final = ("planned", "in_hand", "over")
_BROUGHT_IN: Final = "brought_in"


def show() -> None:
    """Draw the list."""
    desk = source.the_desk()
    view = session_steps.sessions(desk)
    sentence, button = st.columns([2.3, 1.25], vertical_alignment="bottom", gap="medium")
    with sentence:
        st.html(opening(["Sessions"], view.answer, view.catch, view.lead))
    with button:
        if st.button("Plan a session", type="primary", width="stretch"):
            going.go_to(PLAN)
        if st.button("Plan a release sitting", width="stretch"):
            going.go_to(PLAN, kind=RELEASE)
    if view.sessions:
        doubt = tag("a", "Jugs to doubt, over the last months", href=JUGS, target="_self")
        table = sessions_table(view.sessions, desk.today())
        st.html(paper(table, tag("p", doubt, class_="ways"), class_="proof"))
    else:
        st.html(_first_things())


def sessions_table(lines: tuple[SessionLine, ...], today: date) -> str:
    """The list: what is open, what is done, and folded away what was brought in from files."""
    running = [line for line in lines if line.state in _RUNNING]
    brought_in = [line for line in lines if line.state == _BROUGHT_IN]
    done = [line for line in lines if line not in running and line not in brought_in]
    rows = [_row(line, today) for line in running]
    if running and done:
        rows.append(tag("tr", tag("th", "Done", colspan=5, scope="rowgroup"), class_="section"))
    rows += [_row(line, today) for line in done]
    listed = _table(rows) if rows else ""
    if not brought_in:
        return listed
    count = f"{len(brought_in)} session{'' if len(brought_in) == 1 else 's'} brought in from files"
    return listed + _folded(count, _table([_row(line, today) for line in brought_in]), not rows)


def _folded(words: str, inside: str, is_open: bool) -> str:
    start = "<details open>" if is_open else "<details>"
    return f"{start}{tag('summary', escaped(words))}{inside}</details>"


def _table(rows: list[str]) -> str:
    words = ("Day", "Session", "How it stands", "Answered", "What is next")
    heads = "".join(tag("th", word, scope="col") for word in words)
    head = tag("thead", tag("tr", heads))
    return tag("table", head + tag("tbody", "".join(rows)), class_="listing sessions")


def _row(line: SessionLine, today: date) -> str:
    link = tag("a", escaped(line.label), href=session_address(line.session_id), target="_self")
    name = tag("b", link) + (tag("i", escaped(line.purpose)) if line.purpose else "")
    people = f"{line.people} {'person' if line.people == 1 else 'people'}"
    count = f"{tag('b', str(line.answered))} of {line.glasses}{unseen(' glasses answered')}"
    cells = [
        tag("td", short_day(line.session_on, today), class_="day"),
        tag("th", name, scope="row"),
        tag("td", f"{STATE_WORDS.get(line.state, '')}{tag('i', people)}", class_="state"),
        tag("td", count if line.glasses else "", class_="count"),
        tag("td", _next(line), class_="next"),
    ]
    return tag("tr", "".join(cells), class_=f"is-{line.state}")


def _next(line: SessionLine) -> str:
    if line.state == _BROUGHT_IN:
        return ""
    is_closed = line.state == "closed"
    address = reveal_address(line.session_id) if is_closed else session_address(line.session_id)
    link = tag("a", escaped(line.sentence), href=address, target="_self", class_="way")
    if line.state in _RUNNING:
        return link
    again = plan_address(line.session_id)
    return f"{link} {tag('a', 'Plan it again', href=again, target='_self', class_='way')}"


def _first_things() -> str:
    rows = [
        tag("dt", tag("a", words, href=address, target="_self", class_="way"))
        + tag("dd", escaped(what))
        for address, words, what in START_PAGES
        if address != SESSIONS
    ]
    return paper(tag("dl", "".join(rows)))
