"""How well spiked glasses are told from blanks by calling or not calling: d' and criterion."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import ndtri

Floats = NDArray[np.float64]


class Rates(NamedTuple):
    """Rate of calls in spiked glasses and in blanks, fractions of one shape."""

    hit: Floats
    false_alarm: Floats


def log_linear_rates(
    hits: ArrayLike, spiked: ArrayLike, false_alarms: ArrayLike, blanks: ArrayLike
) -> Rates:
    """Rates that are never 0 or 1: half a call and half a silence added to both kinds of glass.

    Args:
        hits: Calls in spiked glasses, 0 <= hits <= spiked; any shape.
        spiked: Spiked glasses.
        false_alarms: Calls in blanks, 0 <= false_alarms <= blanks.
        blanks: Blanks.

    Returns:
        Rates; nan where there was no such glass.

    Raises:
        ValueError: if a count is negative or calls exceed glasses.

    Source:
        Hautus (1995), Behav. Res. Methods Instrum. Comput. 27:46-51.
    """
    return Rates(_corrected(hits, spiked), _corrected(false_alarms, blanks))


def d_prime(hit_rate: ArrayLike, false_alarm_rate: ArrayLike) -> Floats:
    """Distance between spiked and blank: z(hit rate) - z(false alarm rate).

    Infinite where a rate is 0 or 1; nan where one is. Use `log_linear_rates` for small counts.

    Source:
        Macmillan & Creelman (2005), Detection Theory, 2nd ed., chapter 1.
    """
    return _z(hit_rate) - _z(false_alarm_rate)


def criterion(hit_rate: ArrayLike, false_alarm_rate: ArrayLike) -> Floats:
    """Reluctance to call, c = -(z(hit rate) + z(false alarm rate)) / 2; below 0 calls readily.

    Source:
        Macmillan & Creelman (2005), Detection Theory, 2nd ed., chapter 2.
    """
    return -(_z(hit_rate) + _z(false_alarm_rate)) / 2


def _z(rate: ArrayLike) -> Floats:
    values = np.asarray(rate, dtype=np.float64)
    if np.any((values < 0) | (values > 1)):
        msg = "A rate lies between 0 and 1."
        raise ValueError(msg)
    return ndtri(values)


def _corrected(calls: ArrayLike, glasses: ArrayLike) -> Floats:
    counts, number = np.asarray(calls, dtype=np.float64), np.asarray(glasses, dtype=np.float64)
    if np.any((counts < 0) | (counts > number)):
        msg = "Calls must lie between 0 and the number of glasses."
        raise ValueError(msg)
    return np.where(number == 0, np.nan, (counts + 0.5) / (number + 1))
