"""Pools people within a compound, exactly, from likelihoods in which no date enters.

The panels thought possible lie on a coarse grid of mean and spread. The log probability of all
answers is smooth over it, so cubic splines carry it to a finer grid and carry the weights found
there back; with the same splines the posteriors between the coarse places are interpolated. Panels
with many answers, which fit only one spot of the coarse grid, need this.

Beside a grid much finer in everything, mean thresholds are off by at most .005 log2 for panels of
up to 50 people with up to 24 glasses each, by at most .03 with 120 glasses each or with 500 people.
Without the splines it was .3; means that stop at 3 instead of 5 cost as much where a working
threshold is off by a factor of 8. A panel whose mean lies beyond 5 is pulled towards 5.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline

from seatworthy.stats.ability.grid import Floats, bell, build_grid
from seatworthy.stats.ability.settings import Settings

MEANS: Final = np.arange(-20, 21) / 4  # log2 multiples; as far as 5 prior sd
SPREADS: Final = 11  # places for the spread,
SPREAD_REACH: Final = 3.5  # this many prior sd either way
FINER: Final = ((9, 1), (51, 2), (np.inf, 4))  # below so many people, so many steps for one
_TOGETHER: Final = 8  # chances multiplied before a logarithm is taken of them, which costs more
_LEAST: Final = 1e-37  # so that their product does not vanish
_NEGLIGIBLE: Final = 1e-8


@dataclass(frozen=True)
class FinePanels:
    """A finer grid of panels: m times 41 means, s times 11 spreads in the coarse one.

    Attributes:
        means: Carries values at the coarse means to the finer ones; shape (m, 41).
        spreads: The same for the spreads; shape (s, 11).
        log_prior: Log prior of the finer panels, whose exp sums to 1; shape (m, s).
    """

    means: Floats
    spreads: Floats
    log_prior: Floats


@lru_cache(maxsize=4)
def build_panels(settings: Settings) -> Floats:
    """How thresholds spread in each of the H = 41 x 11 panels thought possible.

    Non-tasters are mixed in; shape (G, H), the spread running fastest, every column sums to 1.
    """
    mean, spread = (
        axis.ravel() for axis in np.meshgrid(MEANS, _log_spreads(settings), indexing="ij")
    )
    theta, share = build_grid(settings).theta[:, None], settings.nontaster_share
    tasters = bell(theta, mean, settings.panel_spread_median * np.exp(spread))
    nontasters = bell(theta, mean + settings.nontaster_shift, settings.nontaster_sd)
    return (1 - share) * tasters + share * nontasters


@lru_cache(maxsize=8)
def build_fine_panels(settings: Settings, finer: int) -> FinePanels:
    """The grid with so many steps for each of the coarse one."""
    (mean, means), (spread, spreads) = (
        _finer(places, finer) for places in (MEANS, _log_spreads(settings))
    )
    mean_z = mean[:, None] / settings.panel_mean_sd
    log_prior = -(mean_z**2 + (spread / settings.panel_spread_log_sd) ** 2) / 2
    return FinePanels(means, spreads, log_prior - np.log(np.exp(log_prior).sum()))


def pool_cells(
    likelihood: Floats, starts: NDArray[np.intp], settings: Settings
) -> tuple[Floats, Floats]:
    """Posterior of each person's threshold, given everybody's answers about the same compound.

    Full Bayes over mean and spread of the panel, nobody's answers used twice; two matrix products.

    Args:
        likelihood: P(own answers | threshold) on any scale, cells of one compound side by side;
            shape (N, G).
        starts: Where each compound begins, rising from 0; shape (K,).
        settings: Numbers of the model.

    Returns:
        Posteriors, shape (N, G), each row sums to 1; and the log evidence of each compound's
        answers on the scale of `likelihood`, shape (K,).
    """
    panels = build_panels(settings)
    fit = likelihood @ panels  # (N, H)
    np.maximum(fit, _LEAST, out=fit)
    people = np.diff(starts, append=len(likelihood))
    weight, evidence = _weigh(_log_products(fit, starts, people), people, settings)
    near = _from_first_to_last(np.abs(weight).max(axis=0) > _NEGLIGIBLE)
    share = np.repeat(weight[:, near], people, axis=0)
    share /= fit[:, near]
    posterior = share @ panels[:, near].T
    posterior *= likelihood
    np.maximum(posterior, 0, out=posterior)  # spline weights may be slightly negative
    return posterior / posterior.sum(axis=1, keepdims=True), evidence


def _log_products(fit: Floats, starts: NDArray[np.intp], people: NDArray[np.intp]) -> Floats:
    """Log of the product over the people of each compound; (N, H) makes (K, H)."""
    place = np.arange(len(fit)) - np.repeat(starts, people)
    groups = np.flatnonzero(place % _TOGETHER == 0)
    some = np.multiply.reduceat(fit, groups, axis=0)
    return np.add.reduceat(np.log(some), np.searchsorted(groups, starts), axis=0)


def _weigh(log_fit: Floats, people: NDArray[np.intp], settings: Settings) -> tuple[Floats, Floats]:
    """Posterior weights of the coarse panels, shape (K, H), and log evidence, shape (K,)."""
    weight, evidence = np.empty_like(log_fit), np.empty(len(log_fit))
    smaller = 0.0
    for limit, finer in FINER:
        at = np.flatnonzero((people >= smaller) & (people < limit))
        if at.size:
            panels = build_fine_panels(settings, finer)
            weight[at], evidence[at] = _weigh_finely(log_fit[at], panels)
        smaller = limit
    return weight, evidence


def _weigh_finely(log_fit: Floats, panels: FinePanels) -> tuple[Floats, Floats]:
    by_mean = log_fit.reshape(len(log_fit), MEANS.size, SPREADS)
    fine = panels.means @ (by_mean @ panels.spreads.T) + panels.log_prior
    top = fine.max(axis=(1, 2), keepdims=True)
    np.exp(np.subtract(fine, top, out=fine), out=fine)
    whole = fine.sum(axis=(1, 2), keepdims=True)
    coarse = (panels.means.T @ fine) @ panels.spreads / whole
    return coarse.reshape(log_fit.shape), (top + np.log(whole))[:, 0, 0]


def _from_first_to_last(is_in: NDArray[np.bool_]) -> slice:
    inside = np.flatnonzero(is_in)
    return slice(int(inside[0]), int(inside[-1]) + 1)


def _log_spreads(settings: Settings) -> Floats:
    """Natural logarithms of spread over median spread; shape (11,)."""
    reach = SPREAD_REACH * settings.panel_spread_log_sd
    return np.linspace(-reach, reach, SPREADS)


def _finer(places: Floats, finer: int) -> tuple[Floats, Floats]:
    """The finer places, and the matrix that carries values there by cubic splines."""
    fine = np.linspace(places[0], places[-1], finer * (places.size - 1) + 1)
    return fine, CubicSpline(places, np.eye(places.size))(fine)
