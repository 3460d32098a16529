"""What a glass would tell of the verdicts: expected information, and who would be decided by it."""

import numpy as np
from numpy.typing import NDArray
from scipy.special import gammaln, xlogy

from seatworthy.decide.gaps import Floats, Ground
from seatworthy.decide.jugs import Limits
from seatworthy.stats.ability.next_answers import NextAnswers


def information_bits(ahead: NextAnswers, glasses: int) -> Floats:
    """Mutual information between so many answers at the reference level and the verdict.

    Returns:
        Bits from 0 to 1; shape (P, K).
    """
    at = ahead.ways.sum(axis=1) == glasses
    counts = ahead.ways[at]
    orders = np.exp(gammaln(glasses + 1) - gammaln(counts + 1).sum(axis=1))
    left = (ahead.seen[:, :, at] * orders * _doubt(ahead.met[:, :, at])).sum(axis=2)
    return np.maximum(_doubt(ahead.met[:, :, 0]) - left, 0.0)


def _doubt(chance: Floats) -> Floats:
    """Entropy of a yes or no, in bits."""
    yes = np.clip(chance, 0, 1)
    return -(xlogy(yes, yes) + xlogy(1 - yes, 1 - yes)) / np.log(2)


def chance_to_decide(ground: Ground, limits: Limits, glasses: int = 1) -> Floats:
    """Chance that so many more glasses settle a verdict that is open; shape (P, K).

    Days are not looked at: a rule may ask for a further one.
    """
    at = ground.ahead.ways.sum(axis=1) == glasses
    counts = ground.ahead.ways[at]
    orders = np.exp(gammaln(glasses + 1) - gammaln(counts + 1).sum(axis=1))
    settled = is_settled(ground.ahead.met[:, :, at], ground.glasses[..., None] + glasses, limits)
    chance = (ground.ahead.seen[:, :, at] * orders * settled).sum(axis=2)
    is_open = ~is_settled(ground.chance, ground.glasses, limits) & ~ground.is_met
    return np.where(is_open & ~ground.is_insensitive & ground.may_taste, chance, 0.0)


def is_settled(chance: Floats, glasses: NDArray[np.int64], limits: Limits) -> NDArray[np.bool_]:
    """Whether the rule says met or not met, by chance and counted glasses; one shape."""
    met = (chance >= limits.met_when_sure) & (glasses >= limits.met_glasses)
    return met | ((chance <= limits.not_met_below) & (glasses >= limits.not_met_glasses))
