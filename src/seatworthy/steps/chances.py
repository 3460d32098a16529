"""The chance that somebody names a compound right, with the range that the rule uses."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from seatworthy.steps.judging import Judged
from seatworthy.steps.seen import Cell, cell_place


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
    return Chance(
        mean=float(judged.followed.today.rate_mean[place]),
        low=_quantile(histogram, 1 - rule.met_when_sure),
        high=_quantile(histogram, 1 - rule.not_met_when_below),
        density=tuple(histogram.tolist()),
    )


def _quantile(histogram: Any, share: float) -> float:  # noqa: ANN401
    """Point below which a share of a histogram over 100 equal bins lies, linear inside a bin."""
    total = np.concatenate([[0.0], np.cumsum(histogram)])
    return float(np.interp(share * total[-1], total, np.linspace(0, 1, total.size)))
