"""The jugs: what is poured, how strong, how often, and what is added for it; one row a jug."""

from decimal import Decimal
from typing import Final

import streamlit as st

from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.plan_draft import BLANK, ROWS, row_key, typed
from seatworthy.pages.plan_questions import asks_of, method_of, show_asked, show_question
from seatworthy.pages.plan_series import offer_series
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.sessions.wish import NAMING, SETS, WantedSample
from seatworthy.steps.session_views import PlanChoices
from seatworthy.steps.views import Choice

MOST_ROWS: Final = 24
_TIMES: Final = {1: "once", 2: "twice"}
_IN_SETS: Final = {0: "sets", **_TIMES}
_SET_TIMES: Final = {1: "1 set", 2: "2 sets"}
_WIDTHS: Final = (2.5, 0.9, 1.7, 1.75, 1.15, 1.05)
_KEPT: Final = {"persist_state": "session"}
_NOTE: Final = (
    "One row a jug. A level is a multiple of the working threshold, with what the beer holds already. "
    "A blank keeps everybody honest; twice makes a hidden pair. Glasses are named unless a row says that "
    "they are rated, or answered by yes and no."
)


def edit_samples(choices: PlanChoices) -> tuple[WantedSample, ...]:
    """Show the rows and read them; a row without a compound is still being written."""
    labels = _labels(choices)
    st.html(paper(tag("h2", "What is poured"), tag("p", escaped(_NOTE), class_="note")))
    rows = st.session_state[ROWS]
    with st.container(key="plan_jugs"):
        for place, number in enumerate(rows):
            _row(number, labels, is_first=place == 0)
    with st.container(horizontal=True, gap="small"):
        st.button("Add a jug", on_click=_add, disabled=len(rows) >= MOST_ROWS)
        st.button("Add a blank", on_click=_add, args=(BLANK,), disabled=len(rows) >= MOST_ROWS)
    show_asked(labels)
    offer_series(labels, _add_series)
    return tuple(wanted for number in rows if (wanted := _wanted(number)) is not None)


def unfinished_rows() -> tuple[str, ...]:
    """A sentence for each row that holds something and no compound."""
    faults = []
    for place, number in enumerate(st.session_state[ROWS], start=1):
        holds = [st.session_state.get(row_key(number, name)) for name in ("level", "addition")]
        if st.session_state.get(row_key(number, "compound")) is None and any(holds):
            faults.append(f"Row {place} has no compound: choose one, or take the row out.")
    return tuple(faults)


def fill_rows(samples: tuple[WantedSample, ...]) -> None:
    """Start the rows anew from a wish."""
    st.session_state[ROWS] = []
    add_samples(samples)


def add_samples(samples: tuple[WantedSample, ...]) -> None:
    """Add a row for each of some samples."""
    for sample in samples:
        _add(
            sample.compound or BLANK,
            None if sample.level is None else float(sample.level),
            sample.glasses,
            sample.addition,
            sample.method,
            None if sample.asks == sample.compound else sample.asks,
        )


def _add_series(samples: tuple[WantedSample, ...]) -> str:
    """Add the steps of a series, and a blank for the other glasses of its sets if there is none.

    Returns:
        Why nothing was added; "" if it was.
    """
    state = st.session_state
    blanks = [row for row in state[ROWS] if state.get(row_key(row, "compound")) == BLANK]
    added = samples if blanks else (*samples, WantedSample(None, None, glasses=0))
    left = MOST_ROWS - len(state[ROWS])
    if len(added) > left:
        return (
            f"A plan has at most {MOST_ROWS} rows, and the series needs {len(added)} where {left} are "
            "left: choose fewer steps, or take rows out. Nothing was added."
        )
    add_samples(added)
    return ""


def _add(
    compound: str | None = None,
    level: float | None = None,
    glasses: int = 1,
    addition: str = "",
    method: str = NAMING,
    asks: str | None = None,
) -> None:
    state = st.session_state
    number = state["plan_next_row"] = state.get("plan_next_row", 0) + 1
    values = {
        "compound": compound, "level": level, "glasses": glasses, "addition": addition,
        "method": method, "asks": asks,
    }  # fmt: skip
    for name, value in values.items():
        state[row_key(number, name)] = value
    state[ROWS] = [*state.get(ROWS, []), number]


def _take_out(number: int) -> None:
    st.session_state[ROWS] = [row for row in st.session_state[ROWS] if row != number]


def _row(number: int, labels: dict[str, str], *, is_first: bool) -> None:
    shown = "visible" if is_first else "collapsed"
    is_blank = st.session_state.get(row_key(number, "compound")) == BLANK
    compound, level, poured, addition, question, out = st.columns(
        _WIDTHS, vertical_alignment="bottom", gap="xsmall"
    )
    compound.selectbox(
        "Compound", list(labels), format_func=labels.get, index=None,
        placeholder="First letters", label_visibility=shown,
        key=row_key(number, "compound"), **_KEPT,
    )  # fmt: skip
    level.number_input(
        "Level (×)", min_value=0.0, max_value=100.0, step=0.5, format="%g", value=None,
        disabled=is_blank, label_visibility=shown, key=row_key(number, "level"), **_KEPT,
    )  # fmt: skip
    times = _times(number, is_blank=is_blank)
    poured.segmented_control(
        "Poured", list(times), format_func=times.get, required=True, label_visibility=shown,
        key=row_key(number, "glasses"), **_KEPT,
    )  # fmt: skip
    addition.text_input(
        "What will be added", max_chars=120, label_visibility=shown,
        placeholder="from the bench" if typed("container") else None,
        key=row_key(number, "addition"), **_KEPT,
    )  # fmt: skip
    show_question(question, number, labels)
    out.button("Take out", key=row_key(number, "out"), on_click=_take_out, args=(number,))


def _times(number: int, *, is_blank: bool) -> dict[int, str]:
    """How often the jug of a row may be poured for each person, in words."""
    state = st.session_state
    method = method_of(number)
    if method in SETS:
        return _SET_TIMES
    has_sets = any(method_of(row) in SETS for row in state[ROWS])
    return _IN_SETS if is_blank and has_sets and method == NAMING else _TIMES


def _labels(choices: PlanChoices) -> dict[str, str]:
    plannable = [
        Choice(compound.key, compound.label)
        for compound in choices.compounds
        if compound.families and compound.serve != "no"
    ]
    return labels_told_apart([Choice(BLANK, "Blank"), *plannable])


def _wanted(number: int) -> WantedSample | None:
    compound, level, glasses, addition = (
        st.session_state.get(row_key(number, name))
        for name in ("compound", "level", "glasses", "addition")
    )
    if compound is None:
        return None
    is_blank = compound == BLANK
    return WantedSample(
        compound=None if is_blank else compound,
        level=None if is_blank or level is None else Decimal(f"{level:.10g}"),
        addition=(addition or "").strip(),
        glasses=1 if glasses is None else int(glasses),
        method=method_of(number),
        asks=asks_of(number),
    )
