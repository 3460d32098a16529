"""Random draws that stay the same on every machine and with every version of NumPy.

Only uniform numbers are taken from NumPy's generator; everything else is made from them here,
because the uniform stream is the part of it that does not change between versions.
"""

from collections.abc import Sequence
from statistics import NormalDist
from typing import TypeVar

import numpy as np

_Thing = TypeVar("_Thing")


class Draws:
    """One stream of chance, apart from all others.

    Args:
        seed: Whole number the sample starts from.
        stream: Whole numbers that tell this stream from the others, so that a change of one
            person or one session leaves the chances of the rest as they were.
    """

    def __init__(self, seed: int, *stream: int) -> None:
        self._generator = np.random.default_rng([seed, *stream])

    def chance(self) -> float:
        """A number from 0 (included) to 1 (not included)."""
        return float(self._generator.random())

    def bell(self) -> float:
        """A number from the normal distribution with mean 0 and spread 1."""
        return NormalDist().inv_cdf(min(max(self.chance(), 1e-12), 1 - 1e-12))

    def shuffled(self, things: Sequence[_Thing]) -> list[_Thing]:
        """The same things in random order."""
        keys = [self.chance() for _ in things]
        return [things[i] for i in sorted(range(len(things)), key=keys.__getitem__)]

    def one_of(self, weighted: Sequence[tuple[_Thing, float]]) -> _Thing:
        """One thing of several; each comes with its weight."""
        return pick(self.chance(), weighted)


def pick(chance: float, weighted: Sequence[tuple[_Thing, float]]) -> _Thing:
    """The thing on which a chance between 0 and 1 falls, when each is as wide as its weight."""
    left = chance * sum(weight for _, weight in weighted)
    for thing, weight in weighted:
        left -= weight
        if left < 0:
            return thing
    return weighted[-1][0]
