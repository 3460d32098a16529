"""Rising or falling? The middle slope of a series and Kendall's test, both without a bell curve."""

from itertools import permutations
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import ndtr, ndtri

from seatworthy.stats.proportions import Interval

# Points up to which every order is counted; beyond, the normal approximation is near enough.
EXACT_UP_TO: Final = 60
EXACT_WITH_TIES_UP_TO: Final = 8  # where both times and values hold ties: 40,320 orders

Floats = NDArray[np.float64]


class Slope(NamedTuple):
    """Change of the value in one unit of time, and its interval."""

    per_time: float
    interval: Interval


class Trend(NamedTuple):
    """Kendall's comparison of all pairs of points.

    Attributes:
        score: S, pairs that rise less pairs that fall.
        tau: tau-b; nan if all values are equal.
        p_rising: Chance of so high a score if times and values had nothing to do with each other.
        p_falling: Chance of so low a score.
        p_either: Chance of a score so far from none on either side, at most 1.
    """

    score: float
    tau: float
    p_rising: float
    p_falling: float
    p_either: float


def middle_slope(times: ArrayLike, values: ArrayLike, confidence: float = 0.90) -> Slope:
    """Median of the slopes between any two points of different times.

    Args:
        times: Times in any order and unit; shape (n,).
        values: Values; shape (n,). Points with a nan are left out.
        confidence: Coverage of the interval, a fraction between 0 and 1.

    Returns:
        The slope and its interval, which covers at least as often as asked (exact up to 60
        points). An end is infinite where there are too few points to set one; all three are nan
        with fewer than two different times.

    Raises:
        ValueError: if the shapes differ, a number is infinite or `confidence` is no fraction.

    Source:
        Theil (1950), Proc. K. Ned. Akad. Wet. 53:386-392; Sen (1968), J. Am. Stat. Assoc.
        63:1379-1389; interval of Hollander, Wolfe & Chicken (2014), section 9.3.
    """
    if not 0 < confidence < 1:
        msg = f"Confidence is a fraction between 0 and 1, got {confidence}."
        raise ValueError(msg)
    when, value = _known_points(times, values)
    if np.unique(when).size < 2:
        unknown = np.asarray(np.nan)
        return Slope(float("nan"), Interval(unknown, unknown))
    slopes = _slopes(when, value)
    outside = _slopes_outside(when, (1 - confidence) / 2)
    low, high = (slopes[outside - 1], slopes[-outside]) if outside else (-np.inf, np.inf)
    return Slope(float(np.median(slopes)), Interval(np.asarray(low), np.asarray(high)))


def kendall_trend(times: ArrayLike, values: ArrayLike) -> Trend:
    """Test whether values rise or fall with time, whatever the form of the rise.

    Args:
        times: Times in any order; shape (n,).
        values: Values; shape (n,). Points with a nan are left out.

    Returns:
        Score, tau and three chances, exact up to 60 points (up to 8 where both times and values
        hold ties), else by the normal approximation with its corrections for ties and continuity.
        All are nan with fewer than two different times.

    Raises:
        ValueError: if the shapes differ or a number is infinite.

    Source:
        Kendall (1938), Biometrika 30:81-93; with ties in one row the counts are those of Terpstra
        (1952), Indag. Math. 14:327-333.
    """
    when, value = _known_points(times, values)
    if np.unique(when).size < 2:
        return Trend(*[float("nan")] * 5)
    rises = np.sign(np.subtract.outer(when, when)) * np.sign(np.subtract.outer(value, value))
    score = float(rises.sum() / 2)
    apart = np.prod([_pairs_apart(row) for row in (when, value)])
    tau = float(score / np.sqrt(apart)) if apart else float("nan")
    rising, falling = np.minimum(_chances(when, value, score), 1).tolist()
    return Trend(score, tau, rising, falling, min(1.0, 2 * min(rising, falling)))


def _chances(when: Floats, value: Floats, score: float) -> tuple[float, float]:
    """Chances of at least and of at most this score."""
    tied = [row for row in (when, value) if np.unique(row).size < row.size]
    if len(tied) == 2 and when.size <= EXACT_WITH_TIES_UP_TO:
        scores = _scores_of_all_orders(when, value)
        return np.mean(scores >= score), np.mean(scores <= score)
    if len(tied) == 2 or when.size > EXACT_UP_TO:
        sd = _score_sd(when, value)
        return (ndtr((1 - score) / sd), ndtr((1 + score) / sd)) if sd else (1.0, 1.0)
    falls = _falling_pairs(*(tied or [when]))
    number = round((falls.size - 1 - score) / 2)
    return falls[: number + 1].sum(), falls[number:].sum()


