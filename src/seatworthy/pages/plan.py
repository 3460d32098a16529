"""Planning a session: what is asked for on the left, what comes of it on the right, as it changes."""

from typing import Final

import streamlit as st

from seatworthy.pages import going, plan_known_beer, plan_release, source
from seatworthy.pages.addresses import KNOWN_BEER, PEOPLE, PLAN, RELEASE, SHELF
from seatworthy.pages.frame import headline, opening, paper
from seatworthy.pages.plan_draft import (
    AFRESH,
    again_words,
    fill,
    first_wish_of_visit,
    recorded_here,
    start_afresh,
    wish_of_draft,
)
from seatworthy.pages.plan_form import show_beer, show_dosing, show_people
from seatworthy.pages.plan_kinds import choose_kind, kind_repeated
from seatworthy.pages.plan_outcome import NO_SAMPLES, laid_out, show_outcome
from seatworthy.pages.plan_samples import edit_samples, fill_rows, unfinished_rows
from seatworthy.steps import planning
from seatworthy.steps.desk import Desk
from seatworthy.steps.sentences import number_word
from seatworthy.steps.session_views import PlanChoices, PlanPreview

_LEAD: Final = (
    "Everybody's glasses get codes of three digits and an order of their own; the papers are printed "
    "from the plan once it is recorded."
)


def show() -> None:
    """Draw the form and the plan that it makes."""
    desk = source.the_desk()
    choices = planning.plan_choices(desk)
    if choices.hindrance:
        _show_hindrance(choices.hindrance)
        return
    kind = choose_kind(kind_repeated(desk))
    if kind == RELEASE:
        plan_release.show(desk, choices)
    elif kind == KNOWN_BEER:
        plan_known_beer.show(desk, choices)
    else:
        _show_panel(desk, choices)


def _show_panel(desk: Desk, choices: PlanChoices) -> None:
    """The form of a session of its own make."""
    new_start = first_wish_of_visit(desk)
    if new_start is not None:
        fill(new_start, choices)
        fill_rows(new_start.samples)
    top = st.container()
    form, outcome = st.columns([1.75, 1], gap="large")
    with form:
        show_beer(choices)
        samples = edit_samples(choices)
        show_dosing(choices)
        show_people(choices)
        st.button("Start afresh", key=AFRESH, on_click=start_afresh)
    faults, wish = wish_of_draft(samples)
    preview = None
    if wish is not None and wish.samples:
        faults, preview = laid_out(desk, wish)
    if unfinished := unfinished_rows():
        faults, preview = (*faults, *unfinished), None
    with outcome, st.container(key="plan_outcome"):
        show_outcome(desk, wish, preview, faults, recorded_here())
    with top:
        _open(choices, preview, faults)


def _open(choices: PlanChoices, preview: PlanPreview | None, faults: tuple[str, ...]) -> None:
    where = ["Plan a session", *again_words()]
    if preview is not None:
        st.html(opening(where, preview.answer, "", _LEAD))
    elif faults:
        count = len(faults)
        catch = "one thing is missing" if count == 1 else f"{number_word(count)} things are missing"
        st.html(opening(where, "This plan can't be recorded yet", catch, faults[0]))
    else:
        st.html(opening(where, "Who comes, and what is poured?", "", NO_SAMPLES))


def _show_hindrance(sentence: str) -> None:
    st.html(paper(headline(sentence, "")))
    with st.container(horizontal=True, gap="medium"):
        going.link_to(SHELF, "To the shelf: beers and thresholds")
        going.link_to(PEOPLE, "To the people")
        going.link_to(PLAN, "Look again")
