"""Chance that can be drawn again: the same seed draws the same, in every version of Python."""

import random
from collections.abc import Iterable
from typing import TypeVar

T = TypeVar("T")


class Draw:
    """A source of chance.

    Only `random.Random.random` is used: of all its methods it alone is promised to give the same
    sequence for the same seed in later versions of Python.

    Args:
        seed: A whole number, 0 or more.
    """

    def __init__(self, seed: int) -> None:
        self._chance = random.Random(seed)

    def below(self, end: int) -> int:
        """A whole number from 0 up to, and without, `end`; each is as likely as the others."""
        return int(self._chance.random() * end)

    def shuffled(self, items: Iterable[T]) -> list[T]:
        """The same items in a random order (Fisher and Yates)."""
        order = list(items)
        for last in range(len(order) - 1, 0, -1):
            other = self.below(last + 1)
            order[last], order[other] = order[other], order[last]
        return order
