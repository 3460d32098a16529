"""How the people of an invented world answer; written without the model's tables.

R panels of P people, K compounds, B beer families; k glasses of one session.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.special import expit, ndtr, ndtri
from world_scenarios import Scenario

from seatworthy.stats.ability.glasses import Outcome
from seatworthy.stats.thurstone import d_prime_at, proportion_right

Floats = NDArray[np.float64]

NAMING_LEVELS: Final = (1.5, 2.0, 3.0, 4.0, 6.0)
NAMING_LEVEL_SHARE: Final = (0.05, 0.15, 0.60, 0.15, 0.05)
FORCED_METHODS: Final = ("3afc", "triangle", "duo_trio")
FORCED_LEVELS: Final = (1.0, 1.5, 2.0, 3.0, 4.0)
REFERENCE_LEVEL: Final = 3.0
LAPSE: Final = 0.02
NAMING_SHIFT: Final = 0.25
LOGISTIC_STEEPNESS: Final = 2.0
LOGISTIC_SHIFT: Final = 0.75
UNIT: Final = float(d_prime_at("3afc", 2 / 3))


@dataclass(frozen=True)
class Cells:
    """What is true of each cell; shape (R, P, K) unless said.

    Attributes:
        level: Threshold before anything moves, the first family's.
        slope: Own slope of the psychometric curve.
        accuracy: Chance to name rightly what was perceived.
        calls: Rate of false calls; shape (R, P, 1).
        guess: Share of blind guesses that fall on the compound's name.
        misnames: Which cells often name wrongly.
        cannot_taste: Which cells lack the compound.
        is_lost: Which cells are lost on `lost_on`.
        lost_on: Day of the loss; shape (R, 1, 1).
        gap: What each family adds to the threshold; shape (R, P, K, B).
    """

    level: Floats
    slope: Floats
    accuracy: Floats
    calls: Floats
    guess: Floats
    misnames: NDArray[np.bool_]
    cannot_taste: NDArray[np.bool_]
    is_lost: NDArray[np.bool_]
    lost_on: NDArray[np.int64]
    gap: Floats


def taste(
    day: int,
    chosen: NDArray[np.intp],
    is_here: NDArray[np.bool_],
    threshold: Floats,
    cells: Cells,
    scenario: Scenario,
    draw: np.random.Generator,
) -> tuple[np.ndarray, ...]:
    """One session's spiked glasses, in the order of the fields of `Glasses`."""
    panels, people = is_here.shape
    method, stated, total, family = _prepare(panels, chosen.size, scenario, draw)
    own = threshold[:, :, chosen]  # (R, P, k, B)
    own = np.take_along_axis(own, np.broadcast_to(
        family[:, None, :, None], (*own.shape[:3], 1)), axis=3)[..., 0]  # fmt: skip
    right, none = _chances(method, total, own, cells, chosen, scenario)
    luck = draw.random(right.shape)
    outcome = np.where(luck < right, Outcome.RIGHT, Outcome.WRONG)
    outcome = np.where(luck >= 1 - none, Outcome.NONE, outcome)
    panel, person, glass = np.nonzero(np.broadcast_to(is_here[:, :, None], outcome.shape))
    return (
        np.full(panel.size, day),
        panel * people + person,
        chosen[glass],
        family[panel, glass],
        method[panel, glass],
        stated[panel, glass],
        np.full(panel.size, scenario.background),
        outcome[panel, person, glass],
    )


def _prepare(
    panels: int, number: int, scenario: Scenario, draw: np.random.Generator
) -> tuple[np.ndarray, Floats, Floats, NDArray[np.intp]]:
    """Method, stated and true total level and family of every sample; shape (R, k) each."""
    shape = (panels, number)
    is_forced = draw.random(shape) < scenario.forced_share
    method = np.where(is_forced, draw.choice(FORCED_METHODS, shape), "naming")
    named = draw.choice(NAMING_LEVELS, shape, p=NAMING_LEVEL_SHARE)
    stated = np.where(is_forced, draw.choice(FORCED_LEVELS, shape), named)
    error = np.exp2(draw.normal(0, scenario.dose_sd, shape))
    total = scenario.background + (stated - scenario.background) * error
    return method, stated, total, draw.integers(0, scenario.families, shape)


def _chances(
    method: np.ndarray,
    total: Floats,
    threshold: Floats,
    cells: Cells,
    chosen: NDArray[np.intp],
    scenario: Scenario,
) -> tuple[Floats, Floats]:
    """Chance of a right answer and of nothing noticed; (R, P, k) both, from (R, k) and (R, P, k)."""
    slope = cells.slope[:, :, chosen]
    seen = perceived(total[:, None], threshold, slope, cells.calls, scenario)
    right = cells.accuracy[:, :, chosen] * seen
    right += (1 - seen) * cells.calls * cells.guess[:, :, chosen]
    none = (1 - seen) * (1 - cells.calls)
    clear = _d_prime(total[:, None], threshold, slope)
    clear -= _d_prime(scenario.background, threshold, slope)
    for name in FORCED_METHODS:
        at = np.broadcast_to((method == name)[:, None], right.shape)
        picked = proportion_right(name, np.clip(clear[at], 0, None))
        by_chance = float(proportion_right(name, 0.0))
        right[at], none[at] = LAPSE * by_chance + (1 - LAPSE) * picked, 0
    return right, none


def perceived(
    total: Floats | float, threshold: Floats, slope: Floats, calls: Floats, scenario: Scenario
) -> Floats:
    """Chance that a flavour is perceived well enough to be named."""
    if scenario.is_logistic:
        above = np.log2(total) - threshold - LOGISTIC_SHIFT
        return (1 - LAPSE) * expit(LOGISTIC_STEEPNESS * slope * above)
    clear = _d_prime(total, threshold + NAMING_SHIFT, slope)
    return (1 - LAPSE) * (ndtr(clear + ndtri(calls)) - calls) / (1 - calls)


def _d_prime(total: Floats | float, threshold: Floats, slope: Floats) -> Floats:
    with np.errstate(divide="ignore"):
        return UNIT * np.exp2(slope * (np.log2(total) - threshold))


def true_rate(threshold: Floats, cells: Cells, scenario: Scenario) -> Floats:
    """True rate of right names at the reference level; shape (R, P, K, B)."""
    calls = cells.calls[..., None]
    seen = perceived(REFERENCE_LEVEL, threshold, cells.slope[..., None], calls, scenario)
    return cells.accuracy[..., None] * seen + (1 - seen) * calls * cells.guess[..., None]


def taste_blanks(
    day: int,
    number: int,
    is_here: NDArray[np.bool_],
    cells: Cells,
    draw: np.random.Generator,
) -> tuple[np.ndarray, ...]:
    """One session's blanks, in the order of the fields of `Blanks`."""
    calls = draw.random((*is_here.shape, number)) < cells.calls
    panel, person, glass = np.nonzero(np.broadcast_to(is_here[:, :, None], calls.shape))
    return np.full(panel.size, day), panel * is_here.shape[1] + person, calls[panel, person, glass]
