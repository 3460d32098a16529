"""The table of samples: what is poured, how strong, how often, and what is added for it."""

from decimal import Decimal
from typing import Any, Final

import pyarrow as pa
import streamlit as st

from seatworthy.pages.frame import paper
from seatworthy.pages.markup import escaped, tag
from seatworthy.pages.plan_draft import EDITOR, SAMPLES, SAMPLES_NOW
from seatworthy.pages.told_apart import labels_told_apart
from seatworthy.sessions.wish import WantedSample
from seatworthy.steps.session_views import PlanChoices
from seatworthy.steps.views import Choice

BLANK: Final = "(blank)"
_TIMES: Final = {1: "once", 2: "twice"}
_COLUMNS: Final = pa.schema(
    [
        ("compound", pa.string()),
        ("level", pa.float64()),
        ("glasses", pa.int64()),
        ("addition", pa.string()),
    ]
)
_NOTE: Final = (
    "One row a jug. Levels are multiples of the working threshold, with what the beer holds already. "
    "A blank keeps everybody honest; twice makes a hidden pair."
)


def edit_samples(choices: PlanChoices) -> tuple[WantedSample, ...]:
    """Show the table and read it; rows without a compound are still being written."""
    labels = _labels(choices)
    st.html(paper(tag("h2", "What is poured"), tag("p", escaped(_NOTE), class_="note")))
    edited = st.data_editor(
        _table(st.session_state[SAMPLES]),
        num_rows="dynamic",
        hide_index=True,
        width="stretch",
        row_height=40,
        placeholder="",
        column_config=_columns(labels),
        key=EDITOR,
        alt="Samples: compound, level, how often, what is added",
    )
    wanted = tuple(_wanted(row) for row in edited.to_pylist() if row["compound"])
    st.session_state[SAMPLES_NOW] = wanted
    return wanted


def _labels(choices: PlanChoices) -> dict[str, str]:
    plannable = [
        Choice(compound.key, compound.label)
        for compound in choices.compounds
        if compound.families and compound.serve != "no"
    ]
    return labels_told_apart([Choice(BLANK, "nothing added (blank)"), *plannable])


def _columns(labels: dict[str, str]) -> dict[str, Any]:
    columns = st.column_config
    return {
        "compound": columns.SelectboxColumn(
            "Compound",
            options=list(labels),
            format_func=lambda key: labels.get(key, key),
            width=170,
        ),
        "level": columns.NumberColumn(
            "Level (×)", min_value=0.0, max_value=100.0, step=0.1, format="%g", width=80
        ),
        "glasses": columns.SelectboxColumn(
            "Poured", options=list(_TIMES), format_func=_TIMES.get, default=1, width=80
        ),
        "addition": columns.TextColumn("What will be added", max_chars=120, width=240),
    }


def _table(samples: tuple[WantedSample, ...]) -> pa.Table:
    rows = [
        {
            "compound": sample.compound or BLANK,
            "level": None if sample.level is None else float(sample.level),
            "glasses": sample.glasses,
            "addition": sample.addition,
        }
        for sample in samples
    ]
    return pa.Table.from_pylist(rows, schema=_COLUMNS)


def _wanted(row: dict[str, Any]) -> WantedSample:
    is_blank = row["compound"] == BLANK
    level = row["level"]
    return WantedSample(
        compound=None if is_blank else row["compound"],
        level=None if is_blank or level is None else Decimal(str(level)),
        addition=(row["addition"] or "").strip(),
        glasses=int(row["glasses"] or 1),
    )
