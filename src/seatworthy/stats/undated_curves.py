"""How likely counts of right answers are for each threshold and slope, by any curve.

Nothing here knows of dates: all glasses of a cell count alike, whenever they were tasted.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from seatworthy.stats.ability.glasses import CHOICES, NAMING, check_shapes
from seatworthy.stats.ability.grid import Floats, build_grid
from seatworthy.stats.ability.settings import Settings
from seatworthy.stats.ability.tables import clearness, perceived
from seatworthy.stats.guessing import guess_rate
from seatworthy.stats.thurstone import LARGEST, proportion_right

Curve = Callable[[Floats, Floats], Floats]
"""Chance of a right answer, between 0 and 1, for (level - threshold) and slope; they broadcast."""

LEAST: Final = 1e-300  # a chance of 0 for what did happen


@dataclass(frozen=True)
class GlassKinds:
    """The X kinds of glasses that are counted apart; every array has shape (X,).

    Attributes:
        method: ``naming`` or a forced choice (``3afc``, ``triangle``, ``duo_trio``, ``2afc``).
        level: Multiple of the working threshold, total, > 0.
        background: Multiple of it that was in the base beer already, from 0 to `level`; in a
            forced choice the reference glass holds it too.

    Raises:
        ValueError: if shapes differ, a method has no curve, or a level or background lies outside
            its range.
    """

    method: NDArray[np.str_]
    level: Floats
    background: Floats

    def __post_init__(self) -> None:
        check_shapes(**vars(self))
        strange = sorted(set(self.method.tolist()) - {NAMING, *CHOICES})
        if strange:
            msg = f"A method must be one of {', '.join((NAMING, *CHOICES))}, got {strange[0]!r}."
            raise ValueError(msg)
        if not np.all((self.level > 0) & (self.background >= 0) & (self.level >= self.background)):
            msg = "A level must be above 0 and a background from 0 to the level."
            raise ValueError(msg)


@dataclass(frozen=True)
class Curves:
    """Chances of a right answer for X kinds of glasses: S slopes, G thresholds.

    Attributes:
        chance: Between 0 and 1; shape (S, X, G).
        slope_weight: Prior weights of the slopes; shape (S,), sums to 1.

    Raises:
        ValueError: if the shapes do not fit or a chance lies outside 0 to 1.
    """

    chance: Floats
    slope_weight: Floats

    def __post_init__(self) -> None:
        if self.chance.ndim != 3 or self.slope_weight.shape != self.chance.shape[:1]:
            shapes = f"{self.chance.shape} and {self.slope_weight.shape}"
            msg = f"Shapes (slopes, kinds, thresholds) and (slopes,) are needed, got {shapes}."
            raise ValueError(msg)
        if not np.all((self.chance >= 0) & (self.chance <= 1)):
            msg = "A chance of a right answer must lie between 0 and 1."
            raise ValueError(msg)


def thurstone_curves(kinds: GlassKinds, settings: Settings, slopes: int) -> Curves:
    """The links of `stats.thurstone` and of naming, the error of the preparation averaged out.

    d' = d'(2/3 right in 3-AFC) x 2 ** (slope x (log2 level - threshold)). The naming accuracy is
    held at the mean of its prior, the rate of false calls likewise.

    Args:
        kinds: X kinds of glasses.
        settings: Numbers of the model; its thresholds are the last axis.
        slopes: Gauss-Hermite nodes for the log slope, sd `slope_log_sd`; 1 holds the slope at 1.

    Raises:
        ValueError: if `slopes` is below 1.
    """
    slope, weight = slope_nodes(slopes, settings.slope_log_sd)
    return Curves(np.stack([_chances(kinds, one, settings) for one in slope]), weight)


def curves_of(
    curve: Curve, level: ArrayLike, slope: Floats, slope_weight: Floats, settings: Settings
) -> Curves:
    """Any curve at some levels, for instance another program's.

    Args:
        curve: Chance of a right answer.
        level: Levels on the axis of the thresholds (log2 multiples); shape (X,).
        slope: Shape (S,).
        slope_weight: Prior weights of the slopes; shape (S,).
        settings: Holds the grid of thresholds.
    """
    theta = build_grid(settings).theta
    chance = chances_on(curve, level, theta, slope)
    return Curves(chance, slope_weight / slope_weight.sum())


def chances_on(curve: Curve, level: ArrayLike, threshold: Floats, slope: Floats) -> Floats:
    """A curve on a grid: levels (X,), thresholds (G,) and slopes (S,) make shape (S, X, G)."""
    apart = np.asarray(level, dtype=np.float64)[:, None] - threshold
    return np.asarray(curve(apart[None], slope[:, None, None]))


def slope_nodes(number: int, log_sd: float) -> tuple[Floats, Floats]:
    """Nodes and weights for a slope with median 1 whose natural logarithm has that sd.

    Raises:
        ValueError: if `number` is below 1.
    """
    if number < 1:
        msg = f"At least one slope is needed, got {number}."
        raise ValueError(msg)
    nodes, weights = np.polynomial.hermite_e.hermegauss(number)
    return np.exp(nodes * log_sd), weights / weights.sum()


def log_likelihood(right: Floats, total: Floats, chance: Floats) -> Floats:
    """Log probability of the answers, one by one, in whatever order they came.

    Args:
        right: Right answers; shape (N, X).
        total: All answers; shape (N, X).
        chance: Chance of a right answer; shape (S, X, G).

    Returns:
        Shape (N, S, G); a chance of 0 for what did happen counts as 1e-300 an answer.
    """
    slopes, _, thresholds = chance.shape
    return (sides(right, total) @ log_table(chance)).reshape(-1, slopes, thresholds)


def checked_counts(right: ArrayLike, total: ArrayLike, kinds: int) -> tuple[Floats, Floats]:
    """Counts as floats.

    Raises:
        ValueError: if the shapes are not both (N, kinds) or 0 <= right <= total does not hold.
    """
    right, total = np.asarray(right, dtype=np.float64), np.asarray(total, dtype=np.float64)
    if right.ndim != 2 or right.shape[1] != kinds or total.shape != right.shape:
        msg = f"Counts of shape (cells, {kinds}) are needed, got {right.shape} and {total.shape}."
        raise ValueError(msg)
    if not np.all((right >= 0) & (right <= total) & np.isfinite(total)):
        msg = "Right answers must lie between 0 and the number of answers."
        raise ValueError(msg)
    return right, total


def sides(right: Floats, total: Floats) -> Floats:
    """Right and wrong answers side by side: (N, X) twice makes (N, 2 X)."""
    return np.concatenate([right, total - right], axis=1)


def log_table(chance: Floats) -> Floats:
    """What one answer of each side adds to the log likelihood: (S, X, G) makes (2 X, S * G)."""
    both = np.concatenate([chance, 1 - chance], axis=1)
    return np.log(np.maximum(both, LEAST)).swapaxes(0, 1).reshape(both.shape[1], -1)


def _chances(kinds: GlassKinds, slope: float, settings: Settings) -> Floats:
    """Chance of a right answer at one slope; shape (X, G)."""
    grid = build_grid(settings)
    added = (kinds.level - kinds.background)[:, None]
    level = kinds.background[:, None] + added * np.exp2(grid.dose_shift)
    each = np.empty((*level.shape, grid.theta.size))
    for method in np.unique(kinds.method):
        at = kinds.method == method
        if method == NAMING:
            each[at] = _named_right(level[at], slope, settings)
        else:
            each[at] = _picked(str(method), level[at], kinds.background[at], slope, settings)
    return np.einsum("xjg,j->xg", each, grid.dose_weight)


def _named_right(level: Floats, slope: float, settings: Settings) -> Floats:
    """Perceived and named, or a lucky false call."""
    shift = settings.naming_shift
    theta = slope * (build_grid(settings).theta + shift) - shift
    seen = perceived(level**slope, theta, settings)
    accuracy, calls = (a / (a + b) for a, b in (settings.naming_prior, settings.call_prior))
    return accuracy * seen + (1 - seen) * calls / settings.names


def _picked(
    method: str, level: Floats, background: Floats, slope: float, settings: Settings
) -> Floats:
    """A right pick against a reference glass that holds the background, lapses guessed."""
    theta = slope * build_grid(settings).theta
    reference = clearness(background[:, None] ** slope, theta)
    clear = np.clip(clearness(level**slope, theta) - reference, 0, LARGEST)
    by_chance = settings.lapse * guess_rate(method)
    return by_chance + (1 - settings.lapse) * proportion_right(method, clear)
