"""What was just recorded, in a sentence beside the place of the click, with a way to take it back."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import streamlit as st

from seatworthy.errors import PanelError
from seatworthy.pages.frame import paper, refusal
from seatworthy.pages.markup import escaped, tag

_KEY, _ABOUT = "told", "told_about"
NO_COPY: Final = "no_copy"  # said on the page of the reveal, after the close

Step = Callable[[], str]


@dataclass(frozen=True)
class _Told:
    """What the reader is told.

    Attributes:
        place: Where on the page it is shown.
        undo: What takes it back; None if nothing does, or it was refused.
    """

    place: str
    sentence: str
    is_refused: bool
    undo: Step | None


def tell_only_about(subject: str) -> None:
    """Forget what was told about another session; called before a page is drawn."""
    if st.session_state.get(_ABOUT) != subject:
        st.session_state.pop(_KEY, None)
        st.session_state[_ABOUT] = subject


def act(place: str, step: Step, undo: Step | None = None) -> bool:
    """Do a step from a widget's callback and keep its sentence for the page.

    Args:
        place: Where on the page the sentence will stand.
        step: Records something and returns the sentence; a refusal becomes the sentence.
        undo: Takes it back.

    Returns:
        Whether it was recorded.
    """
    try:
        told = _Told(place, step(), False, undo)
    except PanelError as error:
        told = _Told(place, str(error), True, None)
    st.session_state[_KEY] = told
    return not told.is_refused


def warn(place: str, sentence: str) -> None:
    """Keep a sentence about what could not be done beside a step that was.

    Args:
        place: Where on a page it will stand.
        sentence: What the reader has to know.
    """
    st.session_state[_KEY] = _Told(place, sentence, True, None)


def show_told(place: str) -> None:
    """Show the latest sentence if it belongs to this place, and "Undo" where something undoes it."""
    told = st.session_state.get(_KEY)
    if told is None or told.place != place:
        return
    if told.is_refused:
        st.html(refusal(told.sentence))
        return
    with st.container(horizontal=True, vertical_alignment="center", gap="medium"):
        words = tag("p", escaped(told.sentence), class_="told", role="status")
        st.html(paper(words), width="content")
        if told.undo is not None:
            st.button("Undo", key=f"undo_{place}", on_click=act, args=(place, told.undo))
