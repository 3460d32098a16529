"""Rising or falling? The middle slope of a series and Kendall's test, both without a bell curve."""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.stats import kendalltau, theilslopes

from seatworthy.stats.proportions import Interval

EXACT_UP_TO: Final = 60  # points; beyond, the normal approximation is as good and much quicker

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
    if when.size > EXACT_UP_TO:
        fit = theilslopes(value, when, confidence)
        return Slope(float(fit.slope), Interval(np.asarray(fit[2]), np.asarray(fit[3])))
    slopes = _slopes(when, value)
    tail = np.cumsum(_falling_pairs(when))
    outside = int(np.searchsorted(tail, (1 - confidence) / 2, side="right"))
    low, high = (slopes[outside - 1], slopes[-outside]) if outside else (-np.inf, np.inf)
    return Slope(float(np.median(slopes)), Interval(np.asarray(low), np.asarray(high)))


def kendall_trend(times: ArrayLike, values: ArrayLike) -> Trend:
    """Test whether values rise or fall with time, whatever the form of the rise.

    Args:
        times: Times in any order; shape (n,).
        values: Values; shape (n,). Points with a nan are left out.

    Returns:
        Score, tau and three chances: exact up to 60 points if not both times and values hold
        ties, else by the normal approximation with its correction for ties. All are nan with
        fewer than two different times.

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
    tau = float(kendalltau(when, value).statistic) if np.ptp(value) > 0 else float("nan")
    rising, falling = _chances(when, value, score)
    return Trend(score, tau, rising, falling, min(1.0, 2 * min(rising, falling)))


def _chances(when: Floats, value: Floats, score: float) -> tuple[float, float]:
    """Chances of at least and of at most this score."""
    tied = [row for row in (when, value) if np.unique(row).size < row.size]
    if when.size > EXACT_UP_TO or len(tied) == 2:
        rising, falling = (
            float(kendalltau(when, value, method="asymptotic", alternative=side).pvalue)
            for side in ("greater", "less")
        )
        return rising, falling
    falls = _falling_pairs(*(tied or [when]))
    number = round((falls.size - 1 - score) / 2)
    return float(falls[: number + 1].sum()), float(falls[number:].sum())


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
