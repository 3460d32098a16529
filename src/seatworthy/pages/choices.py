"""The few things a reader may choose on a page; each stands in the address."""

from collections.abc import Sequence
from datetime import date

import streamlit as st

from seatworthy.pages.markup import plain_markdown
from seatworthy.steps.views import Choice

_MOST_SIDE_BY_SIDE = 4


def choose_family(families: Sequence[Choice]) -> None:
    """Offer the beer families; the first is the default and leaves the address clean."""
    if len(families) < 2:
        return
    labels = {family.key: plain_markdown(family.label) for family in families}
    if len(families) > _MOST_SIDE_BY_SIDE:
        st.selectbox(
            "Beer family", list(labels), format_func=labels.get, key="family", bind="query-params"
        )
        return
    st.segmented_control(
        "Beer family",
        list(labels),
        format_func=labels.get,
        default=families[0].key,
        required=True,
        key="family",
        bind="query-params",
    )


def choose_day() -> None:
    """Offer another day than today; an empty field means today."""
    st.date_input(
        "As of another day",
        value=None,
        min_value=date(1990, 1, 1),
        format="YYYY-MM-DD",
        key="on",
        bind="query-params",
    )


def choose_person(people: Sequence[Choice], current: str) -> None:
    """Offer everybody on record; a choice changes the address and with it the page."""
    ids = [person.key for person in people]
    labels = {person.key: person.label for person in people}
    st.selectbox(
        "Somebody else",
        ids,
        index=ids.index(current) if current in ids else None,
        format_func=labels.get,
        key="person",
        on_change=_go_to_chosen_person,
    )


def choose_compound(compounds: Sequence[Choice], first: str) -> str:
    """Offer the compounds of a record; the address may have chosen already."""
    keys = [compound.key for compound in compounds]
    labels = {compound.key: compound.label for compound in compounds}
    return st.selectbox(
        "Compound",
        keys,
        index=keys.index(first),
        format_func=labels.get,
        key="compound",
        bind="query-params",
        width=320,
    )


def _go_to_chosen_person() -> None:
    st.query_params["who"] = st.session_state["person"]
