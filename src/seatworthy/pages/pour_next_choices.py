"""For whom, how many glasses, and which mix: every choice stands in the address."""

from collections.abc import Sequence
from typing import Final

import streamlit as st

from seatworthy.pages.addresses import asked_word
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.steps.next_session import USUAL_MIX
from seatworthy.steps.views import Choice

_PANEL: Final = ""
_STEP: Final = 10  # percent


def asked_glasses() -> int | None:
    """The number of glasses that the address asks for; None where it says none."""
    word = asked_word("glasses") or ""
    return int(word) if word.isascii() and word.isdigit() and 0 < len(word) < 4 else None


def asked_mix() -> float:
    """How much is to be told, as the address says, from 0 to 1; the usual where it says nothing."""
    word = asked_word("tells") or ""
    if not (word.isascii() and word.isdigit() and len(word) < 4):
        return USUAL_MIX
    return min(int(word), 100) / 100


def choose_who(people: Sequence[Choice], current: str | None) -> None:
    """Offer the whole panel and everybody on it."""
    labels = {_PANEL: "the whole panel", **labels_told_apart(people)}
    st.session_state["chosen_for"] = current or _PANEL
    st.selectbox(
        "For whom",
        list(labels),
        format_func=labels.get,
        key="chosen_for",
        on_change=_write,
        args=("who", "chosen_for"),
    )


def choose_glasses(fewest: int, most: int, current: int) -> None:
    """Offer as many glasses as the limits on glasses and alcohol allow."""
    st.session_state["chosen_glasses"] = min(max(current, fewest), most)
    st.slider(
        "Glasses for each person",
        fewest,
        most,
        key="chosen_glasses",
        on_change=_write,
        args=("glasses", "chosen_glasses"),
    )


def choose_mix(current: float) -> None:
    """Offer the mix of what teaches and what tells."""
    st.session_state["chosen_tells"] = _STEP * round(100 * current / _STEP)
    st.slider(
        "To teach (0%) or to find out (100%)",
        0,
        100,
        step=_STEP,
        format="%d%%",
        key="chosen_tells",
        on_change=_write,
        args=("tells", "chosen_tells"),
    )


def _write(name: str, key: str) -> None:
    value = st.session_state[key]
    if value == _PANEL and name == "who":
        st.query_params.pop(name, None)
    else:
        st.query_params[name] = str(value)
