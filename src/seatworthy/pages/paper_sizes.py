"""Which paper the printer holds; chosen once for all pages of one visit."""

from typing import Final

import streamlit as st

_SIZES: Final = ("A4", "Letter")
_KEY: Final = "paper_size"


def choose_size() -> str:
    """Offer the sizes of paper; the one chosen."""
    st.session_state.setdefault(_KEY, _SIZES[0])
    return st.segmented_control(
        "Paper", list(_SIZES), required=True, key=_KEY, persist_state="session"
    )


def chosen_size() -> str:
    """The size chosen elsewhere on the page, or the usual one."""
    return str(st.session_state.get(_KEY) or _SIZES[0])
