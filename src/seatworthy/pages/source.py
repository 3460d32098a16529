"""Where pages get their answers: one open store for the process, each answer made once and kept.

It is kept until something is recorded that counts. An answer "for today" is kept for a quarter of an
hour at most, since every time zone's midnight falls on a quarter: no page shows yesterday's board in
the morning.
"""

import time
from datetime import date, datetime
from typing import Final

import streamlit as st

from seatworthy.pages.addresses import asked_as_recorded
from seatworthy.steps import last_copy, retention
from seatworthy.steps.alarms import alarms
from seatworthy.steps.boards import board
from seatworthy.steps.closer import closer_look
from seatworthy.steps.closer_views import CloserView
from seatworthy.steps.desk import Desk, held_desk, store_path
from seatworthy.steps.doubtful import DoubtfulJugs, doubtful_jugs
from seatworthy.steps.figures_views import PersonFigures
from seatworthy.steps.judging import judge_day
from seatworthy.steps.month_views import MonthsView
from seatworthy.steps.months import months_view as months_view_of
from seatworthy.steps.person_figures import person_figures
from seatworthy.steps.records import record
from seatworthy.steps.seats_page import SeatsView, seats_view
from seatworthy.steps.two_questions import recorded_words
from seatworthy.steps.views import BoardView, RecordView

_QUARTER_HOUR: Final = 900


def the_desk() -> Desk:
    """The open store that every page of this process reads and writes."""
    return _the_desk(str(store_path()))


def board_view(family: str | None, as_of: date | None) -> BoardView:
    """The board of a beer family, the first one where None, for a day, today where None."""
    desk = _the_desk(str(store_path()))
    return _board(desk, desk.counted_version, family, as_of, known_at(desk, as_of), _quarter(as_of))


def record_view(person_id: str, family: str | None, as_of: date | None) -> RecordView | None:
    """One panellist's record; None where nobody has this id."""
    desk = _the_desk(str(store_path()))
    return _record(
        desk, desk.counted_version, person_id, family, as_of, known_at(desk, as_of), _quarter(as_of)
    )


def closer_view(
    person_id: str, compound: str, family: str, as_of: date | None
) -> CloserView | None:
    """One compound of a record from near; None without a glass whose level is known."""
    desk = _the_desk(str(store_path()))
    return _closer(
        desk,
        desk.counted_version,
        person_id,
        compound,
        family,
        as_of,
        known_at(desk, as_of),
        _quarter(as_of),
    )


def figures_of(person_id: str, as_of: date | None) -> PersonFigures | None:
    """One panellist over all compounds; None where nobody has this id."""
    desk = _the_desk(str(store_path()))
    return _figures(
        desk, desk.counted_version, person_id, as_of, known_at(desk, as_of), _quarter(as_of)
    )


def alarm_sentences(as_of: date | None) -> tuple[str, ...]:
    """What to tell the leader of people who seem to have lost sensitivity."""
    desk = _the_desk(str(store_path()))
    return _alarms(desk, desk.counted_version, as_of, known_at(desk, as_of), _quarter(as_of))


def seats(as_of: date | None) -> SeatsView:
    """All seats of the brewery on a day, today where None."""
    desk = the_desk()
    return _seats(desk, desk.counted_version, as_of, known_at(desk, as_of), _quarter(as_of))


def months_view(family: str | None, as_of: date | None) -> MonthsView:
    """The panel over the twelve months up to a day, today where None."""
    desk = the_desk()
    return _months(
        desk, desk.counted_version, family, as_of, known_at(desk, as_of), _quarter(as_of)
    )


def doubtful() -> DoubtfulJugs:
    """Jugs of the last months whose answers speak against them."""
    desk = _the_desk(str(store_path()))
    return _doubtful(desk, desk.counted_version, _quarter(None))


def copy_reminder() -> str | None:
    """A quiet word where the newest copy of the record is old; None where it needs none."""
    return last_copy.reminder(the_desk())


def retention_reminder() -> str:
    """A quiet word where somebody is past the time for which people are kept; "" where nobody is."""
    return retention.reminder(the_desk())


def record_words(as_of: date) -> str:
    """Which of the two questions about a past day the page answers."""
    desk = _the_desk(str(store_path()))
    return recorded_words(desk, as_of, known_at(desk, as_of))


def known_at(desk: Desk, as_of: date | None) -> datetime | None:
    """The moment up to which the address asks to read the record (UTC); None for all of it."""
    return desk.end_of(as_of) if as_of is not None and asked_as_recorded() else None


def _quarter(as_of: date | None) -> int:
    return int(time.time() // _QUARTER_HOUR) if as_of is None else 0


def _the_desk(path: str) -> Desk:
    return held_desk(path)


# The views are frozen, so readers may share one without a copy.
@st.cache_resource(max_entries=32, show_spinner="Counting glasses")
def _board(
    _desk: Desk,
    version: int,
    family: str | None,
    as_of: date | None,
    known: datetime | None,
    quarter: int,
) -> BoardView:
    return board(_desk, family=family, as_of=as_of, known_at=known)


@st.cache_resource(max_entries=128, show_spinner="Counting glasses")
def _record(
    _desk: Desk,
    version: int,
    person_id: str,
    family: str | None,
    as_of: date | None,
    known: datetime | None,
    quarter: int,
) -> RecordView | None:
    return record(_desk, person_id, family=family, as_of=as_of, known_at=known)


@st.cache_resource(max_entries=64, show_spinner="Weighing glasses")
def _closer(
    _desk: Desk,
    version: int,
    person_id: str,
    compound: str,
    family: str,
    as_of: date | None,
    known: datetime | None,
    quarter: int,
) -> CloserView | None:
    return closer_look(_desk, person_id, compound, family, as_of=as_of, known_at=known)


@st.cache_resource(max_entries=64, show_spinner="Counting days")
def _figures(
    _desk: Desk,
    version: int,
    person_id: str,
    as_of: date | None,
    known: datetime | None,
    quarter: int,
) -> PersonFigures | None:
    return person_figures(_desk, person_id, as_of, known)


@st.cache_resource(max_entries=16, show_spinner="Looking whether somebody misses more than before")
def _alarms(
    _desk: Desk, version: int, as_of: date | None, known: datetime | None, quarter: int
) -> tuple[str, ...]:
    return tuple(alarm.sentence for alarm in alarms(_desk, judge_day(_desk, as_of, known)))


@st.cache_resource(max_entries=16, show_spinner="Looking at every seat")
def _seats(
    _desk: Desk, version: int, as_of: date | None, known: datetime | None, quarter: int
) -> SeatsView:
    return seats_view(_desk, as_of, known)


@st.cache_resource(max_entries=16, show_spinner="Looking back over the months")
def _months(
    _desk: Desk,
    version: int,
    family: str | None,
    as_of: date | None,
    known: datetime | None,
    quarter: int,
) -> MonthsView:
    return months_view_of(_desk, family, as_of, known)


@st.cache_resource(max_entries=2, show_spinner="Looking at every jug of the last months")
def _doubtful(_desk: Desk, version: int, quarter: int) -> DoubtfulJugs:
    return doubtful_jugs(_desk)
