"""The few things a reader may choose on a page; every choice stands in the address.

The address decides: a widget is set from it before it is drawn, and a choice is written into it.
So a page that was sent to a colleague opens as it was, and no stale choice outlives a link.
"""

from collections.abc import Sequence
from datetime import date

import streamlit as st

from seatworthy.pages.addresses import AS_IT_STOOD, READ, asked_as_recorded
from seatworthy.pages.markup import plain_markdown
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps.views import Choice

_MOST_SIDE_BY_SIDE = 3
_EARLIEST = date(1990, 1, 1)


def choose_family(families: Sequence[Choice], current: str) -> None:
    """Offer the beer families, side by side while they are few."""
    if len(families) < 2:
        return
    labels = labels_told_apart(families)
    key = _follow_address("family", current)
    words = {"format_func": labels.get, "key": key, "on_change": _write, "args": ("family",)}
    if len(families) > _MOST_SIDE_BY_SIDE:
        st.selectbox("Beer family", list(labels), width=168, **words)
        return
    plain = {family: plain_markdown(label) for family, label in labels.items()}
    words["format_func"] = plain.get
    st.segmented_control("Beer family", list(plain), required=True, **words)


def choose_day(current: date | None) -> None:
    """Offer another day than today; an empty field means today."""
    st.date_input(
        "As of another day",
        value=None,
        min_value=_EARLIEST,
        format="YYYY-MM-DD",
        width=168,
        key=_follow_address("on", current),
        on_change=_write,
        args=("on",),
    )


def choose_record(current: date | None) -> None:
    """Offer the two questions about a past day; nothing for today."""
    if current is None:
        return
    key = f"chosen_{READ}"
    st.session_state[key] = AS_IT_STOOD if asked_as_recorded() else _BY_TODAY
    st.segmented_control(
        "By which record",
        [_BY_TODAY, AS_IT_STOOD],
        format_func=_RECORDS.get,
        required=True,
        key=key,
        on_change=_write_record,
    )


_BY_TODAY = "today"
_RECORDS = {_BY_TODAY: "today's record", AS_IT_STOOD: "as it stood that evening"}


def _write_record() -> None:
    if st.session_state[f"chosen_{READ}"] == AS_IT_STOOD:
        st.query_params[READ] = AS_IT_STOOD
    elif READ in st.query_params:
        del st.query_params[READ]


def choose_person(people: Sequence[Choice], current: str) -> None:
    """Offer everybody on record."""
    labels = labels_told_apart(people)
    st.selectbox(
        "Somebody else",
        list(labels),
        format_func=labels.get,
        key=_follow_address("who", current),
        on_change=_write,
        args=("who",),
    )


def choose_compound(compounds: Sequence[Choice], current: str) -> None:
    """Offer the compounds of a record."""
    labels = labels_told_apart(compounds)
    st.selectbox(
        "Compound",
        list(labels),
        format_func=labels.get,
        width=320,
        key=_follow_address("compound", current),
        on_change=_write,
        args=("compound",),
    )


def _follow_address(name: str, value: str | date | None) -> str:
    key = f"chosen_{name}"
    st.session_state[key] = value
    return key


def _write(name: str) -> None:
    value = st.session_state[f"chosen_{name}"]
    if value is None:
        del st.query_params[name]
    else:
        st.query_params[name] = str(value)
