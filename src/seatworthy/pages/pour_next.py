"""What to pour next: a proposed session, the gaps behind it, and how long it takes."""

from typing import Final

import streamlit as st

from seatworthy.pages import going, source
from seatworthy.pages.addresses import BENCH, PEOPLE, SHELF, asked_word, next_address
from seatworthy.pages.choices import choose_family
from seatworthy.pages.frame import headline, opening, paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.plan_draft import hand_over
from seatworthy.pages.pour_next_choices import (
    asked_glasses,
    asked_mix,
    choose_glasses,
    choose_mix,
    choose_who,
)
from seatworthy.pages.pour_next_tables import (
    ahead_table,
    compounds_table,
    gaps_table,
    jugs_table,
)
from seatworthy.steps.next_session import FEWEST, Question, next_session
from seatworthy.steps.next_session_views import NextView

_WAYS: Final = {PEOPLE: "To the people", SHELF: "To the shelf: beers and thresholds"}
_MENDED_AT: Final = ((BENCH, "To the bench"), (SHELF, "To the shelf"))
_PLAN: Final = "Make it a plan"


def show() -> None:
    """Draw the proposal for whom and what the address names."""
    desk = source.the_desk()
    question = Question(asked_word("family"), asked_word("who"), asked_glasses(), asked_mix())
    with st.spinner("Choosing the glasses"):
        view = next_session(desk, question)
    if view.start_at:
        st.html(paper(headline(view.answer, "")))
        going.link_to(view.start_at, _WAYS[view.start_at])
        return
    sentence, choices = st.columns([2.3, 1.25], vertical_alignment="top", gap="medium")
    with sentence:
        st.html(opening(_where(view), view.answer, view.catch, view.lead))
    with choices:
        _offer(view, question)
    _show_proposal(view)
    _show_gaps(view)
    _show_ahead(view)
    notes = "".join(tag("p", escaped(note), class_="note") for note in view.notes)
    st.html(paper(notes))


def _where(view: NextView) -> list[str]:
    who = next((one.label for one in view.people if one.key == view.who), "the whole panel")
    return ["What to pour next", view.family.label, f"for {who}"]


def _offer(view: NextView, question: Question) -> None:
    choose_who(view.people, view.who)
    choose_family(view.families, view.family.key)
    if view.most_glasses > FEWEST:
        choose_glasses(FEWEST, view.most_glasses, view.glasses)
    choose_mix(question.tells)
    is_asked = st.button(_PLAN, type="primary", width="stretch", disabled=view.wish is None)
    if is_asked and view.wish is not None:
        hand_over(view.wish)
        going.go_to("plan")


def _show_proposal(view: NextView) -> None:
    parts = [tag("h2", "The glasses")]
    if view.jugs:
        parts.append(jugs_table(view.jugs))
        parts.append(tag("p", escaped(view.mixed), class_="note"))
    if view.missing:
        parts.append(tag("h3", "Would be poured, and can't be"))
        lines = "".join(tag("li", escaped(_sentence(line))) for line in view.missing)
        ways = "".join(tag("a", words, href=page, target="_self") for page, words in _MENDED_AT)
        parts += [tag("ul", lines, class_="care"), tag("p", ways, class_="ways")]
    st.html(paper(*parts, class_="proof"))


def _sentence(line: str) -> str:
    return line[:1].upper() + line[1:]


def _show_gaps(view: NextView) -> None:
    head = "Every gap" if view.who else "The dearest gaps"
    if view.all_alike:
        table = tag("p", escaped(view.all_alike), class_="note")
    elif view.dearest:
        table = gaps_table(view.dearest, view.family.key, with_names=view.who is None)
    else:
        table = tag("p", "No gap that a glass could mend.", class_="note")
    st.html(paper(tag("h2", head), table, class_="proof"))
    if view.gaps:
        st.html(
            paper(tag("h2", "Compound by compound"), compounds_table(view.gaps), class_="proof")
        )


def _show_ahead(view: NextView) -> None:
    if not view.ahead:
        return
    back = ""
    if view.who:
        address = next_address(family=view.family.key)
        link = tag("a", "For the whole panel", href=address, target="_self")
        back = tag("p", link, class_="ways")
    table = ahead_table(view.ahead, view.family.key)
    st.html(paper(tag("h2", "With sessions like this one"), table, back, class_="proof"))
