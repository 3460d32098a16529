"""Asks again before something unlikely is recorded: stored only once it is said to be meant so."""

from collections.abc import Callable, Hashable, Sequence
from typing import Final

import streamlit as st

from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag

_KEY: Final = "doubted"


def record_unless_doubted(
    place: str, what: Hashable, doubts: Sequence[str], record: Callable[[], bool]
) -> bool:
    """Record at once where nothing is doubted, or where just this was doubted and is meant so.

    Args:
        place: Where on the page it is asked.
        what: All that would be recorded; another thing is doubted afresh.
        doubts: What is unlikely about it, one sentence each.
        record: Records it and says whether it did.

    Returns:
        Whether it was recorded.
    """
    is_sure = st.session_state.get(_KEY, ("", None, ()))[:2] == (place, what)
    if doubts and not is_sure:
        st.session_state[_KEY] = (place, what, tuple(doubts))
        return False
    st.session_state.pop(_KEY, None)
    return record()


def is_doubted(place: str) -> bool:
    """Whether a question stands at this place."""
    return st.session_state.get(_KEY, ("",))[0] == place


def ask_again(place: str, label: str, on_sure: Callable[[], None]) -> None:
    """Show what is doubted at this place, with a button to record it all the same.

    Args:
        place: Where on the page we are.
        label: Words of the button.
        on_sure: What the first button did; it is done again.
    """
    if not is_doubted(place):
        return
    doubts = st.session_state[_KEY][2]
    lines = "".join(tag("li", escaped(doubt)) for doubt in doubts)
    st.html(paper(tag("ul", lines, class_="faults", role="alert")))
    with st.container(horizontal=True):
        st.button(label, key=f"{place}_sure", on_click=on_sure)
        st.button("Leave it", key=f"{place}_leave", on_click=_forget)


def _forget() -> None:
    st.session_state.pop(_KEY, None)
