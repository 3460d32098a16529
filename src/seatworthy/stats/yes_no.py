"""How well spiked glasses are told from blanks by calling or not calling: d' and criterion."""

from functools import lru_cache
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import log_ndtr, ndtri

from seatworthy.stats.proportions import Interval

# What is presumed before any glass: mean and standard deviation of d' and of the criterion.
D_PRIME_PRIOR: Final = (1.5, 1.5)
CRITERION_PRIOR: Final = (0.0, 0.7)
_STEP: Final = 0.05
_REACH: Final = 4.5  # standard deviations of the prior to each side that the grid covers

Floats = NDArray[np.float64]


class Rates(NamedTuple):
    """Rate of calls in spiked glasses and in blanks, fractions of one shape."""

    hit: Floats
    false_alarm: Floats


class Estimate(NamedTuple):
    """Posterior mean and equal-tailed interval, of one shape."""

    mean: Floats
    interval: Interval


class Detection(NamedTuple):
    """What few glasses say of d' and of the criterion, in standard deviations of one glass."""

    d_prime: Estimate
    criterion: Estimate


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


def detection(
    hits: ArrayLike,
    spiked: ArrayLike,
    false_alarms: ArrayLike,
    blanks: ArrayLike,
    confidence: float = 0.90,
) -> Detection:
    """Posterior of d' and criterion together, for few glasses.

    Priors d' ~ N(1.5, 1.5^2) and c ~ N(0, .7^2), on a grid of step .05 that reaches 4.5 standard
    deviations to each side; hit rate Phi(d'/2 - c), false alarm rate Phi(-d'/2 - c).

    Args:
        hits: Calls in spiked glasses, 0 <= hits <= spiked; any shape.
        spiked: Spiked glasses; shapes are broadcast.
        false_alarms: Calls in blanks, 0 <= false_alarms <= blanks.
        blanks: Blanks.
        confidence: Coverage of the intervals, a fraction between 0 and 1.

    Returns:
        Means and intervals, never infinite. Without any glass they are the prior's own, which is
        no evidence.

    Raises:
        ValueError: if a count is negative or not finite, calls exceed glasses or `confidence` is
            no fraction.

    Source:
        Equal-variance model of Macmillan & Creelman (2005), Detection Theory, 2nd ed., chapter 1.
    """
    if not 0 < confidence < 1:
        msg = f"Confidence is a fraction between 0 and 1, got {confidence}."
        raise ValueError(msg)
    counts = _four_counts(hits, spiked, false_alarms, blanks)
    found = [_marginals(cell) for cell in counts.reshape(-1, 4)]
    d_prime_mass, criterion_mass = ([cell[part] for cell in found] for part in (0, 1))
    shape, places = counts.shape[:-1], _places()
    return Detection(
        _estimate(d_prime_mass, places[0], confidence, shape),
        _estimate(criterion_mass, places[1], confidence, shape),
    )


def chance_d_prime_at_least(
    apart: float, hits: ArrayLike, spiked: ArrayLike, false_alarms: ArrayLike, blanks: ArrayLike
) -> Floats:
    """Chance that d' is at least so large, by the posterior of `detection`.

    Args:
        apart: Standard deviations of one glass.
        hits: Calls in spiked glasses, 0 <= hits <= spiked; any shape.
        spiked: Spiked glasses; shapes are broadcast.
        false_alarms: Calls in blanks, 0 <= false_alarms <= blanks.
        blanks: Blanks.

    Returns:
        Fractions from 0 to 1. Without any glass the prior's own, which is no evidence.

    Raises:
        ValueError: if a count is negative or not finite, or calls exceed glasses.
    """
    counts = _four_counts(hits, spiked, false_alarms, blanks)
    places = _places()[0]
    share_above = np.clip((places + _STEP / 2 - apart) / _STEP, 0, 1)
    found = [_marginals(cell)[0] @ share_above for cell in counts.reshape(-1, 4)]
    return np.array(found).reshape(counts.shape[:-1])


def _four_counts(
    hits: ArrayLike, spiked: ArrayLike, false_alarms: ArrayLike, blanks: ArrayLike
) -> Floats:
    """Hits, misses, false alarms and silences in blanks, behind the common shape."""
    both = *_called_and_not(hits, spiked), *_called_and_not(false_alarms, blanks)
    return np.stack(np.broadcast_arrays(*both), axis=-1)


@lru_cache
def _places() -> tuple[Floats, Floats]:
    """Grid of d' and of the criterion; the middle of each is the prior's mean."""
    d_prime, reluctance = (
        mean + _STEP * np.arange(-round(_REACH * sd / _STEP), round(_REACH * sd / _STEP) + 1)
        for mean, sd in (D_PRIME_PRIOR, CRITERION_PRIOR)
    )
    return d_prime, reluctance


@lru_cache
def _tables() -> tuple[Floats, Floats]:
    """Log prior and, for each of the four outcomes of a glass, its log chance on the grid.

    Shapes (D, C) and (4, D, C); outcomes are hit, miss, false alarm, silence in a blank.
    """
    distance, reluctance = np.meshgrid(*_places(), indexing="ij")
    centres = (D_PRIME_PRIOR, distance), (CRITERION_PRIOR, reluctance)
    prior = -sum(((place - mean) / sd) ** 2 for (mean, sd), place in centres) / 2
    spiked, blank = distance / 2 - reluctance, -distance / 2 - reluctance
    return prior, np.stack([log_ndtr(z) for z in (spiked, -spiked, blank, -blank)])


def _marginals(cell: Floats) -> tuple[Floats, Floats]:
    """Posterior of d', shape (D,), and of the criterion, shape (C,), from four counts."""
    prior, chances = _tables()
    log_mass = prior + np.tensordot(cell, chances, axes=1)
    mass = np.exp(log_mass - log_mass.max())
    mass /= mass.sum()
    return mass.sum(axis=1), mass.sum(axis=0)


def _estimate(
    masses: list[Floats], places: Floats, confidence: float, shape: tuple[int, ...]
) -> Estimate:
    """Mean and interval of each posterior; within a step of the grid its mass is spread evenly."""
    edges = np.append(places, places[-1] + _STEP) - _STEP / 2
    tails = (1 - confidence) / 2, (1 + confidence) / 2
    mean = np.array([mass @ places for mass in masses])
    ends = [np.interp(tails, np.append(0, np.cumsum(mass)), edges) for mass in masses]
    low, high = np.array(ends).reshape(-1, 2).T
    return Estimate(mean.reshape(shape), Interval(low.reshape(shape), high.reshape(shape)))


def _called_and_not(calls: ArrayLike, glasses: ArrayLike) -> tuple[Floats, Floats]:
    counts, number = np.asarray(calls, dtype=np.float64), np.asarray(glasses, dtype=np.float64)
    if not np.all((counts >= 0) & (counts <= number) & np.isfinite(number)):
        msg = "Calls must lie between 0 and the number of glasses."
        raise ValueError(msg)
    return counts, number - counts


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
