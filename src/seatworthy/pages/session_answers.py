"""How far the answers are, person by person, with the way to each sheet."""

import streamlit as st

from seatworthy.pages.addresses import answers_address
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.session_jugs import offer_aside
from seatworthy.pages.session_seats import progress_words
from seatworthy.steps.session_views import SeatedView, SessionView, SittingView
from seatworthy.steps.sheets import sheet_key


def show_progress(view: SessionView) -> None:
    """A link to the sheets, everybody's progress, and setting a jug aside."""
    address = answers_address(view.session_id)
    way = tag("a", "Enter the answers from paper", href=address, target="_self")
    parts = [tag("p", way, class_="ways")]
    for sitting in view.sittings:
        head = tag("h3", escaped(sitting.label)) if len(view.sittings) > 1 else ""
        sheets = "".join(_sheet(view, sitting, seat) for seat in sitting.seated)
        parts.append(head + tag("ul", sheets, class_="sheets"))
    st.html(paper(*parts))
    with st.expander("A jug was wrong: set it aside, or put it back"):
        offer_aside(
            [
                (sample.sample_id, f"{sample.mark}, {sitting.label}", sample.is_aside)
                for sitting in view.sittings
                for sample in sitting.samples
            ],
            view.people,
        )


def _sheet(view: SessionView, sitting: SittingView, seat: SeatedView) -> str:
    address = answers_address(view.session_id, sheet_key(sitting.sitting_id, seat.person_id))
    name = tag("a", escaped(seat.name), href=address, target="_self")
    words = "not tasting" if seat.state == "absent" else progress_words(seat)
    is_done = not seat.waiting
    return tag("li", name + tag("i", words), class_="is-done" if is_done else None)
