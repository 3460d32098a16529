"""The places at which the model looks: thresholds, naming accuracies, false-call rates."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import betainc

from seatworthy.stats.ability.settings import Settings

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Grid:
    """Axes shared by all cells: C bins of naming accuracy, G thresholds, F false-call rates.

    Attributes:
        theta: Thresholds, log2 multiples; shape (G,).
        theta_edges: Left edges of the bins around them; shape (G,).
        naming_edges: Edges of the bins of naming accuracy; shape (C + 1,).
        naming_mass: Prior mass of the bins; shape (C,).
        naming_mean: Prior mean within each bin; shape (C,).
        calls: False-call rates; shape (F,).
        own_prior: Prior of the threshold for own answers alone; shape (G,), sums to 1.
        dose_shift: Errors of a preparation, log2; shape (J,).
        dose_weight: Their weights; shape (J,), sums to 1.
    """

    theta: Floats
    theta_edges: Floats
    naming_edges: Floats
    naming_mass: Floats
    naming_mean: Floats
    calls: Floats
    own_prior: Floats
    dose_shift: Floats
    dose_weight: Floats


@lru_cache(maxsize=8)
def build_grid(settings: Settings) -> Grid:
    """All axes for these settings."""
    steps = round(2 * settings.theta_limit / settings.theta_step)
    theta = settings.theta_step * np.arange(steps + 1) - settings.theta_limit
    width = np.linspace(1, 0, settings.naming_bins + 1)
    edges = 1 - width**settings.naming_bin_power
    mass, mean = naming_bins(edges, settings)
    shift, weight = np.polynomial.hermite_e.hermegauss(settings.dose_nodes)
    return Grid(
        theta=theta,
        theta_edges=theta - settings.theta_step / 2,
        naming_edges=edges,
        naming_mass=mass,
        naming_mean=mean,
        calls=np.asarray(settings.call_nodes),
        own_prior=bell(theta, 0.0, settings.own_sd),
        dose_shift=shift * settings.dose_sd,
        dose_weight=weight / weight.sum(),
    )


def naming_bins(edges: Floats, settings: Settings) -> tuple[Floats, Floats]:
    """Mass and mean of the naming prior between neighbouring edges; one shorter than `edges`."""
    a, b = settings.naming_prior
    mass = np.diff(betainc(a, b, edges))
    first_moment = a / (a + b) * np.diff(betainc(a + 1, b, edges))
    return mass, first_moment / mass


def bell(theta: Floats, mean: ArrayLike, sd: ArrayLike) -> Floats:
    """A normal distribution on the thresholds, summing to 1 along the first axis."""
    density = np.exp(-(((theta - mean) / sd) ** 2) / 2)
    return density / density.sum(axis=0)
