"""The next step that would settle a weighed call, by expected information and what it costs."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from seatworthy.decide.information import counted, expected_information, together
from seatworthy.decide.noses import Floats, Noses
from seatworthy.decide.states import (
    States,
    laboratory_finds,
    said_again,
    triangle_counts,
)

Kind = Literal["retaste", "triangle", "laboratory", "nothing"]

MOST_AGAIN: Final = 4  # people for whom it is poured again
MOST_LOOKED_AT: Final = 10  # people among whom every choice is tried
GLASS_COST: Final = 0.02  # bits that a glass must tell to be worth pouring; ours
LABORATORY_COST: Final = 0.4  # the same of a day's wait and a bill; ours
LEAST_TOLD: Final = 0.03  # bits; a step that tells less settles nothing


@dataclass(frozen=True)
class Outcome:
    """What may come of a step.

    Attributes:
        hits: How many say it, or that anything is wrong where that is asked; how many pick right; 1
            where the laboratory finds it.
        chance: How likely that is.
        after: Chance of what is asked about then.
    """

    hits: int
    chance: float
    after: float


@dataclass(frozen=True)
class Step:
    """One thing to do next.

    Attributes:
        kind: What.
        people: Places of those who taste.
        bits: What it is expected to tell of what the beer has.
        worth: The same less its cost.
        outcomes: Those with the most hits first.
    """

    kind: Kind
    people: tuple[int, ...]
    bits: float
    worth: float
    outcomes: tuple[Outcome, ...]


def next_steps(noses: Noses, states: States, words: NDArray[np.intp]) -> tuple[Step, ...]:
    """The best retaste, a triangle, a laboratory and doing nothing, the most worth first.

    Args:
        noses: Everybody who could taste it again.
        states: What the beer may still have.
        words: What each of them said before (see `said`); `NEW` for those who did not taste.
    """
    steps = [Step("nothing", (), 0.0, 0.0, ())]
    if not states.is_any_fault:  # a laboratory is asked for one compound
        steps.append(_laboratory(states))
    if len(noses.people):
        again = _said(noses, states, words)
        steps += [best_retaste(again, states), _triangle(noses, states, again)]
    return tuple(sorted(steps, key=lambda step: -step.worth))


NEW: Final = -3  # in place of a word: did not taste


def best_retaste(again: Floats, states: States) -> Step:
    """The people, up to four, whose words on a second pouring are most worth hearing.

    Every choice of people is tried, of those ten whose single words tell most.

    Args:
        again: What each of P people would say; shape (P, 3, M).
        states: What the beer may have.
    """
    single = [expected_information(*states.by_kind(one)) for one in again]
    best = sorted(np.argsort(single)[::-1][:MOST_LOOKED_AT].tolist())
    told = {}
    for chosen in _choices(best):
        outcomes = _joined(again, chosen)
        told[chosen] = expected_information(*states.by_kind(outcomes))
    chosen = max(told, key=lambda people: told[people] - GLASS_COST * len(people))
    bits = told[chosen]
    heard = again[list(chosen)]
    callers = counted(1 - heard[:, 2] if states.is_any_fault else heard[:, 0])
    worth = bits - GLASS_COST * len(chosen)
    return Step("retaste", chosen, bits, worth, outcomes_of(callers, states))


def outcomes_of(counts: Floats, states: States) -> tuple[Outcome, ...]:
    """Each number of hits with its chance and the chance of the compound then.

    Args:
        counts: Chance of each number in each state; shape (N + 1, M).
        states: What the beer may have.
    """
    chance = counts @ states.chance
    both = counts @ (states.chance * states.is_asked)
    return tuple(
        Outcome(hits, float(chance[hits]), float(both[hits] / max(chance[hits], 1e-300)))
        for hits in range(len(chance) - 1, -1, -1)
    )


def _said(noses: Noses, states: States, words: NDArray[np.intp]) -> Floats:
    again = said_again(noses, states, None)
    before = np.flatnonzero(words != NEW)
    if before.size:
        again[before] = said_again(noses.of(before), states, words[before])
    return again


def _choices(people: list[int]) -> Iterator[tuple[int, ...]]:
    for number in range(1, min(MOST_AGAIN, len(people)) + 1):
        yield from combinations(people, number)


def _joined(again: Floats, chosen: tuple[int, ...]) -> Floats:
    outcomes = again[chosen[0]]
    for person in chosen[1:]:
        outcomes = together(outcomes, again[person])
    return outcomes


def _triangle(noses: Noses, states: States, again: Floats) -> Step:
    # Everybody up to the ten whose words would tell most takes one set of three.
    single = [expected_information(*states.by_kind(one)) for one in again]
    people = sorted(np.argsort(single)[::-1][:MOST_LOOKED_AT].tolist())
    counts = triangle_counts(noses.of(people), states)
    bits = expected_information(*states.by_kind(counts))
    worth = bits - 3 * GLASS_COST * len(people)
    return Step("triangle", tuple(people), bits, worth, outcomes_of(counts, states))


def _laboratory(states: States) -> Step:
    finds = laboratory_finds(states)
    bits = expected_information(*states.by_kind(finds))
    return Step("laboratory", (), bits, bits - LABORATORY_COST, outcomes_of(finds[::-1], states))
