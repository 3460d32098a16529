"""What a panel lacks: each person's gap in each compound, of which kind it is, and what it costs.

The weights are ours and have no source; `tests/decide/test_gaps.py` says what they must order.
"""

from dataclasses import dataclass, replace
from enum import IntEnum
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.stats.ability.next_answers import NextAnswers

Floats = NDArray[np.float64]
Truths = NDArray[np.bool_]
Places = NDArray[np.intp]

SURE: Final = 0.8  # chance from which on a gap is called by its kind
LEAST: Final = 4  # counted glasses below which it is too little evidence, whatever they say
OTHER: Final = 0.2  # what a compound that isn't critical weighs beside one that is
DUE: Final = 0.5  # what a met that is due soon weighs at least, as if it were so far from met
STANDS: Final = 0.1  # what is left of the weight where a met stands for long
NOBODY_KNOWS: Final = 1.5  # a critical compound of which nobody had a glass goes before others
MIXED: Final = 1.25  # for a compound that is taken for another, or another for it


class Kind(IntEnum):
    """How somebody stands with a compound; every gap is of one kind."""

    MET = 0
    TOO_LITTLE = 1
    MISNAMES = 2  # perceives it, gives it another name
    GUESSES = 3  # names things in plain beer too, so a hit says little
    WEAK = 4  # notices it too seldom at the reference level, and isn't shown to lack it
    INSENSITIVE = 5  # shown not to smell it; no fault, and no training mends it
    UNTESTED = 6  # never had a glass of it that counts
    NOT_SERVED = 7  # isn't to be served it


@dataclass(frozen=True)
class Ground:
    """P people and K compounds in one beer family: what the choice of a session rests on.

    Attributes:
        ahead: What further answers would say; its (P, K) are these.
        is_met: Whether the rule for compounds is met today; shape (P, K).
        is_insensitive: Whether somebody is shown not to smell it; shape (P, K).
        glasses: Counted glasses, whole numbers; shape (P, K).
        days_left: Days for which a met still stands, inf where nobody says; shape (P, K).
        days_since: Days since the last glass, inf without one; shape (P, K).
        may_taste: Whether somebody may be served it; shape (P, K).
        is_nose: Whether somebody's met covers the panel (a seat, or the way to one); shape (P,).
        guesses: Chance that somebody calls too often in plain beer; shape (P,).
        taken_for: Of perceived glasses, the share given the name of each other compound, and 0
            for pairs that are not mixed up; shape (P, K, K).
        threshold: Own threshold, log2 multiples; shape (P, K).
        items: Critical items, each the places of its compounds, of which one counts.
        noses_asked: How many people the rulebook asks for, for each item.
        notice_days: How long before its end a met is said to be due.
    """

    ahead: NextAnswers
    is_met: Truths
    is_insensitive: Truths
    glasses: NDArray[np.int64]
    days_left: Floats
    days_since: Floats
    may_taste: Truths
    is_nose: Truths
    guesses: Floats
    taken_for: Floats
    threshold: Floats
    items: tuple[tuple[int, ...], ...]
    noses_asked: int = 2
    notice_days: int = 30

    @property
    def chance(self) -> Floats:
        """Chance that somebody names it often enough, today; shape (P, K)."""
        return self.ahead.met[:, :, 0]

    @cached_property
    def missing_noses(self) -> NDArray[np.int64]:
        """How many people are still missing for each critical item; shape (items,)."""
        found = [self.is_met[self.is_nose][:, list(item)].any(axis=1).sum() for item in self.items]
        return np.maximum(self.noses_asked - np.array(found, dtype=np.int64), 0)

    @cached_property
    def is_asked(self) -> Truths:
        """Where a critical compound is still to be met: no other of its group is; shape (P, K)."""
        asked = np.zeros(self.is_met.shape, dtype=np.bool_)
        for item in self.items:
            for compound in item:
                rest = [other for other in item if other != compound]
                asked[:, compound] |= ~self.is_met[:, rest].any(axis=1)
        return asked

    def of(self, people: Places) -> "Ground":
        """The same for some people; find the gaps before, since cover is everybody's."""
        own = {name: getattr(self, name)[people] for name in _BY_PERSON}
        return replace(self, ahead=self.ahead.of(people), **own)

    def of_compounds(self, compounds: Places) -> "Ground":
        """The same for some compounds by their places, every critical one among them."""
        place = {int(k): n for n, k in enumerate(compounds)}
        own = {name: getattr(self, name)[:, compounds] for name in _BY_CELL}
        return replace(
            self,
            ahead=self.ahead.of_compounds(compounds),
            taken_for=self.taken_for[:, compounds][:, :, compounds],
            items=tuple(tuple(place[k] for k in item) for item in self.items),
            **own,
        )


