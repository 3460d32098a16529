"""Intervals for a proportion, for the plain figures beside the model."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import betaincinv, ndtri

Floats = NDArray[np.float64]


class Interval(NamedTuple):
    """Two limits, as numbers or as arrays of one shape."""

    low: Floats
    high: Floats


def wilson_interval(hits: ArrayLike, trials: ArrayLike, confidence: float = 0.95) -> Interval:
    """Score interval: sensible for few trials and for none or all right.

    Args:
        hits: Right answers, whole numbers, 0 <= hits <= trials; any shape.
        trials: Answers given; same shape or one number.
        confidence: Two-sided coverage, a fraction between 0 and 1.

    Returns:
        Limits between 0 and 1, shaped like `hits`; nan where `trials` is 0, since nothing is
        known then.

    Raises:
        ValueError: if a count is negative, `hits` exceeds `trials` or `confidence` is no fraction.

    Source:
        Wilson (1927), J. Am. Stat. Assoc. 22:209-212; method 3 of Newcombe (1998), Stat. Med.
        17:857-872.
    """
    right, number = _checked(hits, trials, confidence)
    z = ndtri((1 + confidence) / 2)
    rate = right / number
    middle = rate + z**2 / (2 * number)
    half = z * np.sqrt(rate * (1 - rate) / number + (z / (2 * number)) ** 2)
    widened = 1 + z**2 / number
    low, high = (middle - half) / widened, (middle + half) / widened
    return Interval(
        np.where(right == 0, 0 * low, low), np.where(right == number, 1 + 0 * high, high)
    )


def jeffreys_interval(hits: ArrayLike, trials: ArrayLike, confidence: float = 0.95) -> Interval:
    """Equal-tailed interval of Beta(hits + .5, misses + .5), closed at 0 and 1 for none and all.

    Arguments, return value and errors as for `wilson_interval`.

    Source:
        Brown, Cai & DasGupta (2001), Stat. Sci. 16:101-133.
    """
    right, number = _checked(hits, trials, confidence)
    tail = (1 - confidence) / 2
    low = betaincinv(right + 0.5, number - right + 0.5, tail)
    high = betaincinv(right + 0.5, number - right + 0.5, 1 - tail)
    return Interval(
        np.where(right == 0, 0 * low, low), np.where(right == number, 1 + 0 * high, high)
    )


def exact_interval(hits: ArrayLike, trials: ArrayLike, confidence: float = 0.95) -> Interval:
    """Interval that never covers too seldom, and so is wide for few trials.

    Arguments, return value and errors as for `wilson_interval`.

    Source:
        Clopper & Pearson (1934), Biometrika 26:404-413, by quantiles of the beta distribution.
    """
    right, number = _checked(hits, trials, confidence)
    tail, wrong = (1 - confidence) / 2, number - right
    low = betaincinv(np.maximum(right, 1), wrong + 1, tail)
    high = betaincinv(right + 1, np.maximum(wrong, 1), 1 - tail)
    return Interval(np.where(right == 0, 0 * low, low), np.where(wrong == 0, 1 + 0 * high, high))


def _checked(hits: ArrayLike, trials: ArrayLike, confidence: float) -> tuple[Floats, Floats]:
    """Counts as arrays of one shape; both nan where there were no trials."""
    right, number = np.broadcast_arrays(
        np.asarray(hits, dtype=np.float64), np.asarray(trials, dtype=np.float64)
    )
    if np.any((right < 0) | (right > number)):
        msg = "Hits must lie between 0 and the number of trials."
        raise ValueError(msg)
    if not 0 < confidence < 1:
        msg = f"Confidence is a fraction between 0 and 1, got {confidence}."
        raise ValueError(msg)
    unknown = number == 0
    return np.where(unknown, np.nan, right), np.where(unknown, np.nan, number)
