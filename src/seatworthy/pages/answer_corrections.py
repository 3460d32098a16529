"""Corrections below the grid: another answer, or a glass set aside and put back, with a reason."""

from collections.abc import Sequence

import streamlit as st

from seatworthy.pages import source
from seatworthy.pages.telling import act, show_told
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.phrases import REASON_FOR_AN_AUDITOR
from seatworthy.steps.answers import correct_answer
from seatworthy.steps.asides import put_glass_back, set_glass_aside
from seatworthy.steps.people import everybody
from seatworthy.steps.session_views import SheetRow, SheetView
from seatworthy.steps.views import Choice

_PLACE = "corrections"


def offer_corrections(every: Sequence[SheetView]) -> None:
    """Two forms over every glass of a session.

    Args:
        every: Its sheets.
    """
    glasses = {
        row.serving_id: (f"{row.code}, {view.name}", row) for view in every for row in view.rows
    }
    show_told(_PLACE)
    with st.expander("Correct an answer"):
        _correcting({k: pair for k, pair in glasses.items() if pair[1].state == "answered"})
    with st.expander("Set a glass aside, or put it back"):
        _setting_aside(glasses)


def _correcting(glasses: dict[str, tuple[str, SheetRow]]) -> None:
    if not glasses:
        st.caption("No answer is in yet.")
        return
    with st.form("correct", border=False):
        columns = st.columns([2, 2])
        glass = columns[0].selectbox(
            "Glass", list(glasses), format_func=lambda g: _with_answer(*glasses[g]), index=None
        )
        said = columns[1].text_input("What the sheet really says", max_chars=120)
        reason, by = _reason_and_author("correct")
        if st.form_submit_button("Correct it"):
            _do(lambda: correct_answer(source.the_desk(), glass or "", said, reason, by), glass)


def _setting_aside(glasses: dict[str, tuple[str, SheetRow]]) -> None:
    with st.form("aside", border=False):
        glass = st.selectbox(
            "Glass", list(glasses), format_func=lambda g: _with_aside(*glasses[g]), index=None
        )
        reason, by = _reason_and_author("aside")
        if st.form_submit_button("Set it aside, or put it back"):
            is_aside = glass is not None and glasses[glass][1].is_aside
            step = put_glass_back if is_aside else set_glass_aside
            _do(lambda: step(source.the_desk(), glass or "", reason, by), glass)


def _reason_and_author(form: str) -> tuple[str, str | None]:
    columns = st.columns([2, 2])
    reason = columns[0].text_input(
        "Why", max_chars=500, help=REASON_FOR_AN_AUDITOR, key=f"why_{form}"
    )
    people = labels_told_apart(Choice(k.person_id, k.name) for k in everybody(source.the_desk()))
    by = columns[1].selectbox(
        "Who says so", list(people), format_func=people.get, index=None, key=f"by_{form}"
    )
    return reason, by


def _do(step: object, glass: str | None) -> None:
    """Do it and draw the page afresh, so that the grid shows it; say so if no glass was chosen."""
    if glass is None:
        st.caption("Choose the glass first.")
        return
    act(_PLACE, step)  # type: ignore[arg-type]
    st.rerun()


def _with_answer(name: str, row: SheetRow) -> str:
    return f"{name}: {row.said}"


def _with_aside(name: str, row: SheetRow) -> str:
    return f"{name}, set aside" if row.is_aside else name
