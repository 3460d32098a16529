"""The short recheck that brings somebody back after a pause, a suspension or a long absence."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from seatworthy.rules.compound import day_text
from seatworthy.rules.rulebook import Rulebook
from seatworthy.rules.verdict import counted


@dataclass(frozen=True, slots=True)
class Recheck:
    """What was poured since a pause, a suspension or a long absence.

    Attributes:
        since: Only glasses after this day count.
        glasses: Counted glasses of the latest whole days that together hold enough of them.
        right: Of these, named right.
    """

    since: date
    glasses: int
    right: int


def latest_glasses(days: Mapping[date, tuple[int, int]], since: date, book: Rulebook) -> Recheck:
    """The latest whole days after one day that together hold the glasses of a recheck.

    Args:
        days: Counted glasses and those named right, by day.
        since: Days up to this one are left out.
        book: Its recheck says how many glasses; without one no glass is needed.
    """
    asked = book.recheck.glasses if book.recheck else 0
    glasses = right = 0
    for day in sorted((day for day in days if day > since), reverse=True):
        if glasses >= asked:
            break
        glasses += days[day][0]
        right += days[day][1]
    return Recheck(since, glasses, right)


def is_passed(recheck: Recheck | None, book: Rulebook) -> bool:
    """Whether a recheck is passed: enough glasses, and of them at least the share asked for.

    A day's last session may pour more glasses than asked for; then the share decides.
    """
    rule = book.recheck
    if recheck is None or rule is None:
        return True
    enough = recheck.glasses >= rule.glasses
    return enough and recheck.right * rule.glasses >= rule.right * recheck.glasses


def recheck_asked(book: Rulebook) -> str:
    """The way back, as a sentence; "" where the rulebook asks for no recheck."""
    rule = book.recheck
    if rule is None:
        return ""
    glasses = f"{rule.right} of {counted(rule.glasses, 'glass')} poured since"
    return f"Back when the seat rule is met and {glasses} are named right."


def recheck_open(recheck: Recheck | None, book: Rulebook) -> str:
    """What was poured of a recheck that is not passed yet; "" where none is needed."""
    rule = book.recheck
    if recheck is None or rule is None:
        return ""
    done = (
        f"{recheck.right} of {counted(recheck.glasses, 'counted glass')} named right"
        if recheck.glasses
        else "no counted glass"
    )
    return (
        f"The short recheck is open: {done} since {day_text(recheck.since)}; "
        f"{rule.right} of {rule.glasses} are asked for."
    )


def recheck_passed(recheck: Recheck | None, book: Rulebook) -> str:
    """What was poured of a recheck that is passed; "" where none was needed."""
    rule = book.recheck
    if recheck is None or rule is None:
        return ""
    return (
        f"Recheck since {day_text(recheck.since)} passed: {recheck.right} of "
        f"{counted(recheck.glasses, 'glass')} named right; {rule.right} of {rule.glasses} are "
        "asked for."
    )
