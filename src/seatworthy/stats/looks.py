"""What counting rules do to somebody with a constant rate, repeated looks included: exact.

Every answer is right with the same chance and independent of the others. A rule is looked at again
and again, and each look may change where somebody stands: open, met or not met. What is asked is
where the last look leaves them, and whether any look ever said met, or not met.
"""

from collections.abc import Sequence
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from seatworthy.stats.guessing import binomial_tail
from seatworthy.stats.sequential import Lines

MOST_BITS: Final = 14  # a window of 14 answers has 16,384 contents; a longer one must be simulated
ROUNDING: Final = 1e-9  # 7 of 10 is a share of .70, and a run on a line has reached it

Floats = NDArray[np.float64]

# Mass by standing, whether ever met, whether ever not met, what the rule remembers, and rate.
_OPEN, _MET, _NOT_MET = range(3)


class Odds(NamedTuple):
    """Chances shaped like the rates asked; open at the end is what the two ends leave to 1.

    Attributes:
        met_at_end: Met at the last look.
        ever_met: Met at one look at least.
        not_met_at_end: Not met at the last look.
        ever_not_met: Not met at one look at least.
    """

    met_at_end: Floats
    ever_met: Floats
    not_met_at_end: Floats
    ever_not_met: Floats


def sliding_window(
    rate: ArrayLike,
    glasses: int,
    window: int,
    right: int,
    leave_at: int,
    looks: Sequence[int] | None = None,
) -> Odds:
    """So many right of the latest so many, looked at again and again; between the limits it stays.

    A Markov chain over what the latest answers were.

    Args:
        rate: Chances of a right answer, fractions; any shape.
        glasses: Answers in all.
        window: Answers looked at, the latest; none is looked at before there are so many.
        right: Least right among them for met.
        leave_at: Most right among them for not met, below `right`.
        looks: After which answers one looks, counted from 1; after every one if None.

    Raises:
        ValueError: if a rate is no fraction, the limits don't fit or the window is above 14.
    """
    _check_window(window, right, leave_at)
    if window > MOST_BITS:
        msg = f"Exact only for windows of up to {MOST_BITS} answers, got {window}."
        raise ValueError(msg)
    chances, count = _flat(rate), _ones_in(window)
    looked_at = set(range(1, glasses + 1) if looks is None else looks)
    mass = _nobody_yet(count.size, chances.size)
    for number in range(1, glasses + 1):
        mass = _shift_in(mass, chances)
        if number >= window and number in looked_at:
            _settle(mass, _MET, count >= right)
            _settle(mass, _NOT_MET, count <= leave_at)
    return _read(mass, np.shape(rate))


def apart_windows(rate: ArrayLike, glasses: int, window: int, right: int, leave_at: int) -> Odds:
    """So many right in a window of its own answers; the last full window that says so decides.

    Args:
        rate: Chances of a right answer, fractions; any shape.
        glasses: Answers in all; those after the last full window count in none.
        window: Answers in a window.
        right: Least right in it for met.
        leave_at: Most right in it for not met, below `right`; between the two nothing changes.

    Raises:
        ValueError: if a rate is no fraction or the limits don't fit.
    """
    _check_window(window, right, leave_at)
    chances = _flat(rate).reshape(np.shape(rate))
    met = binomial_tail(right, window, chances)
    bad = 1 - binomial_tail(leave_at + 1, window, chances)
    between, windows = 1 - met - bad, glasses // window
    earlier = np.zeros_like(chances)  # chance that the last saying window is so many back, summed
    for back in range(windows):
        earlier = earlier + between**back
    return Odds(met * earlier, 1 - (1 - met) ** windows, bad * earlier, 1 - (1 - bad) ** windows)


def sequential_run(rate: ArrayLike, lines: Lines, most: int, *, starts_anew: bool = True) -> Odds:
    """A walk between Wald's lines; the last completed run decides.

    Args:
        rate: Chances of a right answer, fractions; any shape.
        lines: From `wald_lines`.
        most: Answers in all.
        starts_anew: Whether a completed run is followed by a new one, or is the end.

    Raises:
        ValueError: if a rate is no fraction or `most` is negative.
    """
    if most < 0:
        msg = f"The number of answers must not be negative, got {most}."
        raise ValueError(msg)
    chances = _flat(rate)
    met, bad = _first_passages(chances, lines, most)
    still_open = 1 - np.cumsum(met + bad, axis=0)
    ended = np.zeros((most + 1, 3, 2, 2, chances.size))  # mass whose latest run ended just then
    ended[0, _OPEN, 0, 0] = 1
    for end in range(1, most + 1):
        for start in range(end) if starts_anew else (0,):
            before = ended[start].sum(axis=0)
            ended[end, _MET, 1] += before.sum(axis=0) * met[end - start]
            ended[end, _NOT_MET, :, 1] += before.sum(axis=1) * bad[end - start]
    left = still_open[::-1] if starts_anew else np.ones_like(still_open)
    left[0] = still_open[most]
    mass = np.einsum("nsabr,nr->sabr", ended, left)
    return _read(mass[:, :, :, None], np.shape(rate))


