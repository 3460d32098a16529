"""What colleagues' answers say about a person's threshold. Never used to judge anybody."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from seatworthy.stats.ability.grid import Floats, bell, build_grid
from seatworthy.stats.ability.settings import Settings

PANEL_MEANS: Final = np.arange(-20, 21) / 4  # log2 multiples; a working threshold may be far off
PANEL_SPREADS: Final = np.geomspace(0.2, 3.2, 9)
MEAN_STEP: Final = 0.25
_LEAST: Final = 1e-300


@dataclass(frozen=True)
class Panels:
    """All panels thought possible: H pairs of a mean threshold and a spread between people.

    Attributes:
        thresholds: How thresholds spread in each panel, non-tasters mixed in; shape (G, H),
            every column sums to 1.
        log_prior: Log prior of the panels; shape (H,).
    """

    thresholds: Floats
    log_prior: Floats


@dataclass(frozen=True)
class Pooled:
    """What panels of P people say, for K compounds; M means in `PANEL_MEANS`.

    Attributes:
        prior: Each person's threshold distribution as the OTHERS' answers have it, mixed with
            what is thought of a panel without answers; shape (K, P, G), sums to 1.
        newcomer: The same for somebody without any answer; shape (K, G).
        panel_mean: Distribution of the panel's mean threshold over `PANEL_MEANS`; shape (K, M).
    """

    prior: Floats
    newcomer: Floats
    panel_mean: Floats


@lru_cache(maxsize=8)
def build_panels(settings: Settings) -> Panels:
    """The grid of possible panels for these settings."""
    mean, spread = (axis.ravel() for axis in np.meshgrid(PANEL_MEANS, PANEL_SPREADS, indexing="ij"))
    log_spread = np.log(spread / settings.panel_spread_median) / settings.panel_spread_log_sd
    log_prior = -((mean / settings.panel_mean_sd) ** 2 + log_spread**2) / 2
    theta, share = build_grid(settings).theta[:, None], settings.nontaster_share
    tasters = bell(theta, mean, spread)
    nontasters = bell(theta, mean + settings.nontaster_shift, settings.nontaster_sd)
    return Panels(
        thresholds=(1 - share) * tasters + share * nontasters,
        log_prior=log_prior - np.log(np.exp(log_prior).sum()),
    )


def pool(likelihood: Floats, settings: Settings) -> Pooled:
    """Pool people within each compound, exactly and without using anybody's answers twice.

    Args:
        likelihood: P(own answers | threshold today) of each person; shape (K, P, G).
        settings: Numbers of the model.
    """
    panels = build_panels(settings)
    fit = likelihood @ panels.thresholds + _LEAST  # (K, P, H)
    log_weight = np.log(fit).sum(axis=1) + panels.log_prior
    weight = np.exp(log_weight - log_weight.max(axis=1, keepdims=True))
    weight /= weight.sum(axis=1, keepdims=True)
    others = (weight[:, None] / fit) @ panels.thresholds.T
    others /= others.sum(axis=2, keepdims=True)
    unheard = panels.thresholds @ np.exp(panels.log_prior)
    doubt = settings.pooling_doubt
    return Pooled(
        prior=(1 - doubt) * others + doubt * unheard,
        newcomer=weight @ panels.thresholds.T,
        panel_mean=weight.reshape(len(weight), PANEL_MEANS.size, -1).sum(axis=2),
    )
