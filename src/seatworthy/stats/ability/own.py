"""What own answers alone say: what people are judged by, read for many cells at once."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from seatworthy.stats.ability.cells import Places
from seatworthy.stats.ability.grid import Floats, build_grid
from seatworthy.stats.ability.reading import build_readout
from seatworthy.stats.ability.settings import Settings


@dataclass(frozen=True)
class Own:
    """Estimates of N cells from own answers.

    Attributes:
        chance_met: Chance that the rate at the reference level is good enough; shape (N,).
        rate_mean: Mean rate of right names at the reference level; shape (N,).
        threshold: Posterior of the threshold; shape (N, G), rows sum to 1.
    """

    chance_met: Floats
    rate_mean: Floats
    threshold: Floats


def read_own(likelihood: Floats, call_node: Places, settings: Settings) -> Own:
    """Read likelihoods under the prior for own answers, without spelling the posteriors out.

    Args:
        likelihood: P(own answers | accuracy, threshold) of N cells; shape (N, C, G).
        call_node: Their false-call nodes; shape (N,).
        settings: Numbers of the model.
    """
    grid, number = build_grid(settings), len(likelihood)
    weights = _weights(settings)
    flat = likelihood.reshape(number, weights.shape[1])
    figures = np.empty((number, 2))
    for node in np.unique(call_node):
        at = call_node == node
        figures[at] = flat[at] @ weights[node]
    threshold = np.einsum("ncg,c->ng", likelihood, grid.naming_mass) * grid.own_prior
    evidence = threshold.sum(axis=1, keepdims=True)
    chance_met, rate_mean = (figures / evidence).T
    return Own(chance_met, rate_mean, threshold / evidence)


@lru_cache(maxsize=8)
def _weights(settings: Settings) -> Floats:
    """The prior times the shares met, and times the rates; shape (F, C * G, 2)."""
    grid, readout = build_grid(settings), build_readout(settings)
    prior = grid.naming_mass[:, None] * grid.own_prior
    both = np.stack([prior * readout.met, prior * readout.rate], axis=-1)
    return both.reshape(len(both), -1, 2)
