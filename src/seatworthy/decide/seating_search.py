"""Branch and bound over panels of one size, block by block."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.decide.missing import Item
from seatworthy.decide.noses import Floats

Whole = NDArray[np.intp]

_BLOCK: Final = 1024  # parts of panels whose next people are tried at once
DIGITS: Final = 12  # chances alike to so many decimals are the same


@dataclass(frozen=True)
class Bounds:
    """What is needed to say of a part of a panel how little the whole could miss.

    Attributes:
        named: Chance to name each compound of an item; shape (P, F).
        starts: Where each item begins on the axis of F compounds.
        rest: Chance that at most b call of the r strongest from person j on, each compound by
            itself; shape (P + 1, size + 1, callers, F).
        size: People of a panel.
    """

    named: Floats
    starts: Whole
    rest: Floats
    size: int

    @classmethod
    def of(cls, named: Floats, items: Sequence[Item], callers: int, size: int) -> "Bounds":
        """Prepare them.

        Args:
            named: Chance to name each compound; shape (P, K).
            items: Places of the compounds of each item.
            callers: Independent callers that make a fault call.
            size: People of a panel.
        """
        flat = [compound for item in items for compound in item]
        starts = np.cumsum([0, *(len(item) for item in items[:-1])]).astype(np.intp)
        chances = named[:, flat]
        people = len(named)
        rest = np.zeros((people + 1, size + 1, callers, len(flat)))
        for first in range(people + 1):
            strongest = np.sort(chances[first:], axis=0)[::-1]
            counts = np.zeros((callers, len(flat)))
            counts[0] = 1.0
            for more in range(size + 1):
                rest[first, more] = counts.cumsum(axis=0)
                if more < len(strongest):
                    counts = _one_more(counts[None], strongest[more])[0]
        return cls(chances, starts, rest, size)

    def least(self, counts: Floats, following: Whole, free: int) -> Floats:
        """The least that each item could be missed; shape (N, I).

        Args:
            counts: Chances of 0 to callers - 1 calls so far; shape (N, callers, F).
            following: First person who may still be taken; shape (N,).
            free: Chairs that are free.
        """
        callers = counts.shape[1]
        rest = self.rest[following, free]
        missed = sum(counts[:, a] * rest[:, callers - 1 - a] for a in range(callers))
        if not len(self.starts) or not missed.shape[1]:
            return np.zeros((len(counts), 0))
        return np.round(np.minimum.reduceat(missed, self.starts, axis=1), DIGITS)


@dataclass(frozen=True)
class _Block:
    """N parts of panels, d people each, in the order of people."""

    people: Whole  # (N, d)
    counts: Floats  # (N, callers, F)
    others: Whole  # (N,)
    cover: Whole  # (N, I)
    least: Floats  # (N, 2): the weakest item, and the sum

    def where(self, kept: NDArray[np.bool_] | slice) -> "_Block":
        return _Block(
            self.people[kept],
            self.counts[kept],
            self.others[kept],
            self.cover[kept],
            self.least[kept],
        )


class Search:
    """One search; the first of the best panels by the order of people is kept."""

    def __init__(
        self,
        bounds: Bounds,
        meets: NDArray[np.bool_],
        is_other: NDArray[np.bool_],
        *,
        people_per_item: Whole,
        from_others: int,
        limit: float,
        most: int,
    ) -> None:
        """Set it up.

        Args:
            bounds: From `Bounds.of`.
            meets: Whether somebody meets an item; shape (P, I).
            is_other: Whether somebody did not make the batch; shape (P,).
            people_per_item: Least people who meet each item; shape (I,).
            from_others: Least people who did not make the batch.
            limit: Largest chance that an item goes uncalled.
            most: Parts of panels looked at before it is ended.
        """
        self._bounds, self._limit, self._left = bounds, limit, most
        self._meets, self._is_other = meets.astype(np.intp), is_other.astype(np.intp)
        self._need = people_per_item, from_others
        # From each person on: how many are others, and how many meet each item.
        self._others_on = np.append(self._is_other[::-1].cumsum()[::-1], 0)
        ahead = self._meets[::-1].cumsum(axis=0)[::-1]
        self._cover_on = np.vstack([ahead, np.zeros((1, meets.shape[1]), np.intp)])
        self._best: tuple[float, float] = (np.inf, np.inf)
        self._start: tuple[int, ...] | None = None
        self._found: tuple[int, ...] | None = None
        self.is_proved = True

    def start_from(self, panels: Iterable[tuple[int, ...]]) -> None:
        """Nothing worse than one of these that has all that is needed is looked at.

        Where the search is ended before it finds as good a one itself, the best of these stands.
        """
        for panel in panels:
            block = self._begun()
            for person in panel:
                block = self._with(block, np.zeros(1, np.intp), np.array([person]), len(panel))
            if self._allowed(block, 0, np.array([len(self._is_other)]))[0]:
                self._best, self._start = tuple(block.least[0].tolist()), panel

    def run(self) -> tuple[int, ...] | None:
        """The best panel; None where none has what is needed."""
        stack = [self._begun()]
        while stack:
            block = self._promising(stack.pop())
            if not len(block.people):
                continue
            if self._left <= 0:
                self.is_proved = False
                break
            grown = self._grown(block)
            if grown.people.shape[1] == self._bounds.size:
                self._take(grown)
                continue
            blocks = [
                grown.where(slice(at, at + _BLOCK)) for at in range(0, len(grown.people), _BLOCK)
            ]
            stack += blocks[::-1]
        return self._start if self._found is None else self._found

    def _begun(self) -> _Block:
        shape = self._bounds.rest.shape
        counts = np.zeros((1, shape[2], shape[3]))
        counts[:, 0] = 1.0
        nobody, items = np.zeros((1, 0), np.intp), self._meets.shape[1]
        cover = np.zeros((1, items), np.intp)
        return _Block(nobody, counts, np.zeros(1, np.intp), cover, np.zeros((1, 2)))

    def _grown(self, block: _Block) -> _Block:
        """Every part with every person that may follow."""
        depth, people = block.people.shape[1], len(self._is_other)
        last = block.people[:, -1] if depth else np.full(len(block.people), -1)
        choices = people - (self._bounds.size - depth) - last
        part = np.repeat(np.arange(len(last)), choices)
        offset = np.arange(part.size) - np.repeat(choices.cumsum() - choices, choices)
        self._left -= part.size
        free = self._bounds.size - depth - 1
        grown = self._with(block, part, last[part] + 1 + offset, self._bounds.size)
        return grown.where(self._allowed(grown, free, grown.people[:, -1] + 1))

    def _with(self, block: _Block, part: Whole, person: Whole, size: int) -> _Block:
        counts = _one_more(block.counts[part], self._bounds.named[person])
        people = np.hstack([block.people[part], person[:, None]])
        free = size - people.shape[1]
        least = self._bounds.least(counts, person + 1, free if size == self._bounds.size else 0)
        ends = np.stack([least.max(axis=1, initial=0.0), np.round(least.sum(axis=1), 10)], axis=1)
        others = block.others[part] + self._is_other[person]
        return _Block(people, counts, others, block.cover[part] + self._meets[person], ends)

    def _allowed(self, block: _Block, free: int, following: Whole) -> NDArray[np.bool_]:
        """Whether what is needed can still be had, and no better panel is known."""
        per_item, from_others = self._need
        others = block.others + np.minimum(free, self._others_on[following])
        cover = block.cover + np.minimum(free, self._cover_on[following])
        can_be = (others >= from_others) & (cover >= per_item).all(axis=1)
        return can_be & (block.least[:, 0] <= self._limit) & self._is_better(block)

    def _promising(self, block: _Block) -> _Block:
        """What is left of a block now that more is known."""
        return block.where(self._is_better(block)) if block.people.shape[1] else block

    def _is_better(self, block: _Block) -> NDArray[np.bool_]:
        worst, total = self._best
        is_less = block.least[:, 1] < total if self._found else block.least[:, 1] <= total
        return (block.least[:, 0] < worst) | ((block.least[:, 0] == worst) & is_less)

    def _take(self, block: _Block) -> None:
        """Keep the best of whole panels, the first of those alike."""
        if not len(block.people):
            return
        first = np.lexsort((np.arange(len(block.least)), block.least[:, 1], block.least[:, 0]))[0]
        self._best = tuple(block.least[first].tolist())
        self._found = tuple(int(i) for i in block.people[first])


def _one_more(counts: Floats, chance: Floats) -> Floats:
    """Chances of 0, 1, ... calls once another person has tasted; shape (N, callers, F)."""
    chance = chance[:, None] if chance.ndim == 2 else chance[None, None]
    grown = counts * (1 - chance)
    grown[:, 1:] += counts[:, :-1] * chance
    return grown
