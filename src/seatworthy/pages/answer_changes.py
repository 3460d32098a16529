"""An answer on record corrected, a glass set aside or put back: with a reason and an author."""

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import Final

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.telling import act, show_told
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.phrases import REASON_FOR_AN_AUDITOR
from seatworthy.steps import answers as answer_steps
from seatworthy.steps import asides
from seatworthy.steps.sheet_views import SheetRow, SheetView
from seatworthy.steps.views import Choice

_CORRECT, _ASIDE = "correct", "glass_aside"
_NO_GLASS: Final = "Choose a glass first. Nothing was recorded."


def offer_changes(view: SheetView, people: Sequence[Choice]) -> None:
    """Both forms for the glasses of one sheet.

    Args:
        view: The sheet.
        people: Everybody on record, one of whom decides.
    """
    answered = [row for row in view.rows if row.state == "answered"]
    with st.expander("Correct an answer"):
        if answered:
            _form(_CORRECT, view, answered, people)
        else:
            st.text("No answer of this sheet is on record yet.")
    with st.expander("Set a glass aside, or put it back"):
        _form(_ASIDE, view, view.rows, people)


def _form(place: str, view: SheetView, rows: Iterable[SheetRow], people: Iterable[Choice]) -> None:
    glasses = labels_told_apart(Choice(row.serving_id, _glass_words(row)) for row in rows)
    names = labels_told_apart(people)
    key = f"{place}_{view.key}"
    show_told(place)
    with st.form(key, border=False):
        st.selectbox(
            "Glass",
            list(glasses),
            index=None,
            placeholder="Choose a glass",
            format_func=glasses.get,
            key=f"{key}_glass",
        )
        if place == _CORRECT:
            st.text_input("What the sheet really says", key=f"{key}_said")
            st.checkbox("These are own words, which name nothing on the shelf", key=f"{key}_own")
        st.text_input("Why", help=REASON_FOR_AN_AUDITOR, key=f"{key}_reason")
        st.selectbox(
            "Who says so",
            list(names),
            index=None,
            placeholder="Choose a person",
            format_func=names.get,
            key=f"{place}_by",
        )
        words, record = (
            ("Correct it", _record_correction)
            if place == _CORRECT
            else ("Set it aside, or put it back", _record_aside)
        )
        st.form_submit_button(words, on_click=record, args=(view,))


def _glass_words(row: SheetRow) -> str:
    said = f", {row.said}" if row.said else ""
    aside = ", set aside" if row.is_aside else ""
    return f"{row.name or row.code or row.position}{said}{aside}"


def _record_correction(view: SheetView) -> None:
    key, state = f"{_CORRECT}_{view.key}", st.session_state
    said, reason, by = state[f"{key}_said"], state[f"{key}_reason"], state[f"{_CORRECT}_by"]
    is_own = bool(state.get(f"{key}_own"))

    def step(serving_id: str) -> str:
        return answer_steps.correct_answer(
            source.the_desk(), serving_id, said, reason, by, keep_own_words=is_own
        )

    if _record(_CORRECT, key, step):
        state[f"{key}_said"] = ""


def _record_aside(view: SheetView) -> None:
    key, state = f"{_ASIDE}_{view.key}", st.session_state
    reason, by = state[f"{key}_reason"], state[f"{_ASIDE}_by"]
    is_aside = {row.serving_id: row.is_aside for row in view.rows}

    def step(serving_id: str) -> str:
        change = asides.put_glass_back if is_aside[serving_id] else asides.set_glass_aside
        return change(source.the_desk(), serving_id, reason, by)

    _record(_ASIDE, key, step)


def _record(place: str, key: str, step: Callable[[str], str]) -> bool:
    """Take a step for the glass chosen; the form is emptied only if it was recorded."""
    state = st.session_state
    serving_id = state[f"{key}_glass"]
    if serving_id is None:
        act(place, lambda: _NO_GLASS)
        return False
    if not act(place, partial(step, serving_id)):
        return False
    state[f"{key}_glass"], state[f"{key}_reason"] = None, ""
    return True