_BY_CELL: Final = (
    "is_met", "is_insensitive", "glasses", "days_left", "days_since", "may_taste", "threshold",
)  # fmt: skip
_BY_PERSON: Final = (
    *_BY_CELL, "is_nose", "guesses", "taken_for",
)  # fmt: skip


@dataclass(frozen=True)
class Gaps:
    """Every gap of P people in K compounds; all arrays have shape (P, K).

    Attributes:
        kind: One of `Kind`.
        cost: What the gap costs, 0 or more, by which gaps are ranked; nought for none.
        weight: The part of it that another glass could mend: nought for who doesn't smell it or
            isn't to be served it.
    """

    kind: NDArray[np.int64]
    cost: Floats
    weight: Floats

    def of(self, people: Places) -> "Gaps":
        """The gaps of some people, by their places."""
        return Gaps(self.kind[people], self.cost[people], self.weight[people])

    @property
    def ranked(self) -> NDArray[np.intp]:
        """Person and compound of each gap, the dearest first; shape (gaps, 2)."""
        person, compound = np.nonzero((self.kind != Kind.MET) & (self.cost > 0))
        order = np.argsort(-self.cost[person, compound], kind="stable")
        return np.stack([person[order], compound[order]], axis=1)


def find_gaps(ground: Ground) -> Gaps:
    """Tell every gap by its kind and cost.

    The cost is the chance of not meeting the rule, times how much the compound is asked for,
    times the noses that are missing there, times what is mixed up; a met that is due soon counts
    as a gap of `DUE`.
    """
    kind = _kinds(ground)
    cost = _need(ground) * _stake(ground) * _mixed_up(ground)
    is_open = ~np.isin(kind, (Kind.INSENSITIVE, Kind.NOT_SERVED))
    return Gaps(kind, cost, np.where(is_open, cost, 0.0))


def _kinds(ground: Ground) -> NDArray[np.int64]:
    kind = np.full(ground.is_met.shape, Kind.TOO_LITTLE, dtype=np.int64)
    enough = ground.glasses >= LEAST
    kind[enough & (1 - ground.ahead.perceives >= SURE)] = Kind.WEAK
    kind[enough & (ground.guesses >= SURE)[:, None]] = Kind.GUESSES
    kind[enough & _misnames(ground)] = Kind.MISNAMES
    kind[ground.glasses == 0] = Kind.UNTESTED
    kind[ground.is_met] = Kind.MET
    kind[~ground.may_taste] = Kind.NOT_SERVED
    kind[ground.is_insensitive] = Kind.INSENSITIVE
    return kind


def _misnames(ground: Ground) -> Truths:
    """Sure enough that it is perceived often enough, and then named too seldom."""
    perceives = ground.ahead.perceives
    badly = ground.ahead.misnames / np.maximum(perceives, np.finfo(np.float64).tiny)
    return (perceives >= SURE) & (badly >= SURE)


def _need(ground: Ground) -> Floats:
    """How far from met; shape (P, K)."""
    far = 1 - ground.chance
    is_due = ground.is_met & (ground.days_left <= ground.notice_days)
    standing = np.where(is_due, np.maximum(far, DUE), STANDS * far)
    return np.where(ground.is_met, standing, far)


def _stake(ground: Ground) -> Floats:
    """How much a compound is asked for, and how few cover it; shape (P, K)."""
    stake = np.full(ground.is_met.shape, OTHER)
    asked = max(ground.noses_asked, 1)
    for item, missing in zip(ground.items, ground.missing_noses, strict=True):
        for compound in item:
            nobody = not ground.glasses[:, compound].any()
            worth = (1 + missing / asked) * (NOBODY_KNOWS if nobody else 1.0)
            asked_of = ground.is_asked[:, compound]
            stake[asked_of, compound] = np.maximum(stake[asked_of, compound], worth)
    return stake


def _mixed_up(ground: Ground) -> Floats:
    mixed = ground.taken_for > 0
    return np.where(mixed.any(axis=2) | mixed.any(axis=1), MIXED, 1.0)
