"""The year in which odds are reckoned: when glasses are poured, and who drinks them."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.rules.calendar_months import months_before
from seatworthy.rules.compound_rules import NAMING
from seatworthy.rules.rulebook import Asked
from seatworthy.rules.verdict import Standing
from seatworthy.stats.ability.settings import DEFAULT
from seatworthy.stats.ability.simulated_looks import MOST_LISTED, Runs, all_runs, drawn_runs
from seatworthy.stats.guessing import guess_rate
from seatworthy.stats.looks import Odds, running_count

DAYS: Final = 365
MONTHS: Final = 12
_EVE: Final = date(2026, 1, 1)  # any day: the year is the 365 days after it
DRAWN: Final = 2000  # years, where they are reckoned all at once

POOR, GOOD = 0.60, 0.85  # true rates for which the odds of a seat are reckoned

Floats = NDArray[np.float64]
Says = Callable[[range, int], Standing]  # of these glasses, of which so many are right


@dataclass(frozen=True)
class Kind:
    """A kind of person and the figure by which it is meant."""

    who: str
    truth: float


@dataclass(frozen=True)
class Found:
    """Odds of some kinds of people.

    Attributes:
        kinds: Those of the table, then any that only the seat asks for.
        odds: Shaped like `kinds`.
        how: How they were found.
        assumed: What was taken for granted.
        for_seat: Places of somebody who guesses, of a true 60 % and of a true 85 %.
        shown: How many of the kinds are in the table.
        poor: Place of somebody who should not meet the rule.
        good: Place of somebody who should.
        sentence: What it comes to, where it is not a matter of these two.
    """

    kinds: tuple[Kind, ...]
    odds: Odds
    how: str
    assumed: str
    for_seat: tuple[int, int, int] = (0, 0, 0)
    shown: int = 5
    poor: int = 0
    good: int = 3
    sentence: str = ""


def found_at_rates(
    kinds: tuple[Kind, ...], odds: Odds, how: str, assumed: str, sentence: str = ""
) -> Found:
    """Odds of kinds of people from `naming_kinds`."""
    at = {kind.truth: place for place, kind in enumerate(kinds)}
    places = (0, at[POOR], at[GOOD])
    shown = len(kinds) - (at[POOR] == len(kinds) - 1)
    return Found(kinds, odds, how, assumed, places, shown, good=at[GOOD], sentence=sentence)


def naming_kinds(asked: Asked, method: str = NAMING) -> tuple[Kind, ...]:
    """Who guesses, who is right 50, 70 (the rate asked), 85 and 95 in 100; last, not shown, 60."""
    right = "name {:g} in 100{}" if method == NAMING else "get {:g} in 100 right{}"
    shown = sorted({0.50, asked.named_right, GOOD, 0.95})
    hidden = [] if POOR in shown else [POOR]
    kinds = [
        Kind(
            right.format(100 * rate, " (the rate asked)" if rate == asked.named_right else ""), rate
        )
        for rate in (*shown, *hidden)
    ]
    return (Kind("guess", by_guessing(method)), *kinds)


def by_guessing(method: str) -> float:
    """Rate of right answers by guessing alone; a name is one of so many on the ballot."""
    return 1 / DEFAULT.names if method == NAMING else guess_rate(method)


def days_poured(number: int, sessions: int) -> tuple[date, ...]:
    """Days of so many glasses, spread evenly over the sessions, one a session as far as they go.

    The last one is poured in the last session, on the last day of the year.
    """
    used = min(number, sessions)
    if not used:
        return ()
    session = [-(-(place + 1) * sessions // used) for place in range(used)]
    days = [_EVE + timedelta(days=-(-DAYS * one // sessions)) for one in session]
    return tuple(days[glass * used // number] for glass in range(number))


def window_starts(
    days: Sequence[date], months: int, last_sessions: int | None = None
) -> NDArray[np.intp]:
    """How many glasses lie before the window that ends on each distinct day.

    Args:
        days: Day of each glass.
        months: Length of the window.
        last_sessions: Only so many of the latest distinct days count; None for all.
    """
    looks, starts = looks_of(days), []
    for place, day in enumerate(looks):
        first = looks[max(place + 1 - (last_sessions or place + 1), 0)]
        out = months_before(day, months)
        starts.append(sum(one <= out or one < first for one in days))
    return np.array(starts, dtype=np.intp)


def glasses_so_far(days: Sequence[date]) -> NDArray[np.intp]:
    """Glasses up to each distinct day, that day's included."""
    return np.array([sum(one <= day for one in days) for day in looks_of(days)], dtype=np.intp)


