"""What kind of session is planned: one of its own make, a release sitting, or whether people know a beer."""

from typing import Final

import streamlit as st

from seatworthy.pages.addresses import KNOWN_BEER, RELEASE, asked_word
from seatworthy.steps.desk import Desk
from seatworthy.steps.session_facts import session_facts

_PANEL: Final = "panel"
_KINDS: Final = {
    _PANEL: "Training or test",
    RELEASE: "Release sitting",
    KNOWN_BEER: "Do we know our beer?",
}
_KEY: Final = "plan_kind"


def kind_repeated(desk: Desk) -> str:
    """Of which kind the session is that the address asks to repeat; of its own make without one."""
    again = asked_word("again")
    facts = session_facts(desk, again) if again else None
    if facts is None:
        return _PANEL
    if facts.head.is_release:
        return RELEASE
    asks_beer = any(sample.asks_beer for sample in facts.samples.values())
    return KNOWN_BEER if asks_beer else _PANEL


def choose_kind(usual: str) -> str:
    """Offer the kinds; the one that the address names is chosen.

    Args:
        usual: The one that is chosen where the address names none.
    """
    asked = asked_word("kind") or usual
    st.session_state[_KEY] = asked if asked in _KINDS else _PANEL
    st.segmented_control(
        "What is planned",
        list(_KINDS),
        required=True,
        format_func=_KINDS.get,
        key=_KEY,
        on_change=_go_to_kind,
        label_visibility="collapsed",
    )
    return str(st.session_state[_KEY])


def _go_to_kind() -> None:
    st.query_params["kind"] = st.session_state[_KEY]
