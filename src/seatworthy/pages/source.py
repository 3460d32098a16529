"""Where pages get their answers: one open store for the process, each answer made once a version.

An answer "for today" is kept for a quarter of an hour at most, since every time zone's midnight
falls on a quarter: no page shows yesterday's board in the morning.
"""

import time
from datetime import date
from typing import Final

import streamlit as st

from seatworthy.steps.boards import board
from seatworthy.steps.desk import Desk, open_desk, store_path
from seatworthy.steps.records import record
from seatworthy.steps.views import BoardView, RecordView

_QUARTER_HOUR: Final = 900


def the_desk() -> Desk:
    """The open store that every page of this process reads and writes."""
    return _the_desk(str(store_path()))


def board_view(family: str | None, as_of: date | None) -> BoardView:
    """The board of a beer family, the first one where None, for a day, today where None."""
    desk = _the_desk(str(store_path()))
    return _board(desk, desk.version, family, as_of, _quarter(as_of))


def record_view(person_id: str, family: str | None, as_of: date | None) -> RecordView | None:
    """One panellist's record; None where nobody has this id."""
    desk = _the_desk(str(store_path()))
    return _record(desk, desk.version, person_id, family, as_of, _quarter(as_of))


def _quarter(as_of: date | None) -> int:
    return int(time.time() // _QUARTER_HOUR) if as_of is None else 0


@st.cache_resource(show_spinner=False)
def _the_desk(path: str) -> Desk:
    return open_desk(path)


# The views are frozen, so readers may share one without a copy.
@st.cache_resource(max_entries=32, show_spinner="Counting glasses")
def _board(
    _desk: Desk, version: int, family: str | None, as_of: date | None, quarter: int
) -> BoardView:
    return board(_desk, family=family, as_of=as_of)


@st.cache_resource(max_entries=128, show_spinner="Counting glasses")
def _record(
    _desk: Desk,
    version: int,
    person_id: str,
    family: str | None,
    as_of: date | None,
    quarter: int,
) -> RecordView | None:
    return record(_desk, person_id, family=family, as_of=as_of)
