"""What a cell's answers say about its threshold today, carried from day to day.

A message holds P(all answers so far | threshold today, naming accuracy). It is no distribution:
the prior comes last, so one history serves every prior. Messages are kept as waves, coefficients
on a cosine basis, because in them time passes by mere multiplication: each wave of a random walk
with reflecting ends, and of jumps to anywhere, fades at its own rate. Two short gaps equal one
long one exactly, and an empty session changes nothing.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from seatworthy.stats.ability.grid import Floats, build_grid
from seatworthy.stats.ability.settings import Settings

DAYS_A_YEAR: Final = 365.25
_LEAST: Final = 1e-30
_NEVER: Final = np.iinfo(np.int64).min


@dataclass(frozen=True)
class Walk:
    """How thresholds wander: D drift settings, G thresholds.

    Attributes:
        basis: Orthonormal cosine waves, one a column; shape (G, G).
        fading: How fast each wave fades, per year; shape (D, G).
        gap: What is left of each wave between two beer families; shape (G,).
        weight: Weights of the drift settings; shape (D,), sums to 1.
    """

    basis: Floats
    fading: Floats
    gap: Floats
    weight: Floats


@lru_cache(maxsize=8)
def build_walk(settings: Settings) -> Walk:
    """Waves and their fading for these settings."""
    size = build_grid(settings).theta.size
    wave = np.arange(size)
    basis = np.cos(np.pi * (wave[:, None] + 0.5) * wave / size) * np.sqrt(2 / size)
    basis[:, 0] = np.sqrt(1 / size)
    by_variance = (1 - np.cos(np.pi * wave / size)) / settings.theta_step**2
    variance = np.square(settings.drift_sd)[:, None]
    jump = np.asarray(settings.drift_jump)[:, None] * (wave > 0)
    weight = np.asarray(settings.drift_weight)
    return Walk(
        basis=basis,
        fading=variance * by_variance + jump,
        gap=np.exp(-(settings.family_gap_sd**2) * by_variance),
        weight=weight / weight.sum(),
    )


def advance(messages: Floats, days: ArrayLike, walk: Walk) -> Floats:
    """Carry messages over some days.

    Args:
        messages: Shape (D, N, C, G).
        days: Days that pass, one for each of the N cells or one for all.
        walk: How thresholds wander.

    Returns:
        The same evidence about a later threshold; shape (D, N, C, G).
    """
    gone = np.broadcast_to(np.asarray(days, dtype=np.float64), messages.shape[1:2])
    return from_waves(to_waves(messages, walk) * _left_of(gone, walk)[:, :, None], walk)


def to_waves(messages: Floats, walk: Walk) -> Floats:
    """Messages on the thresholds to coefficients; any shape ending in (G,)."""
    flat = messages.reshape(-1, messages.shape[-1]) @ walk.basis
    return flat.reshape(messages.shape)


def from_waves(waves: Floats, walk: Walk) -> Floats:
    """Coefficients to messages, kept above 0 where rounding would go below."""
    flat = waves.reshape(-1, waves.shape[-1]) @ walk.basis.T
    return np.maximum(flat, _LEAST, out=flat).reshape(waves.shape)


def absorb(messages: Floats, likelihood: Floats) -> tuple[Floats, Floats]:
    """Multiply one session into messages and bring their largest value back to 1.

    Args:
        messages: Shape (D, N, C, G).
        likelihood: P(the session's answers | accuracy, threshold); shape (N, C, G).

    Returns:
        Messages, shape (D, N, C, G), and what the log scale grew by, shape (D, N).
    """
    product = messages * likelihood
    top = product.max(axis=(2, 3), keepdims=True)
    return product / top, np.log(top[..., 0, 0])


def mix(messages: Floats, log_scale: Floats, walk: Walk) -> Floats:
    """Average messages over the drift settings, cell by cell.

    Args:
        messages: Shape (D, N, C, G).
        log_scale: Shape (D, N).
        walk: Holds the weights of the settings.

    Returns:
        Likelihoods without a common scale; shape (N, C, G).
    """
    return np.einsum("dn,dncg->ncg", _shares(log_scale, walk), messages)


class MessageStore:
    """Messages of R rows, each brought to its own last day."""

    def __init__(self, rows: int, settings: Settings) -> None:
        self.walk = build_walk(settings)
        drifts, thresholds = self.walk.fading.shape
        self._waves = np.zeros((drifts, rows, settings.naming_bins, thresholds))
        self._waves[..., 0] = np.sqrt(thresholds)  # a message of ones
        self._scale = np.zeros((drifts, rows))
        self._last = np.full(rows, _NEVER)

    @property
    def cell_shape(self) -> tuple[int, int]:
        """Numbers of naming accuracies and thresholds, (C, G)."""
        return self._waves.shape[2], self._waves.shape[3]

    def has(self, rows: NDArray[np.intp]) -> NDArray[np.bool_]:
        """Which rows hold answers already."""
        return self._last[rows] > _NEVER

    def of_nothing(self, cells: int) -> tuple[Floats, Floats]:
        """Messages and log scales of cells without answers; shapes as those of `on`."""
        drifts = len(self._waves)
        return np.ones((drifts, cells, *self.cell_shape)), np.zeros((drifts, cells))

    def on(
        self, rows: NDArray[np.intp], day: NDArray[np.int64], is_gap: NDArray[np.bool_]
    ) -> tuple[Floats, Floats]:
        """Messages of some rows as of one day each, not before their last.

        Args:
            rows: Shape (N,).
            day: Days since 1970-01-01; shape (N,).
            is_gap: Where one more step, that to another beer family, lies between; shape (N,).

        Returns:
            Messages, shape (D, N, C, G), and log scales, shape (D, N).
        """
        waves = self._waves[:, rows]
        waves *= self._left(rows, day, is_gap)[:, :, None]
        return from_waves(waves, self.walk), self._scale[:, rows]

    def mixed_on(
        self, rows: NDArray[np.intp], day: NDArray[np.int64], is_gap: NDArray[np.bool_]
    ) -> Floats:
        """What `mix` makes of `on`, shape (N, C, G): waves are mixed first, which costs less."""
        left = self._left(rows, day, is_gap)
        left *= _shares(self._scale[:, rows], self.walk)[:, :, None]
        waves = self._waves[0, rows] * left[0, :, None]
        for drift in range(1, len(left)):
            waves += self._waves[drift, rows] * left[drift, :, None]
        return from_waves(waves, self.walk)

    def add(self, rows: NDArray[np.intp], day: int, likelihood: Floats) -> None:
        """Multiply one day's answers into some rows, each row once; likelihood (N, C, G)."""
        messages, _ = self.on(rows, np.full(rows.shape, day), np.zeros(rows.shape, np.bool_))
        messages, growth = absorb(messages, likelihood)
        self._waves[:, rows] = to_waves(messages, self.walk)
        self._scale[:, rows] += growth
        self._last[rows] = day

    def _left(
        self, rows: NDArray[np.intp], day: NDArray[np.int64], is_gap: NDArray[np.bool_]
    ) -> Floats:
        left = _left_of(np.where(self.has(rows), day - self._last[rows], 0), self.walk)
        left *= np.where(is_gap[:, None], self.walk.gap, 1.0)
        return left


def _left_of(days: Floats, walk: Walk) -> Floats:
    """What is left of each wave after some days, shape (D, N, G) for days (N,)."""
    years = np.asarray(days, dtype=np.float64) / DAYS_A_YEAR
    return np.exp(-walk.fading[:, None] * years[:, None])


def _shares(log_scale: Floats, walk: Walk) -> Floats:
    """Weights of the drift settings in each cell, without a common scale; shape (D, N)."""
    return walk.weight[:, None] * np.exp(log_scale - log_scale.max(axis=0))
