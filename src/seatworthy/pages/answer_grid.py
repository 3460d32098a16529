"""The table for entering answers: what the browser is told, and what it sends.

Every line is stored by itself. The browser sends a parcel of lines, keeps them until the record has
spoken, and sends them again if it hears nothing; `steps.answers` takes the same answer twice as one.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict
from functools import cache
from importlib.resources import files
from typing import Any, Final

import streamlit as st
from streamlit.components.v2.types import ComponentRenderer

from seatworthy.errors import PanelError
from seatworthy.pages import source
from seatworthy.pages.addresses import answers_address
from seatworthy.steps import answers as answer_steps
from seatworthy.steps.desk import Desk
from seatworthy.steps.sheet_views import Entered, SheetRow, SheetTab, SheetView

# In the order in which they use one another; the browser gets them as one module.
_SCRIPTS: Final = ("words", "outbox", "row", "book", "sheets", "grid")
_DONE: Final = "answers_done"

_Said = Mapping[str, Any]


def show_grid(view: SheetView, every: Sequence[SheetView]) -> None:
    """The table with its list of sheets; a parcel is taken in before the page is drawn anew.

    Args:
        view: The sheet to show.
        every: All sheets of the session, so that going on to the next needs no waiting.
    """
    key = f"answer_grid_{view.session_id}"
    _grid()(key=key, data=_told(view, every), on_sent_change=lambda: take_in(view.session_id, key))


def _told(view: SheetView, every: Sequence[SheetView]) -> dict[str, Any]:
    done = st.session_state.get(_DONE, {})
    return {
        "session": view.session_id,
        "key": view.key,
        "isOpen": view.is_open,
        "isRelease": view.is_release,
        "tabs": [_tab(view.session_id, tab) for tab in view.sheets],
        "sheets": [_sheet(sheet) for sheet in every],
        "words": [list(pair) for pair in view.words],
        "done": done if done.get("session") == view.session_id else {},
    }


def take_in(session_id: str, key: str) -> None:
    """Take a parcel of lines into the record, and follow to the sheet that the browser shows now."""
    parcel = st.session_state[key].sent
    if parcel is None:
        return
    desk = source.the_desk()
    entered = [_enter(desk, session_id, line) for line in parcel["lines"]]
    st.session_state[_DONE] = {
        "session": session_id,
        "number": parcel["number"],
        "entered": entered,
    }
    if parcel["open"]:
        st.query_params["sheet"] = parcel["open"]


def _enter(desk: Desk, session_id: str, line: _Said) -> dict[str, Any]:
    said = str(line["said"])
    try:
        entered = answer_steps.enter_answer(
            desk, session_id, line["sheet"], line["code"], said, keep_own_words=bool(line["keep"])
        )
    except PanelError as error:
        entered = Entered("refused", line["code"], said, "", str(error))
    return {"id": line["id"], **asdict(entered)}


def _tab(session_id: str, tab: SheetTab) -> dict[str, Any]:
    return {
        "key": tab.key,
        "name": tab.name,
        "sitting": tab.sitting,
        "glasses": tab.glasses,
        "answered": tab.answered,
        "href": answers_address(session_id, tab.key),
    }


def _sheet(view: SheetView) -> dict[str, Any]:
    return {"key": view.key, "name": view.name, "rows": _rows(view.rows)}


def _rows(rows: Iterable[SheetRow]) -> list[dict[str, Any]]:
    return [
        {
            "id": row.serving_id,
            "position": row.position,
            "code": row.code,
            "state": row.state,
            "said": row.said,
            "readAs": row.read_as,
            "isAside": row.is_aside,
            **({"codes": list(row.codes)} if row.codes else {}),
            **({"method": row.method, "asks": row.asks} if row.asks else {}),
            **({"isByPhone": True} if row.is_by_phone else {}),
        }
        for row in rows
    ]


@cache
def _grid() -> ComponentRenderer:
    scripts = "\n".join(_text(f"answer_{name}.js") for name in _SCRIPTS)
    return st.components.v2.component(
        "seatworthy_answer_grid", css=_text("answer_grid.css"), js=scripts
    )


def _text(name: str) -> str:
    return (files(__package__) / name).read_text(encoding="utf-8")