def _slopes_outside(when: Floats, tail: float) -> int:
    """How many slopes from either end lie outside the interval, their own one the limit."""
    if when.size > EXACT_UP_TO:
        half_sd = _score_sd(when, np.arange(when.size)) / 2
        return max(int(np.floor((_pairs_apart(when) + 1) / 2 + ndtri(tail) * half_sd)), 0)
    return int(np.searchsorted(np.cumsum(_falling_pairs(when)), tail, side="right"))


def _pairs_apart(row: Floats) -> int:
    """Pairs of different values."""
    sizes = np.unique(row, return_counts=True)[1]
    return int((row.size**2 - (sizes**2).sum()) // 2)


def _score_sd(when: Floats, value: Floats) -> float:
    """Standard deviation of the score over all orders, ties in either row allowed."""
    n = when.size
    ties = [np.unique(row, return_counts=True)[1].astype(np.float64) for row in (when, value)]
    whole, one, other = (
        (sizes * (sizes - 1) * (2 * sizes + 5)).sum() for sizes in (np.array([n]), *ties)
    )
    twos = np.prod([(sizes * (sizes - 1)).sum() for sizes in ties])
    threes = np.prod([(sizes * (sizes - 1) * (sizes - 2)).sum() for sizes in ties])
    variance = (whole - one - other) / 18 + twos / (2 * n * (n - 1))
    return float(np.sqrt(variance + threes / max(9 * n * (n - 1) * (n - 2), 1)))


def _scores_of_all_orders(when: Floats, value: Floats) -> Floats:
    orders = value[np.array(list(permutations(range(value.size))))]
    scores = np.zeros(len(orders))
    for one, other in zip(*np.triu_indices(when.size, 1), strict=True):
        scores += np.sign(when[other] - when[one]) * np.sign(orders[:, other] - orders[:, one])
    return scores


def _falling_pairs(row: Floats) -> Floats:
    """Chance of each number of falling pairs if the other row, without ties, is any order.

    Counted in whole numbers of any length: a point that joins n others, none of its own value,
    adds 0 to n falling pairs; equal points are told apart by nothing, so their order is divided
    out again.

    Args:
        row: Times or values, ties allowed; shape (n,).

    Returns:
        Chances of 0 to all pairs of different values; shape (pairs + 1,), sums to 1.
    """
    ways = np.ones(1, dtype=object)
    joined = 0
    for size in np.unique(row, return_counts=True)[1].tolist():
        for place in range(1, size + 1):
            ways = _widened(ways, joined, place)
        joined += size
    total = sum(ways)
    return np.array([count / total for count in ways])


def _widened(ways: NDArray[np.object_], joined: int, place: int) -> NDArray[np.object_]:
    """Multiply by (1 - q^(joined + place)) / (1 - q^place), ways being the powers of q."""
    longer = np.concatenate([ways, np.zeros(joined + place, dtype=object)])
    longer[joined + place :] -= ways
    for start in range(place):
        longer[start::place] = np.cumsum(longer[start::place])
    return longer[: ways.size + joined]


def _slopes(when: Floats, value: Floats) -> Floats:
    """Slopes of all pairs of different times, ascending."""
    one, other = np.triu_indices(when.size, 1)
    apart = when[other] != when[one]
    one, other = one[apart], other[apart]
    return np.sort((value[other] - value[one]) / (when[other] - when[one]))


def _known_points(times: ArrayLike, values: ArrayLike) -> tuple[Floats, Floats]:
    when, value = np.asarray(times, dtype=np.float64), np.asarray(values, dtype=np.float64)
    if when.ndim != 1 or when.shape != value.shape:
        msg = f"Two rows of equal length are needed, got shapes {when.shape} and {value.shape}."
        raise ValueError(msg)
    if np.any(np.isinf(when) | np.isinf(value)):
        msg = "Times and values must be finite, or nan if unknown."
        raise ValueError(msg)
    known = ~(np.isnan(when) | np.isnan(value))
    return when[known], value[known]
