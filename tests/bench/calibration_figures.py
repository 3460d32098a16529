"""Verdicts on estimates, and shares of cells with what chance adds to them."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from calibration_estimates import Estimates, Flags, Floats, Whole

from seatworthy.stats.proportions import Interval, exact_interval, jeffreys_interval

GOOD: Final = 0.70
POOR: Final = 0.60
MET_SURE: Final = 0.85
MET_GLASSES: Final = 4
MET_DAYS: Final = 2
NOT_MET_BELOW: Final = 0.05
NOT_MET_GLASSES: Final = 6
INTERVAL: Final = 0.90


@dataclass(frozen=True)
class Share:
    """A share of cells and its Monte Carlo standard error; nan where there are no cells."""

    value: float
    error: float

    def __str__(self) -> str:
        return "     -     " if np.isnan(self.value) else f"{self.value:.3f}±{self.error:.3f}"


@dataclass(frozen=True)
class Verdicts:
    """Which of N cells a rule calls met and not met; shape (N,) both."""

    met: Flags
    not_met: Flags


def share(is_so: Flags, panel: Whole) -> Share:
    """Share of cells of which something is true.

    Cells of one panel share samples and people. So the error is the root of the summed squares of
    each panel's excess over the share, divided by the number of cells.
    """
    if not is_so.size:
        return Share(np.nan, np.nan)
    value = float(np.mean(is_so))
    excess = np.bincount(panel, is_so - value)
    return Share(value, float(np.sqrt(np.sum(excess**2)) / is_so.size))


def covers(low: Floats, high: Floats, truth: Floats) -> Flags:
    """Where an interval, ends included, holds the truth; never where an end is unknown."""
    return (low <= truth) & (truth <= high)


def typical_error(found: Floats, truth: Floats) -> float:
    """Root mean square error; nan without cells."""
    return float(np.sqrt(np.mean((found - truth) ** 2))) if truth.size else np.nan


def by_model(cells: Estimates) -> Verdicts:
    """The default rulebook on own answers, as of one day."""
    return _if_enough(cells, cells.chance >= MET_SURE, cells.chance <= NOT_MET_BELOW)


def by_bare_rate(cells: Estimates) -> Verdicts:
    """The rate of the counted glasses against the limit, with as many glasses."""
    rate = cells.hits / np.maximum(cells.glasses, 1)
    return _if_enough(cells, rate >= GOOD, rate < GOOD)


def by_jeffreys(cells: Estimates) -> Verdicts:
    """Chances after Jeffreys on the counted glasses, with the model's limits."""
    return _by_limits(cells, jeffreys_interval)


def by_exact(cells: Estimates) -> Verdicts:
    """One-sided limits after Clopper and Pearson on the counted glasses, just as sure."""
    return _by_limits(cells, exact_interval)


def _by_limits(cells: Estimates, interval: Callable[..., Interval]) -> Verdicts:
    lower = interval(cells.hits, cells.glasses, 2 * MET_SURE - 1).low
    upper = interval(cells.hits, cells.glasses, 1 - 2 * NOT_MET_BELOW).high
    return _if_enough(cells, lower >= GOOD, upper <= GOOD)


def _if_enough(cells: Estimates, is_good: Flags, is_bad: Flags) -> Verdicts:
    enough = (cells.glasses >= MET_GLASSES) & (cells.days >= MET_DAYS)
    return Verdicts(is_good & enough, is_bad & (cells.glasses >= NOT_MET_GLASSES))
