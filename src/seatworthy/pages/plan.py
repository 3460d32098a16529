"""Planning a session: what is asked for on the left, what comes of it on the right, as it changes."""

from typing import Final

import streamlit as st

from seatworthy.errors import PlanRefused
from seatworthy.pages import going, source
from seatworthy.pages.addresses import PEOPLE, PLAN, SESSION, SHELF
from seatworthy.pages.frame import headline, opening, paper
from seatworthy.pages.markup import escaped, tag
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
from seatworthy.pages.plan_samples import edit_samples, fill_rows, unfinished_rows
from seatworthy.sessions.wish import Wish
from seatworthy.steps import planning
from seatworthy.steps.desk import Desk
from seatworthy.steps.sentences import number_word
from seatworthy.steps.session_views import DoseLine, PlanChoices, PlanPreview

_LEAD: Final = (
    "Everybody's glasses get codes of three digits and an order of their own; the papers are printed "
    "from the plan once it is recorded."
)
_NO_SAMPLES: Final = "Say what is poured; the plan lays itself out while you write."


def show() -> None:
    """Draw the form and the plan that it makes."""
    desk = source.the_desk()
    choices = planning.plan_choices(desk)
    if choices.hindrance:
        _show_hindrance(choices.hindrance)
        return
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
        faults, preview = _laid_out(desk, wish)
    if unfinished := unfinished_rows():
        faults, preview = (*faults, *unfinished), None
    with outcome, st.container(key="plan_outcome"):
        _show_outcome(desk, wish, preview, faults)
    with top:
        _open(choices, preview, faults)


def _laid_out(desk: Desk, wish: Wish) -> tuple[tuple[str, ...], PlanPreview | None]:
    try:
        return (), planning.preview(desk, wish)
    except PlanRefused as refused:
        return refused.faults, None


def _open(choices: PlanChoices, preview: PlanPreview | None, faults: tuple[str, ...]) -> None:
    where = ["Plan a session", *again_words()]
    if preview is not None:
        st.html(opening(where, preview.answer, "", _LEAD))
    elif faults:
        count = len(faults)
        catch = "one thing is missing" if count == 1 else f"{number_word(count)} things are missing"
        st.html(opening(where, "This plan can't be recorded yet", catch, faults[0]))
    else:
        st.html(opening(where, "Who comes, and what is poured?", "", _NO_SAMPLES))


def _show_outcome(
    desk: Desk, wish: Wish | None, preview: PlanPreview | None, faults: tuple[str, ...]
) -> None:
    if faults:
        lines = "".join(tag("li", escaped(fault)) for fault in faults)
        st.html(
            paper(tag("h2", "What is missing"), tag("ul", lines, class_="faults", role="status"))
        )
    elif preview is not None:
        st.html(paper(tag("h2", "What comes of it"), _facts(preview)))
    else:
        st.html(paper(tag("h2", "What comes of it"), tag("p", escaped(_NO_SAMPLES), class_="note")))
    is_asked = st.button(
        "Record this plan", type="primary", disabled=preview is None, width="stretch"
    )
    if is_asked and wish is not None:
        _record(desk, wish)


def _facts(preview: PlanPreview) -> str:
    alcohol = (
        f"Alcohol for one person: {preview.alcohol_g:.1f} g as counted, {preview.swallowed_g:.1f} g "
        "if everything were swallowed."
    )
    parts = [tag("p", escaped(alcohol)), *_dose_parts(preview.doses)]
    known = (*preview.rests, *preview.notes)
    for head, lines in (("Left out", preview.left_out), ("To know", known)):
        if lines:
            items = "".join(tag("li", escaped(line)) for line in lines)
            parts += [tag("h3", head), tag("ul", items, class_="care")]
    return "".join(parts)


def _dose_parts(doses: tuple[DoseLine, ...]) -> list[str]:
    """What is pipetted, in the order of work."""
    if not doses:
        return []
    items = []
    for dose in doses:
        really = "really " if dose.vessels else ""
        head = f"{dose.mark} {dose.what}{f', {really}{dose.level}' if dose.level else ''}"
        when = f"prepare it {dose.when}" if dose.when else ""
        what = "; ".join(filter(None, [dose.take or "nothing added", dose.vessels, when]))
        others = f"Or {', or '.join(dose.others)}." if dose.others else ""
        note = tag("span", escaped(others), class_="note") if others else ""
        items.append(tag("li", tag("b", escaped(head)) + escaped(f": {what}. ") + note))
    return [tag("h3", "Doses"), tag("ul", "".join(items), class_="care")]


def _record(desk: Desk, wish: Wish) -> None:
    """Record the plan once, however often the button is pressed, and go to its session.

    A second press interrupts the first run as soon as that touches the frame again, so the id is kept
    in a plain dictionary that was fetched before.
    """
    recorded = recorded_here()
    if wish not in recorded:
        try:
            recorded[wish] = planning.record_plan(desk, wish)
        except PlanRefused as refused:
            lines = "".join(tag("li", escaped(fault)) for fault in refused.faults)
            st.html(paper(tag("ul", lines, class_="faults", role="alert")))
            return
    going.go_to(SESSION, session=recorded[wish])


def _show_hindrance(sentence: str) -> None:
    st.html(paper(headline(sentence, "")))
    with st.container(horizontal=True, gap="medium"):
        going.link_to(SHELF, "To the shelf: beers and thresholds")
        going.link_to(PEOPLE, "To the people")
        going.link_to(PLAN, "Look again")
