"""How often a panel would find fault with a clean beer."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import factorial

import numpy as np

from seatworthy.decide.missing import RANGE, call_counts, fewer_than
from seatworthy.decide.noses import Floats, Noses


@dataclass(frozen=True)
class Range:
    """A chance with its range.

    Attributes:
        mean: Best guess.
        low: Lower end of the range that holds eight chances in ten; never over the mean.
        high: Upper end.
    """

    mean: float
    low: float
    high: float


@dataclass(frozen=True)
class CleanBeer:
    """What a panel would say of a beer with nothing wrong.

    Attributes:
        same: Chance that enough of them name the same compound.
        anything: Chance that enough of them call something, whatever it is.
    """

    same: Range
    anything: Range


def clean_beer(noses: Noses, callers: int) -> CleanBeer:
    """How often a panel calls a clean beer faulty.

    Args:
        noses: The panel alone, M people.
        callers: How many independent callers make a fault call.
    """
    others = max(noses.settings.names - len(noses.compounds), 1)
    rest = max(1 - float(noses.guessed.sum()), 0.0)
    shares = np.concatenate([noses.guessed, np.full(others, rest / others)])
    agreed = agreeing(shares, callers, len(noses.people))
    draws = noses.abilities.call_draws.T
    return CleanBeer(
        same=_range(agreed @ call_counts(noses.calls), agreed @ call_counts(draws)),
        anything=_range(1 - fewer_than(noses.calls, callers), 1 - fewer_than(draws, callers)),
    )


def agreeing(shares: Sequence[float] | Floats, callers: int, most: int) -> Floats:
    """Chance that so many of m people who call name the same, for m from 0 to `most`.

    Each draws a name with the same shares, on their own. Counted by the names that stay below: of m
    people the ways to spread over the names, fewer than `callers` on each, are the coefficient of
    t^m in a product of short exponential series.

    Args:
        shares: Share of each name, summing to 1.
        callers: How many must name the same.
        most: Largest m.
    """
    series = np.zeros(most + 1)
    series[0] = 1.0
    powers = np.arange(min(callers, most + 1))
    orders = np.array([factorial(int(j)) for j in powers], dtype=np.float64)
    for share in shares:
        series = np.convolve(series, share**powers / orders)[: most + 1]
    apart = series * np.array([factorial(m) for m in range(most + 1)], dtype=np.float64)
    return np.clip(1 - apart, 0, 1)


def _range(mean: Floats, draws: Floats) -> Range:
    low, high = np.quantile(draws, [(1 - RANGE) / 2, (1 + RANGE) / 2])
    best = float(mean)
    return Range(best, min(float(low), best), max(float(high), best))
