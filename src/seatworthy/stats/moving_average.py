"""Exponentially weighted moving average of a series, and limits for a series that stands still."""

from itertools import accumulate
from math import isnan

import numpy as np
from numpy.typing import ArrayLike, NDArray

from seatworthy.stats.proportions import Interval

Floats = NDArray[np.float64]


def moving_average(series: ArrayLike, start: float, weight: float) -> Floats:
    """Average in which every value counts less with each one that follows.

    Args:
        series: Values in the order of time; shape (n,). A nan leaves the average where it was.
        start: Average before the first value: a target or a mean of earlier values.
        weight: Share of the newest value, above 0 and at most 1; 1 gives the series itself.

    Returns:
        weight * value + (1 - weight) * average before, after each value; shape (n,). nan
        throughout if `start` is nan.

    Raises:
        ValueError: if the series is not one row or the weight is out of range.

    Source:
        Roberts (1959), Technometrics 1:239-250; as in the NIST/SEMATECH e-Handbook, 6.3.2.4.
    """
    values = np.asarray(series, dtype=np.float64)
    if values.ndim != 1:
        msg = f"A series is one row of values, got shape {values.shape}."
        raise ValueError(msg)
    _check_weight(weight)

    def step(before: float, value: float) -> float:
        return before if isnan(value) else weight * value + (1 - weight) * before

    averages = accumulate(values.tolist(), step, initial=float(start))
    return np.array(list(averages)[1:], dtype=np.float64)


def control_limits(
    number: ArrayLike, centre: float, sd: float, weight: float, width: float = 3.0
) -> Interval:
    """Range in which the average of a series that stands still nearly always lies.

    Args:
        number: Values that have entered the average, >= 0; any shape. Do not count a nan.
        centre: Where the series stands, which is also where the average started.
        sd: Standard deviation of one value, >= 0.
        weight: Share of the newest value, above 0 and at most 1.
        width: Half the range, in standard deviations of the average.

    Returns:
        centre -+ width * sd * sqrt(weight / (2 - weight) * (1 - (1 - weight)^(2 number))), shaped
        like `number`: no width before the first value, and soon that of `settled_limits`.

    Raises:
        ValueError: if a number or `sd` is negative, the weight out of range or the width not
            positive.

    Source:
        Lucas & Saccucci (1990), Technometrics 32:1-12.
    """
    entered = np.asarray(number, dtype=np.float64)
    if not np.all(entered >= 0):
        msg = "A number of values must be known and not negative."
        raise ValueError(msg)
    low, high = settled_limits(centre, sd, weight, width)
    part = np.sqrt(1 - (1 - weight) ** (2 * entered))
    return Interval(centre + (low - centre) * part, centre + (high - centre) * part)


def settled_limits(centre: float, sd: float, weight: float, width: float = 3.0) -> Interval:
    """The same range after many values: what the limits settle to.

    Arguments and errors as for `control_limits`.

    Source:
        NIST/SEMATECH e-Handbook, 6.3.2.4.
    """
    _check_weight(weight)
    if not (sd >= 0 and width > 0):
        msg = f"The sd must not be negative and the width above 0, got {sd} and {width}."
        raise ValueError(msg)
    half = width * sd * np.sqrt(weight / (2 - weight))
    return Interval(np.asarray(centre - half), np.asarray(centre + half))


def _check_weight(weight: float) -> None:
    if not 0 < weight <= 1:
        msg = f"A weight lies above 0 and is at most 1, got {weight}."
        raise ValueError(msg)
