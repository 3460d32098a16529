"""What comes of a plan, or what stands in its way, with the button that records it."""

from typing import Final

import streamlit as st

from seatworthy.errors import PlanRefused
from seatworthy.pages import going
from seatworthy.pages.addresses import SESSION
from seatworthy.pages.frame import numbers_kept, paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.sessions.wish import Wish
from seatworthy.steps import planning
from seatworthy.steps.desk import Desk
from seatworthy.steps.session_views import DoseLine, PlanPreview

NO_SAMPLES: Final = "Say what is poured; the plan lays itself out while you write."


def laid_out(desk: Desk, wish: Wish) -> tuple[tuple[str, ...], PlanPreview | None]:
    """What stands in the way of a wish, or what comes of it."""
    try:
        return (), planning.preview(desk, wish)
    except PlanRefused as refused:
        return refused.faults, None


def show_outcome(
    desk: Desk,
    wish: Wish | None,
    preview: PlanPreview | None,
    faults: tuple[str, ...],
    recorded: dict[Wish, str],
) -> None:
    """What is missing, or what comes of it, and the button.

    Args:
        desk: The open store.
        wish: What is asked for; None if it is not whole yet.
        preview: What comes of it; None with faults.
        faults: A sentence each.
        recorded: Session id by wish, for what was recorded from this form; it is added to.
    """
    if faults:
        lines = "".join(tag("li", escaped(fault)) for fault in faults)
        st.html(
            paper(tag("h2", "What is missing"), tag("ul", lines, class_="faults", role="status"))
        )
    elif preview is not None:
        st.html(paper(tag("h2", "What comes of it"), _facts(preview)))
    else:
        st.html(paper(tag("h2", "What comes of it"), tag("p", escaped(NO_SAMPLES), class_="note")))
    is_asked = st.button(
        "Record this plan", type="primary", disabled=preview is None, width="stretch"
    )
    if is_asked and wish is not None:
        _record(desk, wish, recorded)


def _facts(preview: PlanPreview) -> str:
    alcohol = (
        f"Alcohol for one person: {preview.alcohol_g:.1f} g as counted, {preview.swallowed_g:.1f} g "
        "if everything were swallowed."
    )
    parts = [tag("p", escaped(numbers_kept(alcohol))), *_dose_parts(preview.doses)]
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


def _record(desk: Desk, wish: Wish, recorded: dict[Wish, str]) -> None:
    """Record the plan once, however often the button is pressed, and go to its session.

    A second press interrupts the first run as soon as that touches the frame again, so the id is kept
    in a plain dictionary that was fetched before.
    """
    if wish not in recorded:
        try:
            recorded[wish] = planning.record_plan(desk, wish)
        except PlanRefused as refused:
            lines = "".join(tag("li", escaped(fault)) for fault in refused.faults)
            st.html(paper(tag("ul", lines, class_="faults", role="alert")))
            return
    going.go_to(SESSION, session=recorded[wish])
