"""A batch is put on record with its crew, right where a panel is seated for it."""

from typing import Final

import streamlit as st

from seatworthy.pages.shelf_parts import author
from seatworthy.pages.telling import act, show_told
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps.batches import state_batch
from seatworthy.steps.desk import Desk
from seatworthy.steps.miss_views import MissView
from seatworthy.steps.people import everybody
from seatworthy.steps.seat_ground import beers_of_batches
from seatworthy.steps.views import Choice

_TELL: Final = "miss_batch_told"


def offer_batch(desk: Desk, view: MissView) -> None:
    """Offer to put a batch on record, or to say anew who made the one chosen."""
    show_told(_TELL)
    with st.expander("Put a batch on record, or say who made one"):
        beers, people = _labels(desk, desk.version)
        if not beers:
            st.html("<p>No beer is on the shelf yet; put it there first.</p>")
            return
        batch = view.batch
        about = batch.batch_id if batch else "new"
        st.text_input(
            "Name",
            value=batch.label if batch else "",
            placeholder="Tank 12",
            key=f"batch_label_{about}",
        )
        keys = list(beers)
        at = keys.index(batch.beer) if batch and batch.beer in beers else 0
        st.selectbox("Beer", keys, index=at, format_func=beers.get, key=f"batch_beer_{about}")
        st.multiselect(
            "Who made it",
            list(people),
            default=[person for person in (batch.crew if batch else ()) if person in people],
            format_func=people.get,
            placeholder="Nobody named",
            filter_mode="contains",
            select_all=False,
            key=f"batch_crew_{about}",
        )
        st.button("Put it on record", on_click=_state, args=(desk, about), key="batch_state")


def _state(desk: Desk, about: str) -> None:
    label, beer, crew = (
        st.session_state[f"batch_{field}_{about}"] for field in ("label", "beer", "crew")
    )

    def step() -> str:
        st.query_params["batch"] = state_batch(desk, label, beer, crew, author())
        return f"{label.strip()} is on record. Whoever made it is not independent of it."

    act(_TELL, step)


@st.cache_resource(max_entries=4, show_spinner=False)
def _labels(_desk: Desk, version: int) -> tuple[dict[str, str], dict[str, str]]:
    """Label by base beer, and name by person."""
    people = (Choice(one.person_id, one.name) for one in everybody(_desk))
    return labels_told_apart(beers_of_batches(_desk)), labels_told_apart(people)
