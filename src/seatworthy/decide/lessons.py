"""What would teach: two compounds that are mixed up side by side, a ladder around a threshold."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from seatworthy.decide.gaps import Floats, Gaps, Ground, Kind
from seatworthy.decide.jugs import Asked, Part, Why

STEPS: Final = (0.5, 1.0, 2.0)  # of the own threshold: a ladder around it
# Levels that somebody would write, no two further apart than a half.
RUNGS: Final = (0.1, 0.15, 0.2, 0.3, 0.4, 0.6, 0.8, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0, 12.0, 16.0)
_LEAST: Final = 1e-12


@dataclass(frozen=True)
class Lesson:
    """A group of jugs that teaches only as a whole.

    Attributes:
        parts: Compound and level of each.
        worth: What it teaches.
        why: Pair or ladder.
    """

    parts: tuple[Part, ...]
    worth: float
    why: Why


def find_lessons(ground: Ground, gaps: Gaps, asked: Asked) -> list[Lesson]:
    """Everything that can be taught, the most worth first."""
    found = [*_pairs(ground, gaps, asked), *_ladders(ground, gaps, asked)]
    return sorted(found, key=lambda one: -one.worth)


def _pairs(ground: Ground, gaps: Gaps, asked: Asked) -> list[Lesson]:
    """Two compounds side by side: the share taken for the other, weighed by the gap."""
    smells = ground.ahead.perceives[:, :, None] * ground.ahead.perceives[:, None, :]
    may = (ground.may_taste & ~ground.is_insensitive) * asked.can_pour
    both = may[:, :, None] * may[:, None, :]
    directed = (gaps.weight[:, :, None] * ground.taken_for * smells * both).sum(axis=0)
    worth = directed + directed.T
    level = asked.reference_level
    return [
        Lesson(((int(a), level), (int(b), level)), float(worth[a, b]), Why.PAIR)
        for a, b in np.argwhere(np.triu(worth, 1) > _LEAST)
    ]


def _ladders(ground: Ground, gaps: Gaps, asked: Asked) -> list[Lesson]:
    """Steps around the threshold of those who notice too seldom or guess, never of the insensitive.

    Its worth is the weight of their gaps, shared out over its steps so that it stands beside what a
    pair is worth; no ladder where a step can't be made, or is above what may be served.
    """
    needs = np.isin(gaps.kind, (Kind.WEAK, Kind.GUESSES)) & asked.can_pour
    found = []
    for compound in np.flatnonzero(needs.any(axis=0)).tolist():
        who = needs[:, compound]
        parts = tuple((compound, level) for level in ladder(ground.threshold[who, compound]))
        is_high = parts[-1][1] > asked.highest[compound]
        if not is_high and len(set(parts)) == len(STEPS) and not asked.cannot.intersection(parts):
            worth = float(gaps.weight[who, compound].sum()) / len(STEPS)
            found.append(Lesson(parts, worth, Why.LADDER))
    return found


def ladder(thresholds: Floats) -> tuple[float, ...]:
    """Levels around the middle of some thresholds, as log2 multiples; rising.

    They are taken from `RUNGS`, so that what can be made of them may be known beforehand.
    """
    middle = np.log2(STEPS) + np.median(thresholds)
    rungs = np.log2(RUNGS)
    return tuple(RUNGS[int(np.abs(rungs - one).argmin())] for one in middle)
