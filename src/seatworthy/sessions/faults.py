"""Everything that stands in the way of a plan: what was found, what is expected, what to do."""

from collections.abc import Iterator

from seatworthy.sessions.asking import Asking
from seatworthy.sessions.care import care_faults
from seatworthy.sessions.codes import codes_fault
from seatworthy.sessions.day import day_faults
from seatworthy.sessions.pouring import pouring_faults
from seatworthy.sessions.seating import seating_faults


def faults(asking: Asking) -> tuple[str, ...]:
    """All that must be changed, a finished sentence each, in the order of the form."""
    found = dict.fromkeys(_all(asking))
    return tuple(found)


def _all(asking: Asking) -> Iterator[str]:
    yield from day_faults(asking)
    yield from seating_faults(asking)
    yield from pouring_faults(asking)
    yield from care_faults(asking)
    if asking.glasses <= asking.wish.limits.most_glasses:
        fault = codes_fault(_codes_needed(asking), asking.taken)
        if fault:
            yield fault


def _codes_needed(asking: Asking) -> int:
    served = sum(asking.kept_glasses(person) for person in asking.comers)
    return served + len(asking.wish.sittings) * max(0, asking.wish.spares) * asking.spare_glasses
