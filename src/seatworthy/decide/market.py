"""What can be bought with the glasses of a session, what it is worth, and a search for the best."""

from collections import Counter
from dataclasses import dataclass
from heapq import nlargest
from typing import Final

import numpy as np

from seatworthy.decide.gaps import Floats, Gaps, Ground
from seatworthy.decide.jugs import TWICE, Asked, Basket, Jug, Part, Why
from seatworthy.decide.lessons import Lesson, find_lessons
from seatworthy.decide.telling import chance_to_decide, information_bits

Parts = tuple[Part, ...]

_SINGLES: Final = 12  # single compounds looked at in each step of the search
_LESSONS: Final = 24  # lessons looked at
_STARTS: Final = 6  # of these, from which a search begins
_BETTERED: Final = 2  # of the baskets found, those that are bettered by exchanges
_OF_ONE: Final = 4  # most glasses of one compound in a session, at whatever levels
_LEAST: Final = 1e-12


@dataclass(frozen=True)
class Wanted:
    """How much is to be told, the rest being taught, and the most that could be of each."""

    tells: float
    most_told: float = 1.0
    most_taught: float = 1.0


@dataclass(frozen=True)
class Market:
    """What can be bought with glasses, and what it is worth.

    Attributes:
        tell: Weighed bits that none, one and two glasses of each compound tell.
        lessons: What can be taught, the most worth first, at most `_LESSONS`.
        plain: Bits of one and of two glasses, not weighed; shape (K, 2).
        decides: Expected number of people that they decide; shape (K, 2).
        level: The reference level.
    """

    tell: tuple[tuple[float, ...], ...]
    lessons: tuple[Lesson, ...]
    plain: Floats
    decides: Floats
    level: float

    @classmethod
    def build(cls, ground: Ground, gaps: Gaps, asked: Asked) -> "Market":
        """Price everything."""
        weight = np.where(asked.can_pour, gaps.weight, 0.0)
        bits = [information_bits(ground.ahead, number) for number in range(1, TWICE + 1)]
        totals = np.stack([(weight * each).sum(axis=0) for each in bits], axis=1)
        tastes = ground.may_taste & asked.can_pour
        plain = np.stack([(each * tastes).sum(axis=0) for each in bits], axis=1)
        decides = [
            chance_to_decide(ground, asked.limits, n).sum(axis=0) for n in range(1, TWICE + 1)
        ]
        return cls(
            tuple((0.0, *own) for own in totals.tolist()),
            tuple(find_lessons(ground, gaps, asked)[:_LESSONS]),
            plain,
            np.stack(decides, axis=1),
            asked.reference_level,
        )

    def told(self, basket: Basket) -> float:
        """Weighed bits of a basket."""
        return sum(self.tell[k][n] for (k, level), n in basket.items() if level == self.level)

    def taught(self, basket: Basket) -> float:
        """What a basket teaches."""
        return sum(one.worth for one in self.lessons if all(p in basket for p in one.parts))

    def value(self, basket: Basket, want: "Wanted") -> float:
        """What a basket is worth to a leader who wants so much to be told and the rest taught."""
        told = self.told(basket) / want.most_told if want.tells else 0.0
        taught = self.taught(basket) / want.most_taught if want.tells < 1 else 0.0
        return want.tells * told + (1 - want.tells) * taught

    def fill(self, glasses: int, want: "Wanted") -> Basket:
        """Buy with so many glasses: greedily, from nothing and from each of the best lessons.

        The best baskets are bettered by exchanges, and the best one of these is taken. Where only what is told
        counts the greedy basket is the best there is, since each further glass of a compound tells
        less than the one before.
        """
        if want.tells == 1:
            return self._filled({}, glasses, want)
        starts = [
            _with({}, one.parts) for one in self.lessons[:_STARTS] if len(one.parts) <= glasses
        ]
        filled = [self._filled(start, glasses, want) for start in ({}, *starts)]
        best = nlargest(_BETTERED, filled, key=lambda basket: self.value(basket, want))
        bettered = [self._exchanged(basket, want) for basket in best]
        return max(bettered, key=lambda basket: self.value(basket, want))

    def _filled(self, basket: Basket, glasses: int, want: "Wanted") -> Basket:
        """Add what is worth most for its glasses until none is left."""
        while (left := glasses - sum(basket.values())) > 0:
            now = self.value(basket, want)
            moves = self._moves(basket, left)
            if not moves:
                break
            best = max((self._worth(basket, parts, want, now), parts) for parts in moves)
            basket = _with(basket, best[1])
        return basket

    def _worth(
        self, basket: Basket, parts: Parts, want: "Wanted", now: float
    ) -> tuple[float, float]:
        """What parts add for each glass; where that is alike, what they tell."""
        more = _with(basket, parts)
        return (self.value(more, want) - now) / len(parts), self.told(more)

    def _moves(self, basket: Basket, left: int) -> list[Parts]:
        """Single glasses that tell something, and what lessons still lack."""
        lacking = [tuple(p for p in one.parts if p not in basket) for one in self.lessons]
        lessons = [parts for parts in lacking if 0 < len(parts) <= left]
        every = [*(((k, self.level),) for k in self._worth_telling(basket)), *lessons]
        poured = Counter(k for (k, _), n in basket.items() for _ in range(n))
        return [parts for parts in every if _is_bearable(poured, parts)]

    def _worth_telling(self, basket: Basket) -> list[int]:
        """The dozen compounds of which one more glass tells most."""
        poured = {k: n for (k, level), n in basket.items() if level == self.level}
        more = {
            k: own[n + 1] - own[n]
            for k, own in enumerate(self.tell)
            if (n := poured.get(k, 0)) < TWICE and own[n + 1] - own[n] > _LEAST
        }
        return nlargest(_SINGLES, more, key=more.__getitem__)

    def _exchanged(self, basket: Basket, want: "Wanted") -> Basket:
        """Give single glasses back for better ones, while there are such."""
        for _ in range(sum(basket.values())):
            now = self.value(basket, want)
            others = [
                _with(less, parts)
                for out in basket
                for less in [_without(basket, out)]
                for parts in self._moves(less, 1)
            ]
            best = max(others, key=lambda other: self.value(other, want), default=basket)
            if self.value(best, want) <= now + _LEAST:
                break
            basket = best
        return basket

    def jugs(self, basket: Basket) -> list[Jug]:
        """The jugs of a basket, each with what it is there for."""
        whole = [one for one in self.lessons if all(part in basket for part in one.parts)]
        found = []
        for (compound, level), glasses in basket.items():
            lesson = next((one for one in whole if (compound, level) in one.parts), None)
            why = lesson.why if lesson else Why.TELLS
            other = None
            if lesson and why is Why.PAIR:
                other = next(k for k, _ in lesson.parts if k != compound)
            at_reference = level == self.level
            bits = float(self.plain[compound, glasses - 1]) if at_reference else 0.0
            decides = float(self.decides[compound, glasses - 1]) if at_reference else 0.0
            found.append(Jug(compound, level, glasses, why, other, bits, decides))
        return found


def _is_bearable(poured: Counter[int], parts: Parts) -> bool:
    """Whether no compound is poured too often with these parts."""
    more = poured + Counter(k for k, _ in parts)
    return max(more[k] for k, _ in parts) <= _OF_ONE


def _with(basket: Basket, parts: Parts) -> Basket:
    more = dict(basket)
    for part in parts:
        more[part] = more.get(part, 0) + 1
    return more


def _without(basket: Basket, part: Part) -> Basket:
    return {key: n - (key == part) for key, n in basket.items() if n - (key == part) > 0}
