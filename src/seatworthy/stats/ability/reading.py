"""What a posterior says in plain figures: chances, rates, thresholds and their intervals."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.stats.ability.grid import Floats, Grid, build_grid, naming_bins
from seatworthy.stats.ability.settings import Settings
from seatworthy.stats.ability.tables import perceived

RATE_BINS: Final = 100
_NAMING_PIECES: Final = 8
_THETA_PIECES: Final = 4
_NO_TAIL: Final = 1e-9  # above an interval; not 0, or rounding would say where the mass ends
_WAYS_TO_SHARE: Final = 11  # what lies outside an interval between its tails; odd: halves are one


@dataclass(frozen=True)
class Readout:
    """Fixed tables to read posteriors with: F false-call rates, C accuracies, G thresholds.

    Attributes:
        rate: Mean rate of right names at the reference level; shape (F, C, G).
        spread: How that rate spreads over 100 bins within each (accuracy, threshold) bin; shape
            (F, C * G, 100), sums to 1.
        met: Share of each bin in which the rate is good enough; shape (F, C, G).
        smear: Where thresholds lie if slopes differ between people; shape (G, G), rows sum to 1.
        insensitive: Share of each smeared threshold bin above the insensitive level; shape (G,).
    """

    rate: Floats
    spread: Floats
    met: Floats
    smear: Floats
    insensitive: Floats


@dataclass(frozen=True)
class Thresholds:
    """Thresholds of N cells as log2 multiples; every array has shape (N,).

    Attributes:
        mean: Posterior mean.
        low: Lower end of the interval.
        high: Upper end of the interval.
        chance_insensitive: Chance that it lies above the insensitive level.
    """

    mean: Floats
    low: Floats
    high: Floats
    chance_insensitive: Floats


@lru_cache(maxsize=8)
def build_readout(settings: Settings) -> Readout:
    """Tables for these settings."""
    grid = build_grid(settings)
    spread, rate = _rate_tables(grid, settings)
    shape = (grid.calls.size, grid.naming_mean.size, grid.theta.size)
    limit = np.log2(settings.insensitive_level)
    return Readout(
        rate=rate.reshape(shape),
        spread=spread,
        met=chance_rate_at_least(spread, settings.p_min).reshape(shape),
        smear=_slope_smear(grid, settings),
        insensitive=1 - np.clip((limit - grid.theta_edges) / settings.theta_step, 0, 1),
    )


def posterior(likelihood: Floats, prior: Floats, settings: Settings) -> Floats:
    """Joint posterior of naming accuracy and threshold.

    Args:
        likelihood: P(answers | accuracy, threshold today); shape (N, C, G).
        prior: Prior of the threshold, shape (G,) or one a cell, shape (N, G).
        settings: Numbers of the model; holds the prior of the accuracy.

    Returns:
        Shape (N, C, G); each cell sums to 1.
    """
    by_cell = np.atleast_2d(prior)[:, None, :]
    joint = likelihood * (build_grid(settings).naming_mass[:, None] * by_cell)
    return joint / joint.sum(axis=(1, 2), keepdims=True)


def chance_met(joint: Floats, call_node: NDArray[np.intp], settings: Settings) -> Floats:
    """Chance that the rate at the reference level is good enough; shape (N,)."""
    return _weighed(joint, build_readout(settings).met[call_node])


def mean_rate(joint: Floats, call_node: NDArray[np.intp], settings: Settings) -> Floats:
    """Mean rate of right names at the reference level; shape (N,)."""
    return _weighed(joint, build_readout(settings).rate[call_node])


def rate_histogram(joint: Floats, call_node: NDArray[np.intp], settings: Settings) -> Floats:
    """Distribution of the rate of right names over 100 equal bins; shape (N, 100)."""
    spread, flat = build_readout(settings).spread, joint.reshape(len(joint), -1)
    histogram = np.empty((len(joint), RATE_BINS))
    for node in np.unique(call_node):
        at = call_node == node
        histogram[at] = flat[at] @ spread[node]
    return histogram


def chance_rate_at_least(histogram: Floats, rate: float) -> Floats:
    """Chance that the rate reaches a fraction, straight within a bin; shape without the last."""
    place = min(max(rate * RATE_BINS, 0.0), float(RATE_BINS))
    nearest = round(place)
    place = nearest if abs(place - nearest) < 1e-9 else place
    return histogram @ np.clip(np.arange(1, RATE_BINS + 1) - place, 0, 1)


def rate_interval(histogram: Floats, settings: Settings) -> tuple[Floats, Floats]:
    """Lower and upper end of the `interval` of the rate; shape (N,) both."""
    edges = np.arange(RATE_BINS) / RATE_BINS
    return interval(histogram, edges, 1 / RATE_BINS, settings.interval)


def read_thresholds(theta_mass: Floats, settings: Settings) -> Thresholds:
    """Thresholds with intervals, widened for slopes that differ between people.

    Args:
        theta_mass: Posterior of the threshold; shape (N, G).
        settings: Numbers of the model.
    """
    grid, readout = build_grid(settings), build_readout(settings)
    mass = theta_mass @ readout.smear
    low, high = interval(mass, grid.theta_edges, settings.theta_step, settings.interval)
    return Thresholds(
        mean=mass @ grid.theta,
        low=low,
        high=high,
        chance_insensitive=mass @ readout.insensitive,
    )


def interval(
    mass: Floats, left_edges: Floats, width: float, coverage: float
) -> tuple[Floats, Floats]:
    """The equal-tailed interval of histograms, widened to the shortest that holds as much.

    Equal tails leave out the edge where the rate of somebody who lacks a compound lies. The
    shortest interval reaches it, but puts all that is outside into the other tail. With both
    together each tail holds at most half of what is outside; all in all the widened interval holds
    between `coverage` and half-way from there to 1. Chosen on simulated panels
    (tests/bench/calibration.py).

    Args:
        mass: Histograms that sum to 1; shape (N, bins).
        left_edges: Where the bins begin; shape (bins,).
        width: How wide they are.
        coverage: What each of the two intervals holds, a fraction.

    Returns:
        Lower and upper ends, straight within a bin; shape (N,) both.
    """
    below = np.linspace(0, 1 - coverage, _WAYS_TO_SHARE)
    upto = np.minimum(below + coverage, 1 - _NO_TAIL)
    ends = _quantiles(mass, left_edges, width, np.concatenate([below, upto]))
    low, high = ends[:_WAYS_TO_SHARE], ends[_WAYS_TO_SHARE:]
    shortest, cell, equal = (high - low).argmin(axis=0), np.arange(len(mass)), _WAYS_TO_SHARE // 2
    return (
        np.minimum(low[shortest, cell], low[equal]),
        np.maximum(high[shortest, cell], high[equal]),
    )


def quantile(mass: Floats, left_edges: Floats, width: float, fraction: float) -> Floats:
    """Quantiles of histograms, straight within a bin.

    Args:
        mass: Histograms that sum to 1; shape (N, bins).
        left_edges: Where the bins begin; shape (bins,).
        width: How wide they are.
        fraction: Which quantile, between 0 and 1.

    Returns:
        Shape (N,).
    """
    return _quantiles(mass, left_edges, width, np.array([fraction]))[0]


def _quantiles(mass: Floats, left_edges: Floats, width: float, fractions: Floats) -> Floats:
    """Several quantiles of each histogram; shape (fractions, N)."""
    below = np.cumsum(mass, axis=1)
    place = np.stack([np.count_nonzero(below < fraction, axis=1) for fraction in fractions])
    place = np.minimum(place, mass.shape[1] - 1)
    cell = np.arange(len(mass))
    here = np.maximum(mass[cell, place], np.finfo(np.float64).tiny)
    too_much = (below[cell, place] - fractions[:, None]) / here
    return left_edges[place] + width * np.clip(1 - too_much, 0, 1)


def _weighed(joint: Floats, by_bin: Floats) -> Floats:
    return np.einsum("ncg,ncg->n", joint, by_bin)


def _rate_tables(grid: Grid, settings: Settings) -> tuple[Floats, Floats]:
    """Spread, shape (F, C * G, 100), and mean, shape (F, C * G), of the rate in every bin.

    Accuracy and threshold are continuous: with bare nodes the chances would depend on where the
    nodes happen to lie. So each bin is cut into 8 x 4 pieces.
    """
    share, accuracy = _naming_pieces(grid, settings)
    pieces = (np.arange(_THETA_PIECES) + 0.5) / _THETA_PIECES
    theta = grid.theta_edges[:, None] + settings.theta_step * pieces
    seen = perceived(np.asarray(settings.reference_level), theta.ravel(), settings)
    seen = seen.reshape(1, grid.theta.size, 1, _THETA_PIECES)
    lucky = grid.calls[:, None, None, None, None] / settings.names
    rate = accuracy[:, None, :, None] * seen + lucky * (1 - seen)  # (F, C, G, 8, 4)
    mass = np.broadcast_to(share[:, None, :, None] / _THETA_PIECES, rate.shape)
    rows = grid.calls.size * grid.naming_mean.size * grid.theta.size
    bins = np.minimum((rate * RATE_BINS).astype(np.intp), RATE_BINS - 1).reshape(rows, -1)
    place = bins + RATE_BINS * np.arange(rows)[:, None]
    spread = np.bincount(place.ravel(), mass.ravel(), minlength=rows * RATE_BINS)
    shape = (grid.calls.size, -1, RATE_BINS)
    return spread.reshape(shape), (rate * mass).sum(axis=(3, 4)).reshape(shape[:2])


def _naming_pieces(grid: Grid, settings: Settings) -> tuple[Floats, Floats]:
    """Prior share within its bin and mean accuracy of every piece; shape (C, 8) both."""
    inside = np.arange(_NAMING_PIECES) / _NAMING_PIECES
    left, width = grid.naming_edges[:-1, None], np.diff(grid.naming_edges)[:, None]
    edges = np.append((left + width * inside).ravel(), 1.0)
    mass, mean = naming_bins(edges, settings)
    mass = mass.reshape(-1, _NAMING_PIECES)
    return mass / mass.sum(axis=1, keepdims=True), mean.reshape(mass.shape)


def _slope_smear(grid: Grid, settings: Settings) -> Floats:
    """Glasses near the reference level fix slope x (level - threshold), not the threshold alone.

    So a threshold counted with slope 1 lies ``pivot + (threshold - pivot) / slope`` for a person
    with another slope. Used for thresholds only, never for rates at the reference level.
    """
    pivot = np.log2(settings.reference_level) - settings.naming_shift
    nodes, weights = np.polynomial.hermite_e.hermegauss(9)
    size = grid.theta.size
    smear = np.zeros((size, size))
    for log_slope, weight in zip(
        nodes * settings.slope_log_sd, weights / weights.sum(), strict=True
    ):
        moved = pivot + (grid.theta - pivot) / np.exp(log_slope)
        smear += weight * _between(moved, grid)
    return smear


def _between(places: Floats, grid: Grid) -> Floats:
    """Share each place between its two neighbours on the grid; shape (places, G)."""
    return np.array([np.interp(places, grid.theta, one) for one in np.eye(grid.theta.size)]).T
