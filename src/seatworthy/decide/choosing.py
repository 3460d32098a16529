"""Chooses what to pour next: what tells most about the verdicts, what teaches most, a part uniform.

A session is a list of jugs from which everybody tastes. What a jug *tells* is the expected
information about the verdict, in bits: the mutual information between the answers and "the rate
at the reference level is good enough" (Lindley 1956, Ann. Math. Stat. 27:986-1005), summed over
people and weighed by what their gaps cost. What it *teaches* is ours and has no source: two
compounds that somebody mixes up, side by side; steps around the own threshold of whoever notices
a compound too seldom, or guesses. A jug of a pair tells as well.

Jugs are added one move at a time, the best for its glasses first, and then exchanged one for one
while that helps. That is no proof of the best session: on 200 small cases the search was never
below 95% of the exhaustive one and mostly equal (tests/decide/test_choosing.py).
"""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from seatworthy.decide.gaps import Gaps, Ground
from seatworthy.decide.jugs import TWICE, Asked, Jug, Limits, Why
from seatworthy.decide.market import Market, Wanted
from seatworthy.decide.telling import chance_to_decide

__all__ = ["Asked", "Chosen", "Jug", "Limits", "Why", "choose", "people_decided", "uniform_glasses"]

UNIFORM: Final = 0.175  # share of the glasses kept for everybody alike: between 15 and 20%
LONG: Final = 180.0  # days without a glass after which a compound is due for everybody alike
_NEVER: Final = 1e6  # days; stands for never in a mean


@dataclass(frozen=True)
class Chosen:
    """A session.

    Attributes:
        jugs: What is poured.
        told: Weighed bits, of `most_told` that this many glasses could tell.
        taught: What it teaches, of `most_taught`.
    """

    jugs: tuple[Jug, ...]
    told: float
    most_told: float
    taught: float
    most_taught: float

    @property
    def glasses(self) -> int:
        """How many glasses everybody gets."""
        return sum(jug.glasses for jug in self.jugs)


def choose(ground: Ground, gaps: Gaps, asked: Asked) -> Chosen:
    """Choose the jugs of the next session for all people of the ground.

    Nobody on the ground, or nothing that can be poured, makes a session of blanks alone or none:
    look at `jugs`.
    """
    if not len(ground.glasses) or not asked.can_pour.any():  # nobody, or nothing to pour
        return Chosen((), 0.0, 0.0, 0.0, 0.0)
    uniform = uniform_glasses(asked.glasses, asked.turn)
    market = Market.build(ground, gaps, asked)
    free = max(asked.glasses - uniform, 0)
    told_all, taught_all = market.fill(free, Wanted(1.0)), market.fill(free, Wanted(0.0))
    most_told, most_taught = market.told(told_all), market.taught(taught_all)
    tells = asked.tells if most_taught > 0 else 1.0
    basket = market.fill(free, Wanted(tells, most_told or 1.0, most_taught or 1.0))
    jugs = _with_uniform(market.jugs(basket), ground, asked, uniform)
    return Chosen(jugs, market.told(basket), most_told, market.taught(basket), most_taught)


def people_decided(ground: Ground, chosen: Chosen, asked: Asked) -> float:
    """Expected number of people of whom a verdict on some compound would be settled."""
    undecided = np.ones(len(ground.glasses))
    for jug in chosen.jugs:
        if jug.compound is not None and jug.level == asked.reference_level:
            chance = chance_to_decide(ground, asked.limits, jug.glasses)
            undecided *= 1 - chance[:, jug.compound]
    return float((1 - undecided).sum())


def uniform_glasses(glasses: int, turn: int) -> int:
    """How many glasses of a session are for everybody alike; at least one, on average 17.5%."""
    share = int(UNIFORM * glasses * (turn + 1)) - int(UNIFORM * glasses * turn)
    return min(max(share, 1), glasses)


_TURNS: Final = (Why.LONG_AGO, Why.HIDDEN_PAIR, Why.BLANK)


def _with_uniform(jugs: list[Jug], ground: Ground, asked: Asked, glasses: int) -> tuple[Jug, ...]:
    """Add the glasses that are for everybody alike: a blank, then by turns.

    Where somebody still needs blanks, the second one is a blank too. What nobody had for long, a
    hidden pair and a further blank take turns; a turn that has nothing to give passes.
    """
    rests = [k for k in _long_ago(ground, asked) if (k, asked.reference_level) not in _known(jugs)]
    blanks, left = 1, glasses - 1
    if left and asked.blanks_missing:
        blanks, left = TWICE, left - 1
    for number in range(len(_TURNS) * glasses):
        turn = _TURNS[(number + asked.turn) % len(_TURNS)]
        single = _single(jugs, asked.reference_level)
        if not left:
            break
        if turn is Why.LONG_AGO and rests:
            jugs, left = [*jugs, Jug(rests.pop(0), asked.reference_level, 1, turn)], left - 1
        elif turn is Why.HIDDEN_PAIR and single is not None:
            jugs, left = [*jugs], left - 1
            jugs[single] = replace(jugs[single], glasses=TWICE, is_hidden_pair=True)
        elif turn is Why.BLANK and blanks < TWICE:
            blanks, left = blanks + 1, left - 1
    return (*jugs, Jug(None, None, blanks, Why.BLANK))


def _single(jugs: list[Jug], level: float) -> int | None:
    """Place of the first jug at a level of which everybody gets one glass; None without one."""
    found = (n for n, jug in enumerate(jugs) if jug.glasses == 1 and jug.level == level)
    return next(found, None)


def _known(jugs: list[Jug]) -> set[tuple[int | None, float | None]]:
    return {(jug.compound, jug.level) for jug in jugs}


def _long_ago(ground: Ground, asked: Asked) -> list[int]:
    """Compounds that people had not had for `LONG` days on average, the longest first."""
    tastes = ground.may_taste & ~ground.is_insensitive
    since = np.where(tastes, np.minimum(ground.days_since, _NEVER), 0.0).mean(axis=0)
    order = np.argsort(-since, kind="stable")
    return [int(k) for k in order if since[k] > LONG and asked.can_pour[k]]
