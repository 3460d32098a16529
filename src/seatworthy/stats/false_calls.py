"""How often somebody calls a flavour that was not there."""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import betainc, betaincinv

from seatworthy.stats.proportions import Interval

PRIOR: Final = 0.5  # Beta(.5, .5), Jeffreys: for a verdict nothing may be presumed of anybody

Floats = NDArray[np.float64]


class FalseCallRate(NamedTuple):
    """Mean of the rate and its interval, fractions of one shape."""

    mean: Floats
    interval: Interval


def chance_false_calls_within(calls: ArrayLike, blanks: ArrayLike, ceiling: float = 0.20) -> Floats:
    """Chance that the true rate of false calls is at most a ceiling, prior Beta(.5, .5).

    Args:
        calls: False calls, whole numbers, 0 <= calls <= blanks; any shape.
        blanks: Blanks answered; any shape that fits.
        ceiling: Highest rate allowed, a fraction between 0 and 1.

    Returns:
        Chances; without any blank the prior's own, which is no evidence.

    Raises:
        ValueError: if a count is negative, `calls` exceeds `blanks` or `ceiling` is no fraction.
    """
    if not 0 < ceiling < 1:
        msg = f"A ceiling is a fraction between 0 and 1, got {ceiling}."
        raise ValueError(msg)
    return betainc(*_beta(calls, blanks), ceiling)


def false_call_rate(calls: ArrayLike, blanks: ArrayLike, confidence: float = 0.90) -> FalseCallRate:
    """Posterior mean and equal-tailed interval of the rate, prior Beta(.5, .5).

    Args:
        calls: False calls, whole numbers, 0 <= calls <= blanks; any shape.
        blanks: Blanks answered; any shape that fits.
        confidence: Coverage of the interval, a fraction between 0 and 1.

    Returns:
        Fractions; nan without any blank, since nothing is known then.

    Raises:
        ValueError: if a count is negative, `calls` exceeds `blanks` or `confidence` is no fraction.
    """
    if not 0 < confidence < 1:
        msg = f"Confidence is a fraction between 0 and 1, got {confidence}."
        raise ValueError(msg)
    a, b = _beta(calls, blanks)
    unknown, tail = a + b <= 2 * PRIOR, (1 - confidence) / 2
    mean, low, high = (
        np.where(unknown, np.nan, values)
        for values in (a / (a + b), betaincinv(a, b, tail), betaincinv(a, b, 1 - tail))
    )
    return FalseCallRate(mean, Interval(low, high))


def _beta(calls: ArrayLike, blanks: ArrayLike) -> tuple[Floats, Floats]:
    counts, number = np.asarray(calls, dtype=np.float64), np.asarray(blanks, dtype=np.float64)
    if np.any((counts < 0) | (counts > number)):
        msg = "False calls must lie between 0 and the number of blanks."
        raise ValueError(msg)
    return counts + PRIOR, number - counts + PRIOR
