"""What is known of a beer before anybody tastes it: shares of beers that have each fault."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from seatworthy.decide.noses import Floats

# Weak defaults, from memory of what release panels meet and no published source: a critical compound
# in one beer of a hundred, any other in one of five hundred, something unlisted in one of fifty (the
# share with which the weighing was simulated).
CRITICAL_SHARE: Final = 0.01
OTHER_SHARE: Final = 0.002
UNLISTED_SHARE: Final = 0.02
DEFAULT_WEIGHS: Final = 100.0  # the default weighs like so many beers whose truth is known; assumed
MOST_TOGETHER: Final = 0.95  # faults together; more leaves no room for a sound beer


@dataclass(frozen=True)
class History:
    """Beers of one family whose truth is known.

    Attributes:
        beers: How many.
        found: How many had each of K compounds; shape (K,).
        unlisted: How many had something unlisted.
    """

    beers: int
    found: Floats
    unlisted: int


def shares_from_history(history: History, usual: Floats) -> tuple[Floats, float]:
    """Shares of each compound and of something unlisted: the default, then what was found.

    Args:
        history: What became of earlier beers.
        usual: Default shares; shape (K,).
    """
    number = history.beers + DEFAULT_WEIGHS
    shares = (history.found + DEFAULT_WEIGHS * usual) / number
    return shares, (history.unlisted + DEFAULT_WEIGHS * UNLISTED_SHARE) / number


def adds_up(shares: Floats, unlisted: float) -> bool:
    """Whether the faults leave room for a sound beer."""
    return bool(np.sum(shares) + unlisted <= MOST_TOGETHER)
