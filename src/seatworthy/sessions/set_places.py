"""Where the glass that differs stands in each forced-choice set, evened out over the panel."""

from collections import Counter
from collections.abc import Mapping, Sequence
from itertools import product
from types import MappingProxyType
from typing import Final

from seatworthy.sessions.draw import Draw
from seatworthy.sessions.wish import SETS

# True is a spiked glass, False a blank; from left to right.
Pattern = tuple[bool, ...]

_TRIANGLE: Final = "triangle"


def patterns_of(method: str) -> tuple[Pattern, ...]:
    """Every way a set of a method can be filled, each as good as the others.

    A set holds one spiked glass beside blanks; a triangle may also hold one blank beside two
    spiked glasses, which makes six orders.

    Args:
        method: One of `wish.SETS`.

    Source:
        The six orders of the triangle test as in ISO 4120, from memory.
    """
    size = SETS[method]
    spiked = {1, size - 1} if method == _TRIANGLE else {1}
    filled = product((True, False), repeat=size)
    return tuple(pattern for pattern in filled if sum(pattern) in spiked)


def odd_place(pattern: Pattern) -> int:
    """The place of the glass that differs, from 0; in a set of two, of the spiked glass."""
    return pattern.index(not (len(pattern) > 2 and sum(pattern) > 1))


def even_patterns(
    orders: Sequence[Sequence[str]], methods: Mapping[str, str], draw: Draw
) -> tuple[tuple[Pattern, ...], ...]:
    """Fill the sets of some people so that no place tells anything.

    Over the panel each pattern of a method comes at most once more often than another. Beyond that,
    patterns even out within a sample, and places within a person, as far as they can.

    Args:
        orders: Letters of each person, in the order of serving.
        methods: Method of each letter.
        draw: The source of chance; not asked if there is no set.

    Returns:
        One pattern for each letter of each order; () for a single glass.
    """
    filled: list[list[Pattern]] = [[() for _ in order] for order in orders]
    tally = _Tally()
    for place in range(max(map(len, orders), default=0)):
        for who in _with_a_set(orders, methods, place, draw):
            mark = orders[who][place]
            filled[who][place] = tally.rarest(who, mark, methods[mark], draw)
    return tuple(map(tuple, filled))


def _with_a_set(
    orders: Sequence[Sequence[str]], methods: Mapping[str, str], place: int, draw: Draw
) -> list[int]:
    """Who has a set at a place, in a random order."""
    return draw.shuffled(
        who
        for who, order in enumerate(orders)
        if place < len(order) and methods[order[place]] in SETS
    )


class _Tally:
    """How often each pattern came over the panel and within a sample, each place for a person."""

    def __init__(self) -> None:
        self._panel: Counter[tuple[str, Pattern]] = Counter()
        self._sample: Counter[tuple[str, Pattern]] = Counter()
        self._person: Counter[tuple[int, int]] = Counter()

    def rarest(self, who: int, mark: str, method: str, draw: Draw) -> Pattern:
        """The pattern that came least so far, and count it."""

        def came(pattern: Pattern) -> tuple[int, int]:
            beyond = self._sample[mark, pattern] + self._person[who, odd_place(pattern)]
            return self._panel[method, pattern], beyond

        pattern = min(draw.shuffled(PATTERNS[method]), key=came)
        self._panel[method, pattern] += 1
        self._sample[mark, pattern] += 1
        self._person[who, odd_place(pattern)] += 1
        return pattern


PATTERNS: Final = MappingProxyType({method: patterns_of(method) for method in SETS})
