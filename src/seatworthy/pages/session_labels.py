"""Labels of a session, on a sheet of labels that somebody has measured."""

from types import MappingProxyType
from typing import Final

import streamlit as st

from seatworthy import paper as papers_made
from seatworthy.errors import PanelError
from seatworthy.pages import source
from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.paper.label_sheets import LabelSheet, LabelsRefused
from seatworthy.paper.labels import unfit_sheet
from seatworthy.steps import papers as paper_steps
from seatworthy.steps.desk import Desk
from seatworthy.steps.sentences import joined
from seatworthy.steps.session_views import SessionView

_KINDS: Final = MappingProxyType({"bottles": "Bottles", "caps": "Caps", "glasses": "Glasses"})
# Name of the field, words beside it, what it starts with: a sheet of 24, three across, on either paper.
_FIELDS: Final = (
    ("columns", "Labels across", 3),
    ("rows", "Labels down", 8),
    ("left", "Left margin, mm", 5.0),
    ("top", "Upper margin, mm", 8.0),
    ("width", "Label width, mm", 62.0),
    ("height", "Label height, mm", 32.0),
    ("across", "To the next across, mm", 66.0),
    ("down", "To the next down, mm", 33.0),
    ("first", "First free label", 1),
)
_KEPT: Final = {"persist_state": "session"}
_NOTE: Final = (
    "Measure your sheet of labels once. Print at full size, not fitted to the page. Labels for bottles "
    "and caps belong to the preparation side; on the glass side stands the code alone."
)


def offer_labels(view: SessionView, size: str) -> None:
    """A form for the sheet of labels, and the download.

    Args:
        view: The session.
        size: "A4" or "Letter".
    """
    with st.expander("Labels for bottles, caps and glasses"):
        st.html(paper(tag("p", escaped(_NOTE), class_="note")))
        what = st.segmented_control(
            "Labels for", list(_KINDS), format_func=_KINDS.get, required=True, default="bottles",
            key="labels_for",
        )  # fmt: skip
        with st.container(horizontal=True, vertical_alignment="bottom", gap="small"):
            for name, words, start in _FIELDS:
                _field(name, words, start)
        desk, first = source.the_desk(), int(st.session_state["label_first"])
        try:
            sheet = _sheet(size)
            faults = tuple(unfit_sheet(what, sheet, first))
        except LabelsRefused as refused:
            faults = refused.faults
        if faults:
            st.html(_listed(faults))
            return
        st.download_button(
            f"Labels for {_KINDS[what].lower()}",
            data=lambda: label_bytes(desk, view.session_id, what, sheet, first),
            file_name=f"{view.session_on.isoformat()}-labels-{what}.pdf",
            mime="application/pdf",
            on_click="ignore",
        )


def _listed(faults: tuple[str, ...]) -> str:
    lines = "".join(tag("li", escaped(fault)) for fault in faults)
    return paper(tag("ul", lines, class_="faults", role="alert"))


def _field(name: str, words: str, start: float) -> None:
    key = f"label_{name}"
    st.session_state.setdefault(key, start)
    is_whole = isinstance(start, int)
    st.number_input(
        words,
        min_value=1 if is_whole else 0.0,
        max_value=100 if is_whole else 300.0,
        step=1 if is_whole else 0.5,
        format="%d" if is_whole else "%g",
        key=key,
        width=165,
        **_KEPT,
    )


def _sheet(size: str) -> LabelSheet:
    state = st.session_state
    lengths = ("left", "top", "width", "height", "across", "down")
    return LabelSheet(
        size,
        int(state["label_columns"]),
        int(state["label_rows"]),
        *(float(state[f"label_{name}"]) for name in lengths),
    )


def label_bytes(desk: Desk, session_id: str, what: str, sheet: LabelSheet, first: int) -> bytes:
    """Labels of one session as PDF.

    Raises:
        PanelError: if the session has no plan, or they don't go on such a sheet.
    """
    view = paper_steps.papers(desk, session_id)
    if view is None:
        message = "This session has no plan, so there is nothing to label."
        raise PanelError(message)
    return papers_made.labels_pdf(view, what, sheet, first)  # type: ignore[arg-type]


def warn_of_letters(view: SessionView) -> None:
    """Say which names hold letters that don't print."""
    people = [seated.name for sitting in view.sittings for seated in sitting.seated]
    lost = papers_made.unprintable([*people, view.beer, view.label])
    if lost:
        verb = "holds" if len(lost) == 1 else "hold"
        words = (
            f"{joined([f'“{name}”' for name in lost])} {verb} letters that don't print: Latin, Greek "
            "and Cyrillic do. Write such names in by hand."
        )
        st.html(paper(tag("p", escaped(words), class_="note")))
