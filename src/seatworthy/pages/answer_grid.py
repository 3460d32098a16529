"""The grid in which ballots are typed, as a component of its own script; see answer_grid.js.

The script tells the page every line that has no answer yet, again and again until it has one, and
the page tells back what became of each. So nothing is lost when somebody types faster than the
store writes, or when the server was away for a moment.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict
from importlib.resources import files
from typing import Any, Final

import streamlit as st
from streamlit.components.v2 import component

from seatworthy.steps.session_views import Entered, SheetRow, SheetView

Enter = Callable[
    [str, str, str, bool], Entered
]  # sheet key, code, said, whether own words are kept

_ROW_FIELDS: Final = ("position", "code", "state", "said", "read_as", "is_aside")
_MOST_REMEMBERED: Final = 200


def answer_grid(key: str, sheets: Sequence[SheetView], current: str) -> str:
    """Draw the grid.

    Args:
        key: Of the widget; one for each session.
        sheets: Every sheet of the session.
        current: Key of the sheet to show first.

    Returns:
        Key of the sheet that the reader is on.
    """
    told = st.session_state.get(_told_key(key), {"visit": "", "answers": {}})
    data = {
        "visit": told["visit"],
        "answers": {number: asdict(entered) for number, entered in told["answers"].items()},
        "current": current,
        "is_open": sheets[0].is_open,
        "words": [list(pair) for pair in sheets[0].words],
        "sheets": [_sheet(view) for view in sheets],
    }
    result = _grid()(
        key=key,
        data=data,
        default={"lines": None, "sheet": current},
        on_lines_change=_nothing,
        on_sheet_change=_nothing,
    )
    return str(result.get("sheet") or current)


def take_lines(key: str, enter: Enter) -> None:
    """Take in the lines that the grid has told since the last run; call it before drawing.

    Args:
        key: Of the widget.
        enter: Takes one line into the record and says what became of it.
    """
    told = (st.session_state.get(key) or {}).get("lines")
    if not isinstance(told, Mapping):
        return
    visit = str(told.get("visit", ""))
    kept = st.session_state.setdefault(_told_key(key), {"visit": visit, "answers": {}})
    if kept["visit"] != visit:
        kept = st.session_state[_told_key(key)] = {"visit": visit, "answers": {}}
    for line in told.get("lines", ()):
        number = str(line.get("number"))
        if number not in kept["answers"]:
            kept["answers"][number] = _entered(line, enter)
    for number in list(kept["answers"])[:-_MOST_REMEMBERED]:
        del kept["answers"][number]


def _entered(line: Mapping[str, Any], enter: Enter) -> Entered:
    """One line into the record; what is typed is text, whatever a browser may send."""
    sheet, code, said = (str(line.get(name, "")) for name in ("sheet", "code", "said"))
    return enter(sheet, code, said, line.get("keep") is True)


def _sheet(view: SheetView) -> dict[str, object]:
    return {
        "key": view.key,
        "name": view.name,
        "sitting": view.sitting,
        "rows": [_row(row) for row in view.rows],
    }


def _row(row: SheetRow) -> dict[str, object]:
    return {"id": row.serving_id} | {name: getattr(row, name) for name in _ROW_FIELDS}


def _told_key(key: str) -> str:
    return f"{key}_told"


def _nothing() -> None:
    """A change makes the page run again; that is all it takes."""


def _grid() -> Callable[..., Any]:
    folder = files(__package__)
    return component(
        "seatworthy_answers",
        html='<div class="entry"></div>',
        css=(folder / "answer_grid.css").read_text(encoding="utf-8"),
        js=(folder / "answer_grid.js").read_text(encoding="utf-8"),
    )
