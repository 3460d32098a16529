"""Weigh a call: from what each taster said of one beer to what it has.

All tasted the same bottle, so its level is integrated outside the product over tasters; inside it,
their words would be taken for more independent than they are. A small share is kept for a common
cause that is not on the list (a taint, a carry-over, a talk in the room), since without it several
who say the same would make anybody too sure.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.decide.noses import Floats, Noses
from seatworthy.decide.said import (
    LEVEL_SHARES,
    Likelihoods,
    likelihood_draws,
    likelihoods,
)

WEIGHING_VERSION: Final = "weighing 1"  # a new one whenever a number of the weighing changes
DRAWS: Final = 96
RANGE: Final = (0.1, 0.9)  # eight chances in ten
TALK: Final = 0.1  # how much each further taster's word loses where they were not blind


@dataclass(frozen=True)
class Prior:
    """What is known of a beer before anybody tastes it.

    Attributes:
        shares: Share of such beers that have each of K compounds; shape (K,).
        unlisted: Share that have something which is not on the list.

    Raises:
        ValueError: if a share is negative or they leave nothing for a sound beer.
    """

    shares: Floats
    unlisted: float

    def __post_init__(self) -> None:
        if np.any(self.shares < 0) or self.unlisted < 0 or self.nothing <= 0:
            msg = f"Shares of faults are >= 0 and sum to less than 1, got {1 - self.nothing:.3f}."
            raise ValueError(msg)

    @property
    def nothing(self) -> float:
        """Share of beers with nothing wrong."""
        return float(1 - self.shares.sum() - self.unlisted)

    @property
    def all(self) -> Floats:
        """Nothing, each compound, something unlisted; shape (K + 2,)."""
        return np.concatenate([[self.nothing], self.shares, [self.unlisted]])


@dataclass(frozen=True)
class Weighing:
    """What a beer has, in chances; places are nothing, each of K compounds, something unlisted.

    Attributes:
        chances: Shape (K + 2,), sums to 1.
        draws: The same by what everybody's ability may be; shape (S, K + 2).
        weights: How well each draw explains the words; shape (S,), sums to 1.
    """

    chances: Floats
    draws: Floats
    weights: Floats

    def limits(self, places: list[int]) -> tuple[float, float]:
        """Range of the chance of any of these places that holds eight chances in ten."""
        values = self.draws[:, places].sum(axis=1)
        order = np.argsort(values)
        below = np.cumsum(self.weights[order]) - self.weights[order] / 2
        low, high = np.interp(RANGE, below, values[order])
        middle = float(self.chances[places].sum())
        return min(float(low), middle), max(float(high), middle)


def weigh(
    noses: Noses,
    words: NDArray[np.intp],
    prior: Prior,
    power: float = 1.0,
    draws: int = DRAWS,
) -> Weighing:
    """Weigh what T tasters said of one beer.

    Args:
        noses: The tasters.
        words: What each said (see `said`); shape (T,).
        prior: What was known before.
        power: What the likelihood is raised to; see `power_after_talk`.
        draws: How many draws the ranges rest on.
    """
    middle = chances_after(likelihoods(noses, words), prior, power)
    drawn = _log_joint(likelihood_draws(noses, words, draws), prior, power)
    evidence = np.exp(drawn - drawn.max())
    total = evidence.sum(axis=-1)
    return Weighing(middle, evidence / total[:, None], total / total.sum())


def chances_after(likely: Likelihoods, prior: Prior, power: float = 1.0) -> Floats:
    """Chances after the words; shape (..., K + 2)."""
    joint = _log_joint(likely, prior, power)
    weight = np.exp(joint - joint.max(axis=-1, keepdims=True))
    return weight / weight.sum(axis=-1, keepdims=True)


def power_after_talk(tasters: int) -> float:
    """What the likelihood is raised to where tasters heard one another; assumed, a crude guard."""
    return 1 / (1 + TALK * max(tasters - 1, 0))


def level_chances(likely: Likelihoods, place: int) -> Floats:
    """How likely each level is if the beer has this compound; shape (X,)."""
    by_level = _logs(likely.there[..., place, :]).sum(axis=-2) + np.log(LEVEL_SHARES)
    weight = np.exp(by_level - by_level.max(axis=-1, keepdims=True))
    return weight / weight.sum(axis=-1, keepdims=True)


def _log_joint(likely: Likelihoods, prior: Prior, power: float) -> Floats:
    clean = _logs(likely.clean).sum(axis=-1)
    there = _log_mean(_logs(likely.there).sum(axis=-3), LEVEL_SHARES)
    names = likely.taint.shape[-1]
    taint = _log_mean(_logs(likely.taint).sum(axis=-2), np.full(names, 1 / max(names, 1)))
    likelihood = np.concatenate([clean[..., None], there, taint[..., None]], axis=-1)
    return power * likelihood + _logs(prior.all)


def _log_mean(logs: Floats, weights: Floats) -> Floats:
    top = logs.max(axis=-1, keepdims=True)
    return np.log(np.exp(logs - top) @ weights) + top[..., 0]


def _logs(values: Floats) -> Floats:
    return np.log(np.maximum(values, np.finfo(np.float64).tiny))