def running_count(
    rate: ArrayLike, glasses: ArrayLike, met_from: ArrayLike, not_met_to: ArrayLike
) -> Odds:
    """Limits for the number right of all answers so far; every look stands by itself.

    Args:
        rate: Chances of a right answer, fractions; any shape.
        glasses: Answers so far at each look, not falling; shape (L,).
        met_from: Least right for met at each look; inf for never; shape (L,).
        not_met_to: Most right for not met at each look; -inf for never; shape (L,).

    Raises:
        ValueError: if a rate is no fraction, the numbers fall or the shapes differ.
    """
    number = np.asarray(glasses, dtype=np.intp)
    least, most = (np.asarray(limit, dtype=np.float64) for limit in (met_from, not_met_to))
    if number.ndim != 1 or number.shape != least.shape or number.shape != most.shape:
        msg = f"One number and two limits a look, got {number.shape}, {least.shape}, {most.shape}."
        raise ValueError(msg)
    if np.any(np.diff(number, prepend=0) < 0):
        msg = "The number of answers so far must not fall from look to look."
        raise ValueError(msg)
    chances = _flat(rate)
    count = np.arange(number.max(initial=0) + 1)
    mass = _nobody_yet(count.size, chances.size)
    for more, upper, lower in zip(np.diff(number, prepend=0), least, most, strict=True):
        for _ in range(more):
            mass = _count_up(mass, chances)
        _settle(mass, _OPEN, (count < upper) & (count > lower))
        _settle(mass, _MET, count >= upper)
        _settle(mass, _NOT_MET, (count <= lower) & (count < upper))
    return _read(mass, np.shape(rate))


def running_share(rate: ArrayLike, glasses: ArrayLike, share: float, least: int) -> Odds:
    """A least share right of all answers so far: met, else not met, once there are enough.

    Args:
        rate: Chances of a right answer, fractions; any shape.
        glasses: Answers so far at each look, not falling; shape (L,). One look, at the end, is the
            binomial tail.
        share: Least share, a fraction.
        least: Fewest answers for either.

    Raises:
        ValueError: as for `running_count`, or if `share` is no fraction.
    """
    if not 0 <= share <= 1:
        msg = f"A share is a fraction from 0 to 1, got {share}."
        raise ValueError(msg)
    number = np.asarray(glasses, dtype=np.float64)
    needed = np.ceil(share * number - ROUNDING)
    is_enough = number >= max(least, 1)
    met_from = np.where(is_enough, needed, np.inf)
    return running_count(rate, glasses, met_from, np.where(is_enough, needed - 1, -np.inf))


def _check_window(window: int, right: int, leave_at: int) -> None:
    if not 0 <= leave_at < right <= window:
        msg = (
            "Limits must lie as 0 <= leave_at < right <= window, "
            f"got {leave_at}, {right} and {window}."
        )
        raise ValueError(msg)


def _flat(rate: ArrayLike) -> Floats:
    chances = np.asarray(rate, dtype=np.float64).ravel()
    if not np.all((chances >= 0) & (chances <= 1)):
        msg = "A rate of right answers must be a fraction from 0 to 1."
        raise ValueError(msg)
    return chances


def _nobody_yet(states: int, rates: int) -> Floats:
    """All mass open, at the first of the remembered states; shape (3, 2, 2, states, rates)."""
    mass = np.zeros((3, 2, 2, states, rates))
    mass[_OPEN, 0, 0, 0] = 1
    return mass


def _shift_in(mass: Floats, chances: Floats) -> Floats:
    """One more answer as the lowest bit of the window; the highest one falls out."""
    half = mass.shape[3] // 2
    kept = mass[:, :, :, :half] + mass[:, :, :, half:]
    moved = np.stack([kept * (1 - chances), kept * chances], axis=4)
    return moved.reshape(mass.shape)


def _count_up(mass: Floats, chances: Floats) -> Floats:
    """One more answer in the count of those right."""
    moved = mass * (1 - chances)
    moved[:, :, :, 1:] += mass[:, :, :, :-1] * chances
    return moved


def _settle(mass: Floats, standing: int, where: NDArray[np.bool_]) -> None:
    """Give everybody whose memory is in `where` one standing, and remember it; in place."""
    moved = mass[:, :, :, where].sum(axis=0)  # by ever met, ever not met
    if standing == _MET:
        moved = np.stack([np.zeros_like(moved[0]), moved.sum(axis=0)])
    if standing == _NOT_MET:
        total = moved.sum(axis=1)
        moved = np.stack([np.zeros_like(total), total], axis=1)
    mass[:, :, :, where] = 0
    mass[standing][:, :, where] = moved


def _read(mass: Floats, shape: tuple[int, ...]) -> Odds:
    by = mass.sum(axis=3)
    parts = (
        by[_MET].sum(axis=(0, 1)),
        by[:, 1].sum(axis=(0, 1)),
        by[_NOT_MET].sum(axis=(0, 1)),
        by[:, :, 1].sum(axis=(0, 1)),
    )
    return Odds(*(part.reshape(shape) for part in parts))


def _ones_in(bits: int) -> NDArray[np.intp]:
    """How many bits are set in 0 to 2^bits - 1."""
    number = np.arange(2**bits)
    return (number[:, None] >> np.arange(bits) & 1).sum(axis=1)


def _first_passages(chances: Floats, lines: Lines, most: int) -> tuple[Floats, Floats]:
    """Chance that a run first reaches the upper, the lower line at each answer; (most + 1, R)."""
    count = np.arange(most + 1)
    inside = np.zeros((most + 1, chances.size))
    inside[0] = 1
    met, bad = np.zeros((2, most + 1, chances.size))
    for number in range(1, most + 1):
        moved = inside * (1 - chances)
        moved[1:] += inside[:-1] * chances
        is_high = count >= lines.high + lines.slope * number - ROUNDING
        is_low = ~is_high & (count <= lines.low + lines.slope * number + ROUNDING)
        met[number], bad[number] = moved[is_high].sum(axis=0), moved[is_low].sum(axis=0)
        moved[is_high | is_low] = 0
        inside = moved
    return met, bad
