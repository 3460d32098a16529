"""How the glasses of a jug are asked about: named, rated for one compound, or by yes and no."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.plan_draft import BLANK, ROWS, row_key
from seatworthy.sessions.wish import ASKED, INTENSITY, NAMING, SETS, YES_NO
from seatworthy.steps.sentences import in_sentence

_HOW: Final = MappingProxyType(
    {
        NAMING: "Name what is there",
        INTENSITY: "How strong is it, 0 to 10",
        YES_NO: "Is it there, yes or no",
    }
)
_SHORT: Final = MappingProxyType({NAMING: "Named", INTENSITY: "0 to 10", YES_NO: "Yes or no"})
_KEPT: Final = {"persist_state": "session"}


def method_of(number: int) -> str:
    """How the glasses of a row are asked about, one of `wish.METHODS`."""
    return st.session_state.get(row_key(number, "method")) or NAMING


def asks_of(number: int) -> str | None:
    """The compound that a row asks about: the one chosen, else its own; None where it asks about none.

    A blank goes with the other rows if these ask about one compound alone.
    """
    if method_of(number) not in ASKED:
        return None
    chosen = _own(number)
    if chosen is not None:
        return chosen
    others = {_own(row) for row in st.session_state[ROWS] if method_of(row) in ASKED} - {None}
    return others.pop() if len(others) == 1 else None


def _own(number: int) -> str | None:
    """What a row itself says that it asks about."""
    compound = st.session_state.get(row_key(number, "compound"))
    chosen = st.session_state.get(row_key(number, "asks"))
    is_free = compound == BLANK or method_of(number) == INTENSITY
    if is_free and chosen is not None:
        return chosen
    return None if compound == BLANK else compound


def show_question(place: DeltaGenerator, number: int, labels: Mapping[str, str]) -> None:
    """A button that says how a row is asked about, and lets it be changed.

    Args:
        place: Where it stands.
        number: Of the row.
        labels: Compounds that may be planned, by key, a blank among them.
    """
    method = method_of(number)
    if method in SETS:
        place.button("In sets", disabled=True, key=row_key(number, "in_sets"), width="stretch")
        return
    with place.popover(_SHORT[method], width="stretch", key=row_key(number, "how")):
        st.radio(
            "How it is asked about", list(_HOW), format_func=_HOW.get,
            key=row_key(number, "method"), **_KEPT,
        )  # fmt: skip
        is_blank = st.session_state.get(row_key(number, "compound")) == BLANK
        if method == INTENSITY or (method == YES_NO and is_blank):
            st.selectbox(
                "About", [key for key in labels if key != BLANK], format_func=labels.get,
                index=None, placeholder="As the others" if is_blank else "What is in it",
                key=row_key(number, "asks"), **_KEPT,
            )  # fmt: skip


def _short(label: str) -> str:
    """What the ballot calls a compound: its label without the chemical name after it."""
    return label.partition(", ")[0]


def show_asked(labels: Mapping[str, str]) -> None:
    """What the ballots ask, a line a question; nothing where every glass is to be named."""
    found: dict[tuple[str, str], int] = {}
    for number in st.session_state[ROWS]:
        asks = asks_of(number)
        if asks is not None and st.session_state.get(row_key(number, "compound")) is not None:
            key = method_of(number), in_sentence(_short(labels.get(asks, asks)))
            found[key] = found.get(key, 0) + 1
    lines = [
        f"{'How strong is' if method == INTENSITY else 'Is'} {label}"
        f"{', 0 to 10' if method == INTENSITY else ' in it'}? "
        f"{'One jug' if jugs == 1 else f'{jugs} jugs'}."
        for (method, label), jugs in found.items()
    ]
    if lines:
        words = tag("b", "The ballots ask: ") + escaped(" ".join(lines))
        st.html(paper(tag("p", words, class_="note")))
