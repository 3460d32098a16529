"""Lets one brewery live through 18 months of one truth, and counts what became of it."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Final, Protocol

import numpy as np
from two_breweries_rotation import Release, Tasting
from two_breweries_truth import Flags, Pour, Truth, Whole

from seatworthy.stats.ability.glasses import NOTHING
from seatworthy.stats.ability.one_thread import one_thread

FOUR: Final = 4  # right seats
HEARD_AFTER: Final = 8  # weeks until laboratory and market have told what a tank had; assumed

Diary = Callable[[int], bool]  # whether there is a session in a week


class Brewery(Protocol):
    """What a brewery does from week to week."""

    def pour(self, week: int, day: int, glasses: int = ...) -> Pour:
        """What a session pours."""

    def take_in(self, week: int, day: int, pour: Pour, said: Whole, is_here: Flags) -> None:
        """Learn what was said."""

    def seat(self, week: int, day: int) -> Flags:
        """Who holds a seat; shape (P,)."""

    def panel(self, seated: Flags, is_here: Flags) -> Whole:
        """Who tastes today's tanks."""

    def release(self, panel: Whole, taste: Tasting) -> Release:
        """What becomes of a tank."""

    def hear(self, tanks: Whole) -> None:
        """Learn what some earlier tanks had, place by place, `NOTHING` if nothing."""


@dataclass
class Outcome:
    """What became of 18 months; weeks are weeks of persons.

    Attributes:
        seated: Weeks somebody held a seat.
        wrong: Of these, weeks in which they did not deserve it.
        clearly_wrong: Of these, weeks in which they were clearly below.
        missing: Weeks somebody deserved a seat and held none.
        wrong_at_end: People who held a seat in the last week and did not deserve it.
        missing_at_end: People who deserved one then and held none.
        faulty: Tanks with a fault.
        released: Of these, tanks that were let go.
        good: Clean tanks.
        held: Of these, tanks that were held.
        glasses: Glasses poured in sessions.
        tank_glasses: Glasses poured of tanks.
        until_four: Glasses of sessions poured until four right seats stood; nan if never.
        until_clean: The same with no wrong seat beside them.
        weighed: Chance of a fault after the first pour and whether there was one, tank by tank.
        weighed_last: The same after the last pour.
    """

    seated: int = 0
    wrong: int = 0
    clearly_wrong: int = 0
    missing: int = 0
    wrong_at_end: int = 0
    missing_at_end: int = 0
    faulty: int = 0
    released: int = 0
    good: int = 0
    held: int = 0
    glasses: int = 0
    tank_glasses: int = 0
    until_four: float = float("nan")
    until_clean: float = float("nan")
    weighed: list[tuple[float, bool]] = field(default_factory=list)
    weighed_last: list[tuple[float, bool]] = field(default_factory=list)


def live(truth: Truth, brewery: Brewery, has_session: Diary = lambda _: True) -> Outcome:
    """Live through all weeks."""
    with one_thread():
        return _live(truth, brewery, has_session)


def _live(truth: Truth, brewery: Brewery, has_session: Diary) -> Outcome:
    found = Outcome()
    for week, day in enumerate(truth.day):
        is_here = truth.is_here[week]
        if week >= HEARD_AFTER:
            brewery.hear(truth.tank[week - HEARD_AFTER])
        if has_session(week):
            pour = brewery.pour(week, int(day))
            brewery.take_in(week, int(day), pour, truth.answer(week, pour), is_here)
            found.glasses += int(is_here.sum()) * pour.compound.size
        seated = brewery.seat(week, int(day))
        _count_seats(found, truth, week, seated)
        for tank in range(truth.tank.shape[1]):
            panel = brewery.panel(seated, is_here)
            _count_tank(found, truth, brewery, panel, week, tank)
    return found


def _count_seats(found: Outcome, truth: Truth, week: int, seated: Flags) -> None:
    deserves = truth.deserves[week]
    found.seated += int(seated.sum())
    found.wrong += (wrong := int((seated & ~deserves).sum()))
    found.clearly_wrong += int((seated & ~deserves & truth.is_clearly_wrong[week]).sum())
    found.missing += (missing := int((deserves & ~seated).sum()))
    found.wrong_at_end, found.missing_at_end = wrong, missing
    if (seated & deserves).sum() >= FOUR:
        found.until_four = np.fmin(found.until_four, found.glasses)
        found.until_clean = np.fmin(found.until_clean, np.nan if wrong else found.glasses)


def _count_tank(
    found: Outcome, truth: Truth, brewery: Brewery, panel: Whole, week: int, tank: int
) -> None:
    is_faulty = bool(truth.tank[week, tank] != NOTHING)
    release = brewery.release(panel, lambda pour: truth.taste(week, tank, pour))
    found.faulty += is_faulty
    found.good += not is_faulty
    found.released += is_faulty and not release.is_held
    found.held += release.is_held and not is_faulty
    found.tank_glasses += release.pours * panel.size
    if not np.isnan(release.chance):
        found.weighed.append((release.chance, is_faulty))
        found.weighed_last.append((release.chance_last, is_faulty))
