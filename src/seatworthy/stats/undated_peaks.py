"""The most likely threshold and slope of each cell, from counts in which no date enters.

For comparison with programs that fit by maximum likelihood. Where answers fix no slope, as with most
panellists, there is no such peak; no estimate for people comes from here.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from seatworthy.stats.ability.grid import Floats
from seatworthy.stats.undated_curves import LEAST, Curve, chances_on, checked_counts, log_likelihood

_CELLS_AT_ONCE: Final = 512
_MOST_ROUNDS: Final = 12
_SMALLER: Final = 0.1
_SMALLEST: Final = 5e-4  # of the grid's steps
_AROUND: Final = np.stack(np.meshgrid([-1, 0, 1], [-1, 0, 1], indexing="ij"), axis=-1).reshape(9, 2)
_CENTRE: Final = 4

Heights = Callable[[Floats, Floats, Floats], Floats]


@dataclass(frozen=True)
class Peaks:
    """Most likely values of N cells; nan where the likelihood has no peak within the grid.

    Attributes:
        threshold: On the axis of the levels; shape (N,).
        slope: Shape (N,).
        log_likelihood: Log probability of the answers, one by one, there; shape (N,).
    """

    threshold: Floats
    slope: Floats
    log_likelihood: Floats


def most_likely(
    right: ArrayLike,
    total: ArrayLike,
    level: ArrayLike,
    curve: Curve,
    thresholds: Floats,
    slopes: Floats,
) -> Peaks:
    """Search a grid for the highest likelihood, then close in on the peak.

    Good to about 1e-6 of the grid's steps.

    Args:
        right: Right answers, 0 <= right <= total; shape (N, X).
        total: Answers; shape (N, X).
        level: Levels on any axis; shape (X,).
        curve: Chance of a right answer.
        thresholds: Evenly spaced, at least 3; shape (G,).
        slopes: Above 0, evenly spaced in their logarithms, at least 3; shape (S,).

    Raises:
        ValueError: if shapes do not fit, a count is impossible or the grid is too small.
    """
    level = np.asarray(level, dtype=np.float64)
    right, total = checked_counts(right, total, level.size)
    if min(thresholds.size, slopes.size) < 3 or slopes.min() <= 0:
        msg = "At least 3 thresholds and 3 slopes above 0 are needed."
        raise ValueError(msg)
    chance, axes = chances_on(curve, level, thresholds, slopes), (thresholds, np.log(slopes))
    height = partial(_heights, level=level, curve=curve)
    parts = [np.empty((0, 3))]
    for start in range(0, len(right), _CELLS_AT_ONCE):
        block = slice(start, start + _CELLS_AT_ONCE)
        place = _highest(log_likelihood(right[block], total[block], chance), axes)
        parts.append(_climb(place, axes, right[block], total[block], height))
    threshold, log_slope, log = np.concatenate(parts).T
    return Peaks(threshold, np.exp(log_slope), log)


def _highest(log: Floats, axes: tuple[Floats, Floats]) -> Floats:
    """Threshold and log slope of the highest place, taken one in from an edge; shape (N, 2)."""
    flat = log.reshape(len(log), -1).argmax(axis=1)
    places = reversed(np.unravel_index(flat, log.shape[1:]))
    return np.column_stack(
        [axis[np.clip(at, 1, axis.size - 2)] for axis, at in zip(axes, places, strict=True)]
    )


def _climb(
    place: Floats, axes: tuple[Floats, Floats], right: Floats, total: Floats, height: Heights
) -> Floats:
    """Newton's way by differences, over smaller steps once the top is near; never downwards.

    Args:
        place: Threshold and log slope to start from; shape (N, 2).
        axes: The grid, which must not be left.
        right: Shape (N, X).
        total: Shape (N, X).
        height: Log likelihood at some places of each cell.

    Returns:
        Threshold, log slope and log likelihood of each top, nan without one; shape (N, 3).
    """
    low, high, step = np.array([[axis[0], axis[-1], axis[1] - axis[0]] for axis in axes]).T
    found, place, size = np.full((len(place), 3), np.nan), place.copy(), np.ones((len(place), 1))
    climbing = np.arange(len(place))
    for _ in range(_MOST_ROUNDS):
        here, reach = place[climbing], size[climbing] * step
        there, log, has_top = _next(here, reach, partial(height, right[climbing], total[climbing]))
        place[climbing] = there
        is_near = (np.abs(there - here) < 0.99 * reach).all(axis=1)
        size[climbing[is_near]] *= _SMALLER
        is_done = size[climbing, 0] < _SMALLEST
        is_top = is_done & has_top
        found[climbing[is_top]] = np.column_stack([there, log])[is_top]
        climbing = climbing[~is_done & ((there > low) & (there < high)).all(axis=1)]
    return found


def _next(
    here: Floats, reach: Floats, height: Callable[[Floats], Floats]
) -> tuple[Floats, Floats, NDArray[np.bool_]]:
    """The highest of nine places around and of the top of the parabola through them.

    Returns:
        The place, shape (N, 2); its log likelihood; whether the parabola has a top; both (N,).
    """
    around = here[:, None] + _AROUND * reach[:, None]
    log = height(around)
    leap, has_top = _to_the_top(log)
    leapt = here + np.clip(leap, -4, 4) * reach
    around = np.concatenate([around, leapt[:, None]], axis=1)
    log = np.concatenate([log, height(leapt[:, None])], axis=1)
    best = np.where(log.max(axis=1) > log[:, _CENTRE], log.argmax(axis=1), _CENTRE)
    cell = np.arange(len(here))
    return around[cell, best], log[cell, best], has_top


def _heights(right: Floats, total: Floats, places: Floats, level: Floats, curve: Curve) -> Floats:
    """Log likelihood at some places of each cell; places (N, M, 2) make (N, M)."""
    apart = level[:, None] - places[:, None, :, 0]
    chance = curve(apart, np.exp(places[:, None, :, 1]))
    hit, miss = np.log(np.maximum(chance, LEAST)), np.log(np.maximum(1 - chance, LEAST))
    return np.einsum("nx,nxm->nm", right, hit) + np.einsum("nx,nxm->nm", total - right, miss)


def _to_the_top(height: Floats) -> tuple[Floats, NDArray[np.bool_]]:
    """From nine places around to the top of the parabola through them.

    Returns:
        The way in steps, shape (N, 2), nothing where the parabola has no top; whether it has one,
        shape (N,).
    """
    h = height.reshape(-1, 3, 3)
    first = np.stack([h[:, 2, 1] - h[:, 0, 1], h[:, 1, 2] - h[:, 1, 0]], axis=-1) / 2
    xx = h[:, 2, 1] - 2 * h[:, 1, 1] + h[:, 0, 1]
    yy = h[:, 1, 2] - 2 * h[:, 1, 1] + h[:, 1, 0]
    xy = (h[:, 2, 2] - h[:, 2, 0] - h[:, 0, 2] + h[:, 0, 0]) / 4
    bend = xx * yy - xy**2
    has_top = (bend > 0) & (xx < 0)
    top = np.stack([xy * first[:, 1] - yy * first[:, 0], xy * first[:, 0] - xx * first[:, 1]], -1)
    return np.where(has_top[:, None], top / np.where(has_top, bend, 1)[:, None], 0.0), has_top
