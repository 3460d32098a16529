"""Whether somebody gets less sensitive to a compound: a straight line through the whole history.

A hint and no proof: a threshold that wanders without aim, or was lost at one blow, also leaves a
slope. Two glasses a session carry almost nothing, so the line runs through all answers and not from
the first session to the last.

Among 300 simulated tasters of each kind (five years, two naming glasses a quarter) 1 % of constant
ones were flagged, 29 % of those who lost .4 log2 a year and 45 % of those who gained as much; the
interval covered the true slope in 95 to 98 %. Of 150 whose threshold wandered without aim (.4 log2
per square root of a year) 7 % were flagged, of as many who lost 2.5 log2 at one blow a year before
the end 28 %.
"""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray
from threadpoolctl import threadpool_limits

from seatworthy.stats.ability.both_ways import Cell, CellAnswers, answers_of
from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.grid import Floats, bell, build_grid
from seatworthy.stats.ability.messages import DAYS_A_YEAR, build_walk, from_waves, to_waves
from seatworthy.stats.ability.reading import quantile
from seatworthy.stats.ability.settings import DEFAULT, Settings
from seatworthy.stats.ability.tables import answer_weights, glass_table, likelihood

SLOPE_SD: Final = 0.5  # prior spread of the slope, log2 multiples a year; assumed
SLOPES: Final = np.linspace(-1.5, 1.5, 25)  # three such spreads to either side
NOTABLE: Final = 0.1  # log2 multiples a year; less is no trend worth a word. Chosen
SURE: Final = 0.95  # of a notable trend, before it is flagged. Chosen on simulated tasters
LEAST_DAYS: Final = 2


@dataclass(frozen=True)
class Trend:
    """How one cell's threshold moves, log2 multiples a year; above 0 = gets less sensitive.

    All floats are nan where glasses were answered on fewer than two days.

    Attributes:
        days: Different days with glasses.
        mean: Posterior mean of the slope.
        low: Lower end of its interval.
        high: Upper end.
        chance_rising: Chance that the slope is above 0.
        chance_less_sensitive: Chance that it is above `NOTABLE`.
        chance_more_sensitive: Chance that it is below -`NOTABLE`.
    """

    days: int
    mean: float = np.nan
    low: float = np.nan
    high: float = np.nan
    chance_rising: float = np.nan
    chance_less_sensitive: float = np.nan
    chance_more_sensitive: float = np.nan

    @property
    def chance_notable(self) -> float:
        """Chance that there is a notable trend, up or down."""
        return self.chance_less_sensitive + self.chance_more_sensitive

    @property
    def is_less_sensitive(self) -> bool:
        """Whether a loss of sensitivity is sure enough to be flagged."""
        return self.chance_less_sensitive >= SURE

    @property
    def is_more_sensitive(self) -> bool:
        """Whether a gain of sensitivity is sure enough to be flagged."""
        return self.chance_more_sensitive >= SURE


def find_trend(
    glasses: Glasses, blanks: Blanks, cell: Cell, today: int, settings: Settings = DEFAULT
) -> Trend:
    """Fit ``threshold(day) = threshold(today) + slope * years since today`` to all own answers.

    Naming accuracy and today's threshold are integrated over, with the priors of own answers alone.
    Besides the line nothing wanders. Thresholds of beer families differ by the family gap and share
    the slope.

    Args:
        glasses: Answered spiked glasses, also of others; those after `today` are left out.
        blanks: Answered blanks, likewise.
        cell: Which cell, and for which beer family.
        today: Days since 1970-01-01.
        settings: Numbers of the model.
    """
    with threadpool_limits(limits=1):
        answers = answers_of(cell, glasses, blanks, today, settings)
        days = np.unique(answers.glasses.day).size
        if days < LEAST_DAYS:
            return Trend(days)
        return _read(days, _slope_posterior(answers, cell.family, today, settings), settings)


def _slope_posterior(answers: CellAnswers, family: int, today: int, settings: Settings) -> Floats:
    """Posterior of the slope over `SLOPES`; shape (V,), sums to 1."""
    grid, walk = build_grid(settings), build_walk(settings)
    together, log_scale = np.ones((SLOPES.size, 1, 1)), np.zeros(SLOPES.size)
    for own in np.unique(answers.glasses.family).tolist():
        said, scale = _said_of_today(answers, own, today, settings)
        if own != family:
            said = from_waves(to_waves(said, walk) * walk.gap, walk)
        together, log_scale = together * said, log_scale + scale
    fit = np.einsum("vcg,c,g->v", together, grid.naming_mass, grid.own_prior)
    log_weight = np.log(fit) + log_scale
    weight = np.exp(log_weight - log_weight.max()) * bell(SLOPES, 0.0, SLOPE_SD)
    return weight / weight.sum()


def _said_of_today(
    answers: CellAnswers, family: int, today: int, settings: Settings
) -> tuple[Floats, Floats]:
    """P(answers in one family | accuracy, threshold today) by slope: (V, C, G), log scale (V,)."""
    at = answers.glasses.family == family
    glasses = answers.glasses.where(at)
    node = np.full(glasses.day.size, answers.call_node)
    seen = _seen_by_slope(glasses, node, today, settings)
    share, base = answer_weights(glasses, node, settings)
    said, log_scale = np.ones((SLOPES.size, share.shape[1], seen.shape[-1])), np.zeros(SLOPES.size)
    for one, by_name, by_chance in zip(seen, share, base, strict=True):
        by_slope = np.broadcast_to(by_name, (len(one), by_name.size))
        said *= likelihood(by_slope, np.full(len(one), by_chance), one)
        top = said.max(axis=(1, 2), keepdims=True)
        said /= top
        log_scale += np.log(top[:, 0, 0])
    return said, log_scale


def _seen_by_slope(
    glasses: Glasses, node: NDArray[np.intp], today: int, settings: Settings
) -> Floats:
    """Chance of perceiving each of A glasses by slope and threshold of today; shape (A, V, G).

    A threshold that was higher by a shift acts like a glass that was weaker by it, so each glass is
    laid out once for every slope, as strong as it would have to be against today's threshold.
    """
    years = (glasses.day - today) / DAYS_A_YEAR
    strength = np.exp2(-years[:, None] * SLOPES).ravel()
    glass = np.repeat(np.arange(years.size), SLOPES.size)
    every = glasses.where(glass)
    laid_out = replace(every, level=every.level * strength, background=every.background * strength)
    table = glass_table(laid_out, settings, node[glass])
    return table.seen[table.kind].reshape(years.size, SLOPES.size, -1)


def _read(days: int, mass: Floats, settings: Settings) -> Trend:
    step = SLOPES[1] - SLOPES[0]
    left = SLOPES - step / 2
    outside = (1 - settings.interval) / 2
    low, high = (quantile(mass[None], left, step, part)[0] for part in (outside, 1 - outside))
    return Trend(
        days=days,
        mean=float(mass @ SLOPES),
        low=float(low),
        high=float(high),
        chance_rising=_chance_above(0.0, mass, left, step),
        chance_less_sensitive=_chance_above(NOTABLE, mass, left, step),
        chance_more_sensitive=1 - _chance_above(-NOTABLE, mass, left, step),
    )


def _chance_above(slope: float, mass: Floats, left: Floats, step: float) -> float:
    """Chance above a slope, straight within a bin."""
    return float(mass @ np.clip((left + step - slope) / step, 0, 1))
