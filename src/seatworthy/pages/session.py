"""One session from its papers to its close: what is the case, and the next step of a Thursday."""

from collections.abc import Callable
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import (
    SESSIONS,
    answers_address,
    asked_word,
    feedback_address,
    plan_address,
    prepare_address,
    reveal_address,
)
from seatworthy.pages.figures import whole_day
from seatworthy.pages.frame import headline, opening, paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.session_answers import show_progress
from seatworthy.pages.session_ballots import offer_ballots, offer_links_after
from seatworthy.pages.session_close import offer_call_off, offer_close
from seatworthy.pages.session_jugs import offer_levels, offer_recoding
from seatworthy.pages.session_link import offer_missing_link
from seatworthy.pages.session_live import show_live
from seatworthy.pages.session_papers import offer_papers
from seatworthy.pages.session_seats import sitting_head, sitting_table
from seatworthy.pages.session_table import show_table
from seatworthy.pages.session_talk import show_said, show_talk
from seatworthy.pages.session_words import offer_meanings
from seatworthy.pages.telling import tell_only_about
from seatworthy.steps import ballot_links, live_table, talk_sentences
from seatworthy.steps import sessions as session_steps
from seatworthy.steps.live_views import LiveView
from seatworthy.steps.session_views import SessionView

_NO_SUCH: Final = "No session goes by that address"
_WHICH: Final = "Which session shall it be?"


def show() -> None:
    """Draw the session that the address names."""
    desk = source.the_desk()
    session_id = asked_word("session")
    view = session_steps.session(desk, session_id) if session_id else None
    if view is None:
        st.html(no_session(_NO_SUCH if session_id else _WHICH))
        return
    tell_only_about(view.session_id)
    live = live_table.live_table(desk, view.session_id)
    show_top = _top(view)
    show_top(live)
    if view.state in ("closed", "called_off", "brought_in"):
        _show_done(view, live)
        return
    if view.care:
        lines = "".join(tag("li", escaped(line)) for line in view.care)
        st.html(paper(tag("ul", lines, class_="care")))
    _show_stages(view, live, show_top)


def _top(view: SessionView) -> Callable[[LiveView | None], None]:
    """What draws the top of the page, again and again: while phones answer, with the numbers of now."""
    place = st.empty()

    def show_top(live: LiveView | None) -> None:
        words = (view.answer, view.catch, view.lead)
        if live is not None and live.is_shown and live.answered:
            words = (live.answer, live.catch, view.lead_besides)
        place.html(opening(_where(view), *words))

    return show_top


def no_session(sentence: str) -> str:
    """What stands on a page of a session when there is none to show."""
    link = tag("a", "All sessions", href=SESSIONS, target="_self")
    return paper(headline(sentence, ""), tag("p", link, class_="lead"))


def _where(view: SessionView) -> list[str]:
    return [
        words
        for words in (view.label, whole_day(view.session_on), view.beer, view.purpose, _times(view))
        if words
    ]


def _times(view: SessionView) -> str:
    starts = [sitting.starts_at for sitting in view.sittings if sitting.starts_at]
    return " and ".join(f"{start:%H:%M}" for start in sorted(starts))


def _show_stages(
    view: SessionView, live: LiveView | None, show_top: Callable[[LiveView | None], None]
) -> None:
    st.html(_stage(1, "Prepare and print"))
    link = tag(
        "a",
        "Prepare the vessels, in the order of work (this is the key)",
        href=prepare_address(view.session_id),
        target="_self",
    )
    st.html(paper(tag("p", link, class_="ways"), tag("p", escaped(view.preparing), class_="note")))
    lines = ballot_links.links(source.the_desk(), view.session_id)
    if view.state == "planned":
        offer_papers(view)
        offer_ballots(view, lines, live)
    else:
        with st.expander("Print the papers again"):
            offer_papers(view)
        with st.expander("Ballots on phones: show a link again, or make a new one"):
            offer_ballots(view, lines, live)
    st.html(_stage(2, "At the table"))
    is_live = live is not None and live.is_shown
    if live is not None and is_live:
        show_live(live, show_top)
    offer_missing_link(view, lines)
    show_table(view, is_told_above=is_live)
    offer_recoding(view)
    offer_levels(view)
    st.html(_stage(3, "Enter the answers"))
    show_progress(view)
    offer_meanings(source.the_desk(), view.session_id)
    talk = talk_sentences.talk(source.the_desk(), view.session_id)
    if talk is not None:
        st.html(_stage(4, "Talk it over"))
        show_talk(talk)
    st.html(_stage(4 if talk is None else 5, "Close and reveal"))
    offer_close(view, has_links=any(line.handed_out_at for line in lines))
    offer_call_off(view)


def _stage(number: int, words: str) -> str:
    head = tag("h2", tag("span", str(number)) + escaped(words), class_="stage")
    return paper(head)


def _show_done(view: SessionView, live: LiveView | None) -> None:
    if view.state == "closed":
        links = [
            tag("a", "See what came of it", href=reveal_address(view.session_id), target="_self"),
            tag(
                "a", "Everybody's feedback", href=feedback_address(view.session_id), target="_self"
            ),
            tag(
                "a",
                "Sheets and corrections",
                href=answers_address(view.session_id),
                target="_self",
            ),
        ]
    else:
        links = []
    if view.state != "brought_in":
        again = plan_address(view.session_id)
        links.append(tag("a", "Plan it again", href=again, target="_self"))
    links.append(tag("a", "All sessions", href=SESSIONS, target="_self"))
    st.html(paper(tag("p", "".join(links), class_="ways")))
    if view.state == "brought_in":
        return
    if view.state == "closed":
        talk = talk_sentences.talk(source.the_desk(), view.session_id)
        if talk is not None:
            show_said(talk)
        offer_links_after(view, ballot_links.links(source.the_desk(), view.session_id), live)
    tables = [
        sitting_head(sitting) + sitting_table(sitting, with_letters=True)
        for sitting in view.sittings
    ]
    st.html(paper(*tables, class_="proof"))
