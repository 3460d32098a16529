"""Thresholds that nobody can put a number on, since every level poured lies to one side of them."""

from enum import IntEnum

import numpy as np
from numpy.typing import ArrayLike, NDArray

from seatworthy.stats.ability.settings import Settings


class Edge(IntEnum):
    """Which end of the thresholds sought an interval touches."""

    BELOW = -1
    """The lower one: the threshold is known only to lie below its upper end."""
    WITHIN = 0
    """Neither."""
    ABOVE = 1
    """The upper one: it is known only to lie above its lower end."""
    ANYWHERE = 2
    """Both: nothing is known."""


def edge_of(low: ArrayLike, high: ArrayLike, settings: Settings) -> NDArray[np.int64]:
    """Say which intervals of thresholds must not be reported as numbers.

    An interval touches an end of the grid if it reaches into the outermost step.

    Args:
        low: Lower ends, log2 multiples; any shape.
        high: Upper ends; same shape.
        settings: Numbers of the model.

    Returns:
        `Edge` codes, shaped like the ends.

    Raises:
        ValueError: if a lower end lies above its upper end, or one is not known.
    """
    lower, upper = np.broadcast_arrays(np.asarray(low, float), np.asarray(high, float))
    if not np.all(lower <= upper):
        msg = "Every lower end must be known and lie at or below its upper end."
        raise ValueError(msg)
    outermost = settings.theta_limit - settings.theta_step / 2
    touches_low, touches_high = lower <= -outermost, upper >= outermost
    both = touches_low & touches_high
    one = np.where(touches_low, int(Edge.BELOW), np.where(touches_high, int(Edge.ABOVE), 0))
    return np.where(both, int(Edge.ANYWHERE), one)
