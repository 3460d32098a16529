"""Orders for people who taste different things, as even in place and neighbour as can be."""

from collections import Counter
from collections.abc import Callable, Sequence
from itertools import combinations, pairwise
from typing import Final

from seatworthy.sessions.draw import Draw

Groups = Sequence[Sequence[str]]
# What counts more: two glasses of one sample side by side, then places, then neighbours.
_SIDE_BY_SIDE: Final = 1000
_PLACE: Final = 3
_ROUNDS: Final = 2


def even_orders(
    people: Sequence[Groups], had: Callable[[int, str, int], int], draw: Draw
) -> list[list[str]]:
    """Order what each person tastes, group after group.

    Each order starts at random and is then improved by exchanging two of one group, while the same
    sample stands less often in one place and after one neighbour over the panel; everybody's is
    looked at again once all have one.

    Args:
        people: The groups of each person, in the order in which groups are served.
        had: How often person number so-and-so had a letter at a place (from 1) before.
        draw: The source of chance.
    """
    orders = [[mark for group in groups for mark in draw.shuffled(group)] for groups in people]
    tally = _Tally(had)
    for who, order in enumerate(orders):
        tally.improve(who, order, people[who])
        tally.count(order, 1)
    for _ in range(_ROUNDS - 1):
        for who, order in enumerate(orders):
            tally.count(order, -1)
            tally.improve(who, order, people[who])
            tally.count(order, 1)
    return orders


class _Tally:
    """How often each letter stood in each place, and right after each other one."""

    def __init__(self, had: Callable[[int, str, int], int]) -> None:
        self._had = had
        self._places: Counter[tuple[str, int]] = Counter()
        self._following: Counter[tuple[str, str]] = Counter()

    def count(self, order: Sequence[str], by: int) -> None:
        for place, mark in enumerate(order, start=1):
            self._places[mark, place] += by
        for pair in pairwise(order):
            self._following[pair] += by

    def improve(self, who: int, order: list[str], groups: Groups) -> None:
        """Exchange two places within a group while that makes the order more even."""
        best = self._cost(who, order)
        is_better = True
        while is_better:
            is_better = False
            for one, other in _within(groups):
                order[one], order[other] = order[other], order[one]
                cost = self._cost(who, order)
                if cost < best:
                    best, is_better = cost, True
                else:
                    order[one], order[other] = order[other], order[one]

    def _cost(self, who: int, order: Sequence[str]) -> int:
        placed = sum(
            self._places[mark, place] + self._had(who, mark, place)
            for place, mark in enumerate(order, start=1)
        )
        met = sum(
            _SIDE_BY_SIDE if one == other else self._following[one, other]
            for one, other in pairwise(order)
        )
        return _PLACE * placed + met


def _within(groups: Groups) -> list[tuple[int, int]]:
    """Pairs of places that stand in one group."""
    found, start = [], 0
    for group in groups:
        found += combinations(range(start, start + len(group)), 2)
        start += len(group)
    return found
