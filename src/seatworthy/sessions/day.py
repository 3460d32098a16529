"""The day of a session, its name and purpose, and the times of its sittings."""

from collections.abc import Iterator
from datetime import timedelta
from typing import Final

from seatworthy.errors import PlanRefused
from seatworthy.sessions.asking import Asking
from seatworthy.sessions.times import start_of
from seatworthy.sessions.wish import PURPOSES, WantedSitting
from seatworthy.sessions.wording import at_start, day_words

# A plan further ahead is a slip of the year more often than a plan; ours, no source.
FURTHEST_DAYS: Final = 366


def day_faults(asking: Asking) -> Iterator[str]:
    """What is wrong with the day, the name, the purpose and the times."""
    wish = asking.wish
    latest = asking.today + timedelta(days=FURTHEST_DAYS)
    if wish.session_on < asking.today:
        yield (
            f"{day_words(wish.session_on)} is past: bring its results in as a file, or choose a day "
            "from today on."
        )
    if wish.session_on > latest:
        yield (
            f"{day_words(wish.session_on)} is more than a year ahead: choose a day up to "
            f"{day_words(latest)}."
        )
    if not asking.label_key(wish.label):
        yield "The session has no name: give it one, such as “Thursday panel”."
    if wish.purpose not in PURPOSES:
        yield (
            f"“{wish.purpose}” is not a purpose: choose {', '.join(PURPOSES[:-1])} or "
            f"{PURPOSES[-1]}."
        )
    for sitting in wish.sittings:
        yield from _time_faults(asking, sitting)


def _time_faults(asking: Asking, sitting: WantedSitting) -> Iterator[str]:
    starts_on = sitting.starts_at.date()
    if starts_on != asking.wish.session_on:
        yield (
            f"“{sitting.label}” starts on {day_words(starts_on)} and the session is on "
            f"{day_words(asking.wish.session_on)}: let it start that day, or plan a session of its "
            "own for it."
        )
    try:
        start_of(sitting.starts_at, asking.zone)
    except PlanRefused as refused:
        yield from refused.faults


def clock_notes(asking: Asking) -> Iterator[str]:
    """Which starts come twice, on the night the clocks go back."""
    for sitting in asking.wish.sittings:
        note = start_of(sitting.starts_at, asking.zone).note
        if note:
            yield at_start(note)
