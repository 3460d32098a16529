"""Blocks that people hold, how even they are, and exchanges that make them more even."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations
from typing import Final

from seatworthy.sessions.draw import Draw

# Exchanges tried a person, and at most; more gain nothing at the sizes a panel can taste.
_TRIED_EACH: Final = 1500
_TRIED: Final = 30_000


@dataclass
class Blocks:
    """Who holds which items, with counts that follow every change.

    Attributes:
        held: Items of each person; people who hold none yet are added by `give`.
        allowed: Items that each person may hold.
        places: Places that each item takes.
        had: For each person, how often they had two items together, on the diagonal one; None if
            nothing is known of the past.
    """

    held: list[set[int]]
    allowed: Sequence[frozenset[int]]
    places: Sequence[int]
    had: Sequence[Sequence[Sequence[int]]] | None
    times: list[int] = field(init=False)
    pairs: list[list[int]] = field(init=False)

    def __post_init__(self) -> None:
        size = len(self.places)
        self.times = [0] * size
        self.pairs = [[0] * size for _ in range(size)]
        filled = list(self.held)
        self.held += [set() for _ in range(len(self.allowed) - len(filled))]
        for block in filled:
            for item in block:
                self.times[item] += 1
            for one, other in combinations(block, 2):
                self._count(one, other, 1)

    def _count(self, one: int, other: int, by: int) -> None:
        self.pairs[one][other] += by
        self.pairs[other][one] += by

    def give(self, who: int, size: int, draw: Draw) -> None:
        """Fill somebody's block with the items that came least, as full as they fit."""
        left = _most_filled([self.places[i] for i in self.allowed[who]], size)
        block = self.held[who]
        while left > 0:
            fitting = [i for i in draw.shuffled(sorted(self.allowed[who] - block))
                       if self._leaves_fillable(who, i, left)]  # fmt: skip
            item = min(fitting, key=lambda i: self._came(who, i))
            for other in block:
                self._count(item, other, 1)
            block.add(item)
            self.times[item] += 1
            left -= self.places[item]

    def _leaves_fillable(self, who: int, item: int, left: int) -> bool:
        rest = self.allowed[who] - self.held[who] - {item}
        after = left - self.places[item]
        return after >= 0 and _most_filled([self.places[i] for i in rest], after) == after

    def _came(self, who: int, item: int) -> tuple[int, int]:
        """How often an item came, and how often with what somebody holds."""
        return self.times[item], sum(self.pairs[item][other] for other in self.held[who])

    def before(self, who: int, block: Iterable[int]) -> int:
        """How often somebody had the items of a block, and its pairs, in the past."""
        if self.had is None:
            return 0
        had, items = self.had[who], list(block)
        alone = sum(had[item][item] for item in items)
        return alone + sum(had[one][other] for one, other in combinations(items, 2))

    def pair_gain(self, one: int, other: int, mine: int, theirs: int) -> int:
        """How much the sum of squares of pair counts falls if two people exchange two items."""
        ours = self.held[one] - self.held[other] - {mine}
        yours = self.held[other] - self.held[one] - {theirs}
        left, came = self.pairs[mine], self.pairs[theirs]
        grown = sum(came[i] - left[i] + 1 for i in ours)
        return -2 * (grown + sum(left[i] - came[i] + 1 for i in yours))

    def exchange(self, one: int, other: int, mine: int, theirs: int) -> None:
        """Let two people exchange two items."""
        for who, gone, come in ((one, mine, theirs), (other, theirs, mine)):
            block = self.held[who]
            block.remove(gone)
            for item in block:
                self._count(gone, item, -1)
                self._count(come, item, 1)
            block.add(come)


def _most_filled(places: Sequence[int], size: int) -> int:
    """The most of `size` places that some of the items fill."""
    if all(place == 1 for place in places):
        return min(len(places), size)
    sums = 1
    for place in places:
        sums |= sums << place
    return next(total for total in range(size, -1, -1) if sums >> total & 1)


def exchanged(blocks: Blocks, draw: Draw) -> None:
    """Exchange items and whole blocks while pairs become more even, or the past is evened out."""
    if len(blocks.held) > 1:
        _exchange_items(blocks, draw)
        if blocks.had is not None:
            _exchange_blocks(blocks)


def _exchange_items(blocks: Blocks, draw: Draw) -> None:
    people = len(blocks.held)
    if blocks.had is None and _are_pairs_even(blocks):
        return
    for _ in range(min(_TRIED, _TRIED_EACH * people)):
        one, other = draw.below(people), draw.below(people)
        for mine, theirs in _an_exchange(blocks, one, other, draw):
            gain = blocks.pair_gain(one, other, mine, theirs)
            if gain > 0 or (gain == 0 and _past_gain(blocks, one, other, mine, theirs) >= 0):
                blocks.exchange(one, other, mine, theirs)
                if blocks.had is None and _are_pairs_even(blocks):
                    return


def _are_pairs_even(blocks: Blocks) -> bool:
    size = len(blocks.places)
    counts = [blocks.pairs[one][other] for one, other in combinations(range(size), 2)]
    return max(counts, default=0) - min(counts, default=0) <= 1


def _an_exchange(blocks: Blocks, one: int, other: int, draw: Draw) -> Iterator[tuple[int, int]]:
    """An item of each of two people, drawn, that they may exchange; nothing if there is none."""
    here = sorted((blocks.held[one] - blocks.held[other]) & blocks.allowed[other])
    there = sorted((blocks.held[other] - blocks.held[one]) & blocks.allowed[one])
    if here and there:
        mine, theirs = here[draw.below(len(here))], there[draw.below(len(there))]
        if blocks.places[mine] == blocks.places[theirs]:
            yield mine, theirs


def _past_gain(blocks: Blocks, one: int, other: int, mine: int, theirs: int) -> int:
    mine_after = blocks.held[one] - {mine} | {theirs}
    theirs_after = blocks.held[other] - {theirs} | {mine}
    now = blocks.before(one, blocks.held[one]) + blocks.before(other, blocks.held[other])
    return now - blocks.before(one, mine_after) - blocks.before(other, theirs_after)


def _exchange_blocks(blocks: Blocks) -> None:
    """Exchange whole blocks between two people until no exchange evens the past out more."""
    people = range(len(blocks.held))
    costs = [[blocks.before(who, block) for block in blocks.held] for who in people]
    places = list(people)
    original = list(blocks.held)

    def gains(one: int, other: int) -> bool:
        mine, theirs = places[one], places[other]
        may = original[theirs] <= blocks.allowed[one] and original[mine] <= blocks.allowed[other]
        after = costs[one][theirs] + costs[other][mine]
        return may and after < costs[one][mine] + costs[other][theirs]

    while True:
        found = [pair for pair in combinations(people, 2) if gains(*pair)]
        for one, other in found:
            if gains(one, other):
                places[one], places[other] = places[other], places[one]
        if not found:
            break
    blocks.held = [original[place] for place in places]
