"""Wald's sequential test of right answers: stop as soon as the run says enough."""

from enum import Enum
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

_ROUNDING: Final = 1e-9  # a run that stands exactly on a line has reached it


class RunState(Enum):
    """What a run of answers has shown."""

    FINDS_IT = "finds it"
    DOES_NOT_FIND_IT = "does not find it"
    STILL_OPEN = "still open"


class Lines(NamedTuple):
    """Two parallel lines in number right against number of answers.

    Attributes:
        low: Number right at no answers on the lower line; below 0.
        high: The same on the upper line; above 0.
        slope: Right answers more per answer, on both lines; between p0 and p1.
    """

    low: float
    high: float
    slope: float


class Run(NamedTuple):
    """State of a run, and the answer that decided it.

    Attributes:
        state: What the run has shown.
        decided_at: Number of the first answer, from 1, at which a line was reached; None while
            the run is open.
    """

    state: RunState
    decided_at: int | None


def wald_lines(p0: float, p1: float, alpha: float, beta: float) -> Lines:
    """Lines between which a run of answers is still open.

    Args:
        p0: Share right of somebody who does not find it, often the guess rate.
        p1: Share right of somebody who does; above `p0`.
        alpha: Allowed chance of "finds it" for somebody at `p0`.
        beta: Allowed chance of "does not find it" for somebody at `p1`.

    Raises:
        ValueError: if shares do not lie as 0 < p0 < p1 < 1, or chances are not above 0 with a sum
            below 1.

    Source:
        Wald (1945), Ann. Math. Stat. 16:117-186; used after ISO 16820.
    """
    if not 0 < p0 < p1 < 1:
        msg = f"Shares must lie as 0 < p0 < p1 < 1, got {p0} and {p1}."
        raise ValueError(msg)
    if not (alpha > 0 and beta > 0 and alpha + beta < 1):
        msg = f"Chances must be above 0 and their sum below 1, got {alpha} and {beta}."
        raise ValueError(msg)
    right, wrong = np.log(p1 / p0), np.log((1 - p0) / (1 - p1))
    step = right + wrong
    return Lines(
        low=float(-np.log((1 - alpha) / beta) / step),
        high=float(np.log((1 - beta) / alpha) / step),
        slope=float(wrong / step),
    )


def follow_run(right: ArrayLike, lines: Lines) -> Run:
    """Say what a run of answers has shown, and since when.

    A run that has once reached a line stays decided; later answers count no more.

    Args:
        right: Whether each answer was right, in the order given; shape (n,).
        lines: From `wald_lines`.

    Returns:
        The state; still open without any answer.

    Raises:
        ValueError: if the answers are not one row of right and wrong.
    """
    answers = np.asarray(right, dtype=np.float64)
    if answers.ndim != 1 or not np.all((answers == 0) | (answers == 1)):
        msg = f"A run is one row of right (1) and wrong (0), got shape {answers.shape}."
        raise ValueError(msg)
    total, gained = np.cumsum(answers), lines.slope * np.arange(1, answers.size + 1)
    is_high = total >= lines.high + gained - _ROUNDING
    reached = np.flatnonzero(is_high | (total <= lines.low + gained + _ROUNDING))
    if not reached.size:
        return Run(RunState.STILL_OPEN, None)
    first = int(reached[0])
    state = RunState.FINDS_IT if is_high[first] else RunState.DOES_NOT_FIND_IT
    return Run(state, first + 1)
