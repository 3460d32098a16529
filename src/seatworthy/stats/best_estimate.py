"""Best-estimate threshold of an ascending forced-choice series: a quick figure, easily redone."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def individual_threshold(levels: ArrayLike, right: ArrayLike) -> float:
    """Geometric mean of the highest level missed and the next one.

    A hit below a later miss counts as luck. All right: half a step (on the log scale) below the
    lowest level, the step being that to its neighbour; a miss at the highest level: half a step
    above it. Neighbouring levels may differ in their ratio.

    Args:
        levels: Levels in ascending order, any unit, > 0; shape (S,), S >= 2.
        right: Whether each was answered right; shape (S,).

    Returns:
        The threshold, in the unit of `levels`.

    Raises:
        ValueError: if there are fewer than two levels, levels do not ascend from above 0 or the
            shapes differ.

    Source:
        ASTM E679 and ISO 13301 (rule of the middle; end rules as commonly given with them).
    """
    steps, hits = _checked(levels, right)
    missed = np.flatnonzero(~hits)
    if not missed.size:
        return float(steps[0] / np.sqrt(steps[1] / steps[0]))
    last = int(missed[-1])
    if last == steps.size - 1:
        return float(steps[-1] * np.sqrt(steps[-1] / steps[-2]))
    return float(np.sqrt(steps[last] * steps[last + 1]))


def group_threshold(levels: ArrayLike, right: ArrayLike) -> tuple[float, float]:
    """Geometric mean of individual thresholds, and how far they lie apart.

    Args:
        levels: Levels in ascending order, > 0; shape (S,).
        right: Whether each was answered right, one row a person; shape (A, S), A >= 1.

    Returns:
        The group's threshold, in the unit of `levels`, and the standard deviation of the log10
        thresholds (divisor A - 1; nan for one person).

    Raises:
        ValueError: as for `individual_threshold`, or if nobody answered.

    Source:
        ASTM E679, ISO 13301.
    """
    answers = np.asarray(right, dtype=np.bool_)
    if answers.ndim != 2 or not len(answers):
        msg = f"One row a person is needed, got an array of shape {answers.shape}."
        raise ValueError(msg)
    logs = np.log10([individual_threshold(levels, row) for row in answers])
    spread = float(np.std(logs, ddof=1)) if logs.size > 1 else float("nan")
    return float(10 ** logs.mean()), spread


def _checked(levels: ArrayLike, right: ArrayLike) -> tuple[NDArray[np.float64], NDArray[np.bool_]]:
    steps, hits = np.asarray(levels, dtype=np.float64), np.asarray(right, dtype=np.bool_)
    if steps.ndim != 1 or steps.size < 2 or steps.shape != hits.shape:
        msg = (
            f"A series of at least two levels with one answer each is needed, "
            f"got shapes {steps.shape} and {hits.shape}."
        )
        raise ValueError(msg)
    if steps[0] <= 0 or np.any(np.diff(steps) <= 0):
        msg = "Levels must ascend from above 0."
        raise ValueError(msg)
    return steps, hits