def looks_of(days: Sequence[date]) -> tuple[date, ...]:
    """The distinct days, in order: a rule is looked at after each."""
    return tuple(sorted(set(days)))


def odds_of_counts(
    rates: Floats,
    days: Sequence[date],
    months: int,
    says: Says,
    last_sessions: int | None = None,
) -> tuple[Odds, str]:
    """Odds of a rule that looks at the number right among all glasses of its window.

    Args:
        rates: Chance that one is right; shape (R,).
        days: Day of each.
        months: Length of the window.
        says: The rule; more right of the same glasses must never be worse.
        last_sessions: Only so many of the latest distinct days count; None for all.

    Returns:
        The odds, and how they were found.
    """
    so_far, before = glasses_so_far(days), window_starts(days, months, last_sessions)
    met_from, not_met_to = _limits(before, so_far, says)
    if not before.any():
        return running_count(rates, so_far, met_from, not_met_to), "exact"
    runs, how = years_of(rates, len(days), DRAWN)
    seen = sum_in_window(runs.right, so_far, before)
    return weighed(runs, seen >= met_from, seen <= not_met_to), how


def years_of(rates: Floats, glasses: int, drawn: int) -> tuple[Runs, str]:
    """Every row of answers there can be if there are few glasses, else so many drawn ones."""
    if glasses <= MOST_LISTED:
        return all_runs(rates, glasses), "exact: every row of answers there can be"
    return drawn_runs(rates, glasses, drawn), how_drawn(drawn)


def weighed(runs: Runs, met: NDArray[np.bool_], not_met: NDArray[np.bool_]) -> Odds:
    """Odds from where each row of answers stands at each look; shape (N, L) both."""
    if not met.shape[1]:
        return Odds(*np.zeros((4, len(runs.weight))))
    facts = (met[:, -1], met.any(axis=1), not_met[:, -1], not_met.any(axis=1))
    return Odds(*(runs.weight @ fact for fact in facts))


def sum_in_window(
    values: Floats | NDArray[np.bool_], so_far: NDArray[np.intp], before: NDArray[np.intp]
) -> Floats:
    """Sum over the window at each look.

    Args:
        values: One a glass; shape (..., n).
        so_far: From `glasses_so_far`; shape (L,).
        before: From `window_starts`; shape (L,).

    Returns:
        Shape (..., L).
    """
    total = np.concatenate([np.zeros((*values.shape[:-1], 1)), values.cumsum(axis=-1)], axis=-1)
    return total[..., so_far] - total[..., before]


def odds_of_looks(met: NDArray[np.bool_], not_met: NDArray[np.bool_]) -> Odds:
    """Share of years that are met, and not met, at the end and ever.

    Args:
        met: At each look; shape (R, years, L). Without a look nothing is ever said.
        not_met: Likewise.
    """
    if not met.shape[2]:
        return Odds(*np.zeros((4, len(met))))
    return Odds(
        met[:, :, -1].mean(axis=1),
        met.any(axis=2).mean(axis=1),
        not_met[:, :, -1].mean(axis=1),
        not_met.any(axis=2).mean(axis=1),
    )


def how_drawn(runs: int) -> str:
    """How simulated chances were found."""
    return f"simulated, {runs:,} years for each kind of person"


def _limits(
    before: NDArray[np.intp], so_far: NDArray[np.intp], says: Says
) -> tuple[Floats, Floats]:
    """Least right for met and most right for not met, by look; inf and -inf for never."""
    met_from, not_met_to = [], []
    for start, end in zip(before.tolist(), so_far.tolist(), strict=True):
        seen, of = range(start, end), end - start
        least = _first(of, lambda right, seen=seen: says(seen, right) is Standing.MET)
        above = _first(of, lambda right, seen=seen: says(seen, right) is not Standing.NOT_MET)
        met_from.append(least if least <= of else np.inf)
        not_met_to.append(above - 1 if above else -np.inf)
    return np.array(met_from), np.array(not_met_to)


def _first(of: int, holds: Callable[[int], bool]) -> int:
    """Least right from 0 to `of` from which on it holds; one more than `of` if it never does."""
    low, high = 0, of + 1
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if holds(middle) else (middle + 1, high)
    return low
