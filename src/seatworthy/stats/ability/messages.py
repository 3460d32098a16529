"""What a cell's answers say about its threshold today, carried from day to day.

A message holds P(all answers so far | threshold today, naming accuracy). It is no distribution:
the prior comes last, so one history serves every prior. Time passes most simply in waves,
coefficients on a cosine basis: each wave of a random walk with reflecting ends, and of jumps to
anywhere, fades at its own rate. Two short gaps equal one long one exactly, and an empty session
changes nothing. As many cells are carried over the same few numbers of days, the way into the waves
and back is done once for each number and kept as a kernel.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from seatworthy.stats.ability.cells import portions
from seatworthy.stats.ability.grid import Floats, build_grid
from seatworthy.stats.ability.settings import Settings

DAYS_A_YEAR: Final = 365.25
_LEAST: Final = 1e-30
NEVER: Final = np.iinfo(np.int64).min
"""The last day of a row that has no answers."""
_KERNELS_KEPT: Final = 256


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
    _kernels: dict[tuple[int, bool], Floats] = field(default_factory=dict, repr=False)

    def kernel(self, days: int, is_gap: bool = False) -> Floats:
        """How thresholds spread over some days, and to another beer family; shape (D, G, G)."""
        if (days, is_gap) not in self._kernels:
            if len(self._kernels) >= _KERNELS_KEPT:
                self._kernels.clear()
            left = np.exp(-self.fading * (days / DAYS_A_YEAR)) * (self.gap if is_gap else 1.0)
            self._kernels[days, is_gap] = (self.basis * left[:, None]) @ self.basis.T
        return self._kernels[days, is_gap]

    def across_gap(self, messages: Floats) -> Floats:
        """The same evidence about the threshold in another beer family; any shape (..., C, G)."""
        return _carry(messages, self.kernel(0, is_gap=True)[0])  # alike in every drift setting


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


def absorb(
    messages: Floats, likelihood: Floats, out: Floats | None = None
) -> tuple[Floats, Floats]:
    """Multiply one session into messages and bring their largest value back to 1.

    Args:
        messages: Shape (D, N, C, G).
        likelihood: P(the session's answers | accuracy, threshold); shape (N, C, G).
        out: Where to put the product, for instance `messages` themselves; None makes new ones.

    Returns:
        Messages, shape (D, N, C, G), and what the log scale grew by, shape (D, N).
    """
    product = np.multiply(messages, likelihood, out=out)
    top = product.max(axis=(2, 3), keepdims=True)
    product *= 1 / top
    return product, np.log(top[..., 0, 0])


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
    """Messages of R rows, each as of its own last day."""

    def __init__(self, rows: int, settings: Settings) -> None:
        self.walk = build_walk(settings)
        drifts, thresholds = self.walk.fading.shape
        self._messages = np.ones((rows, drifts, settings.naming_bins, thresholds))
        self._scale = np.zeros((rows, drifts))
        self._last = np.full(rows, NEVER)

    @property
    def cell_shape(self) -> tuple[int, int]:
        """Numbers of naming accuracies and thresholds, (C, G)."""
        return self._messages.shape[2], self._messages.shape[3]

    def has(self, rows: NDArray[np.intp]) -> NDArray[np.bool_]:
        """Which rows hold answers already."""
        return self._last[rows] > NEVER

    def last(self, rows: NDArray[np.intp]) -> NDArray[np.int64]:
        """The last day each row was brought to, `NEVER` where it has no answers."""
        return self._last[rows]

    def on(
        self,
        rows: NDArray[np.intp],
        day: NDArray[np.int64],
        is_gap: NDArray[np.bool_] | None = None,
    ) -> tuple[Floats, Floats]:
        """Messages of some rows as of one day each, not before their last.

        Args:
            rows: Shape (N,).
            day: Days since 1970-01-01; shape (N,).
            is_gap: Where one more step, that to another beer family, lies between; shape (N,).

        Returns:
            Messages, shape (D, N, C, G), and log scales, shape (D, N).
        """
        days = np.where(self.has(rows), day - self._last[rows], 0)
        messages = self._messages[rows]
        for gone, at in _alike(days):
            if gone:
                messages[at] = _carry(messages[at], self.walk.kernel(gone))
        if is_gap is not None:
            messages[is_gap] = self.walk.across_gap(messages[is_gap])
        return messages.swapaxes(0, 1), self._scale[rows].T

    def mixed_on(
        self, rows: NDArray[np.intp], day: NDArray[np.int64], is_gap: NDArray[np.bool_]
    ) -> Floats:
        """What `mix` makes of `on`, shape (N, C, G): the gap comes after, which costs less."""
        mixed = mix(*self.on(rows, day), self.walk)
        mixed[is_gap] = self.walk.across_gap(mixed[is_gap])
        return mixed

    def add(self, rows: NDArray[np.intp], day: int | NDArray[np.int64], likelihood: Floats) -> None:
        """Multiply answers into some rows.

        Args:
            rows: Shape (N,), each row once.
            day: The day of the answers, one for all or one each, not before the row's last.
            likelihood: P(the row's answers of that day | accuracy, threshold); shape (N, C, G).
        """
        messages, _ = self.on(rows, np.broadcast_to(day, rows.shape))
        messages, growth = absorb(messages, likelihood, out=messages)
        self._messages[rows] = messages.swapaxes(0, 1)
        self._scale[rows] += growth.T
        self._last[rows] = day

    def bring_to(self, day: int) -> None:
        """Bring all rows with answers to one day, none of them past it: reading then is quicker."""
        known = np.flatnonzero(self._last > NEVER)
        for portion in portions(known.size):
            rows = known[portion]
            messages, _ = self.on(rows, np.full(rows.shape, day))
            self._messages[rows] = messages.swapaxes(0, 1)
        self._last[known] = day

    def forget(self, rows: NDArray[np.intp]) -> None:
        """Take all answers out of some rows."""
        self._messages[rows], self._scale[rows], self._last[rows] = 1, 0, NEVER

    def grow(self, rows: int) -> None:
        """Have so many rows more, without answers."""
        for name, fill in (("_messages", 1.0), ("_scale", 0.0), ("_last", NEVER)):
            old = getattr(self, name)
            new = np.empty((len(old) + rows, *old.shape[1:]), dtype=old.dtype)
            new[: len(old)], new[len(old) :] = old, fill
            setattr(self, name, new)


def _alike(days: NDArray[np.int64]) -> Iterator[tuple[int, slice | NDArray[np.intp]]]:
    """Every different number of days with the places where it stands, runs as slices."""
    if days.size and (days == days[0]).all():
        yield int(days[0]), slice(None)
        return
    is_ascending = bool((days[1:] >= days[:-1]).all())
    order = np.arange(days.size) if is_ascending else np.argsort(days, kind="stable")
    numbers, starts = np.unique(days[order], return_index=True)
    for number, start, end in zip(numbers, starts, [*starts[1:], days.size], strict=True):
        yield int(number), slice(start, end) if is_ascending else order[start:end]


def _carry(messages: Floats, kernel: Floats) -> Floats:
    """Spread messages by a kernel, kept above 0 where rounding would go below."""
    moved = messages @ kernel
    return np.maximum(moved, _LEAST, out=moved)


def _left_of(days: Floats, walk: Walk) -> Floats:
    """What is left of each wave after some days, shape (D, N, G) for days (N,)."""
    years = np.asarray(days, dtype=np.float64) / DAYS_A_YEAR
    return np.exp(-walk.fading[:, None] * years[:, None])


def _shares(log_scale: Floats, walk: Walk) -> Floats:
    """Weights of the drift settings in each cell, without a common scale; shape (D, N)."""
    return walk.weight[:, None] * np.exp(log_scale - log_scale.max(axis=0))
