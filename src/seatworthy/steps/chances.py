"""The chance that somebody names a compound right, with the range that the rule uses."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from seatworthy.rules.compound_rules import ChanceRule
from seatworthy.steps.cell_days import Cell, cell_place
from seatworthy.steps.judging import Judged

WITHOUT_A_RULE = (0.95, 0.05)  # nine chances in ten, where the rulebook asks for no chance


@dataclass(frozen=True)
class Chance:
    """On the person's own answers.

    Attributes:
        mean: Best guess.
        low: Right of the needed share: met.
        high: Left of it: not met.
        density: 100 numbers that sum to 1: chance in hundredths.
    """

    mean: float
    low: float
    high: float
    density: tuple[float, ...]


def chance_to_name(judged: Judged, cell: Cell) -> Chance:
    """The chance of a cell that has glasses; raises ``KeyError`` for another."""
    place = cell_place(judged.evidence, cell)
    histogram = judged.followed.today.rate_histogram[place]
    rule = judged.rulebook.compound
    by_chance = isinstance(rule, ChanceRule)
    outside = (rule.met_when_sure, rule.not_met_when_below) if by_chance else WITHOUT_A_RULE
    return Chance(
        mean=float(judged.followed.today.rate_mean[place]),
        low=_quantile(histogram, 1 - outside[0]),
        high=_quantile(histogram, 1 - outside[1]),
        density=tuple(histogram.tolist()),
    )


def _quantile(histogram: Any, share: float) -> float:  # noqa: ANN401
    """Point below which a share of a histogram over 100 equal bins lies, linear inside a bin."""
    total = np.concatenate([[0.0], np.cumsum(histogram)])
    return float(np.interp(share * total[-1], total, np.linspace(0, 1, total.size)))
