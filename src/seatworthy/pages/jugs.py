"""Jugs of the last months whose answers speak against them: to be looked at before any nose."""

from datetime import date
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.addresses import SESSIONS, reveal_address, session_address
from seatworthy.pages.figures import short_day
from seatworthy.pages.frame import opening, paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.reveal import effect_of_aside
from seatworthy.pages.session_jugs import offer_aside
from seatworthy.phrases import multiple
from seatworthy.steps.doubtful import DoubtfulJug
from seatworthy.steps.people import everybody
from seatworthy.steps.sentences import number_word, sentence_start
from seatworthy.steps.views import Choice

_HEADS: Final = ("Day", "Jug", "Right", "Why")
_NONE_YET: Final = "No jug has been tasted yet, so there is none to doubt"
_LEAD: Final = (
    "Each is set against what its own tasters usually find. About one good jug in a hundred looks "
    "bad by chance, so look before you decide; only a person sets a jug aside, or puts it back."
)


def show() -> None:
    """Draw the list, and let a jug be set aside with reason and author."""
    desk, view = source.the_desk(), source.doubtful()
    jugs, count = view.jugs, len(view.jugs)
    months = f"the last {number_word(view.months)} months"
    answer = (
        f"{sentence_start(number_word(count) if count else 'no')} {_jugs(count)} "
        f"among {view.looked_at} of {months}"
    )
    if not (view.looked_at or view.aside):
        answer = _NONE_YET
    st.html(opening(["Sessions", "Jugs to doubt"], answer, "", _LEAD))
    back = tag("a", "To the sessions", href=SESSIONS, target="_self")
    table = jugs_table(jugs, desk.today()) if jugs else ""
    aside = ""
    if view.aside:
        aside = tag("h2", "Set aside") + jugs_table(view.aside, desk.today())
    st.html(paper(table, aside, tag("p", back, class_="ways"), class_="proof"))
    every = (*jugs, *view.aside)
    if every:
        with st.expander("A jug was wrong: set it aside, or put it back"):
            samples = [
                (one.sample_id, f"{_name(one)}, {one.session}", one.is_aside) for one in every
            ]
            people = [Choice(one.person_id, one.name) for one in everybody(desk)]
            offer_aside(samples, people, lambda sample: _effect(every, sample))


def jugs_table(jugs: tuple[DoubtfulJug, ...], today: date) -> str:
    """One row a jug: day and session, what was in it, how many found it, and why to look."""
    head = tag("thead", tag("tr", "".join(tag("th", word, scope="col") for word in _HEADS)))
    rows = "".join(_row(jug, today) for jug in jugs)
    return tag("table", head + tag("tbody", rows), class_="listing changes")


def _row(jug: DoubtfulJug, today: date) -> str:
    address = reveal_address(jug.session_id) if jug.is_planned else session_address(jug.session_id)
    session = tag("a", escaped(jug.session or "session"), href=address, target="_self")
    cells = [
        tag("th", short_day(jug.session_on, today) + tag("i", session), scope="row"),
        tag("td", escaped(_name(jug)), class_="what"),
        tag("td", f"{tag('b', str(jug.named_right))} of {jug.answers}", class_="count"),
        tag("td", escaped(jug.sentence), class_="why"),
    ]
    return tag("tr", "".join(cells))


def _name(jug: DoubtfulJug) -> str:
    level = "" if jug.level is None else f", {multiple(jug.level)}"
    mark = f"{jug.mark}: " if jug.mark else ""
    return f"{mark}{jug.what}{level}"


def _jugs(count: int) -> str:
    return "jug to doubt" if count == 1 else "jugs to doubt"


def _effect(jugs: tuple[DoubtfulJug, ...], sample_id: str) -> str:
    session = next(jug.session_id for jug in jugs if jug.sample_id == sample_id)
    return effect_of_aside(source.the_desk(), session, sample_id)
