"""Days, times, amounts and counts as the papers say them."""

from collections.abc import Sequence
from datetime import date, datetime
from decimal import Decimal

from seatworthy.steps.paper_views import PaperSitting, PaperView
from seatworthy.steps.sentences import joined, number_word


def whole_day(day: date) -> str:
    """A day with everything, ``Thursday 26 November 2026``."""
    return f"{day:%A} {day.day} {day:%B} {day.year}"


def clock(moment: datetime) -> str:
    """``14:00``; "" for the first moment of the calendar, which says that no time is stated."""
    return "" if moment == datetime.min else f"{moment:%H:%M}"


def sitting_at(sitting: PaperSitting) -> str:
    """A sitting with its time, ``Early shift at 10:30``."""
    time = clock(sitting.starts_at)
    return f"{sitting.label} at {time}" if time else sitting.label


def millilitres(volume: Decimal) -> str:
    """A volume, ``360 ml``; ``1.08 l`` from a litre on."""
    return f"{float(volume):g} ml" if volume < 1000 else f"{float(volume) / 1000:g} l"


def counted(number: int, one: str, many: str) -> str:
    """``one glass``, ``nine glasses``, ``54 glasses``."""
    return f"{number_word(number)} {one if number == 1 else many}"


def letters(marks: Sequence[str]) -> str:
    """Letters of vessels in a row: A; A and C; A, C and D."""
    return joined(list(marks))


def of_brewery(brewery: str, *sentences: str) -> str:
    """A foot: the brewery's name if it is stated, then these sentences."""
    return " ".join([f"{brewery.rstrip('.')}." if brewery else "", *sentences]).strip()


def where_of(view: PaperView, sitting: PaperSitting) -> tuple[str, ...]:
    """The small line on top of a sitting's paper."""
    return whole_day(view.session_on), view.label, sitting_at(sitting)


def running_of(view: PaperView, sitting: PaperSitting) -> str:
    """The small line on top of the pages after the first."""
    return f"{whole_day(view.session_on)}, {view.label}, {sitting_at(sitting)}"
