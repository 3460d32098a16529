"""Invented panels whose truth the ability model does not know, as arrays, drawn from a seed.

R panels of P people each live in one world and share its calendar; K compounds, B beer families.
What is true of a cell has shape (R, P, K), or (R, P, K, B) where families differ.
"""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray
from world_answers import Cells, Floats, taste, taste_blanks, true_rate
from world_scenarios import ATTENDANCE, GLASSES, SPIKED_SHARE, Scenario, Size

from seatworthy.stats.ability.glasses import Blanks, Glasses

FIRST_DAY: Final = 20_000
SPAN_DAYS: Final = 547  # 18 months
NAMES: Final = 12
NONTASTERS: Final = 0.05


@dataclass(frozen=True)
class World:
    """Panels, their answers and the truth of the last day.

    Attributes:
        scenario: What the world is like.
        cells: What is true of each cell.
        glasses: Answered spiked glasses; the person axis runs over all panels, R * P.
        blanks: Answered blanks; likewise.
        today: Day of the last session.
        threshold: True threshold today; shape (R, P, K, B).
        rate: True rate of right names at the reference level today; shape (R, P, K, B).
    """

    scenario: Scenario
    cells: Cells
    glasses: Glasses
    blanks: Blanks
    today: int
    threshold: Floats
    rate: Floats

    @property
    def shape(self) -> tuple[int, int, int, int]:
        """Numbers of panels, people a panel, compounds and families."""
        return self.rate.shape

    def panel(self, number: int) -> tuple[Glasses, Blanks]:
        """One panel's answers, its people counted from 0."""
        people = self.shape[1]
        glasses = self.glasses.where(self.glasses.person // people == number)
        here = self.blanks.person // people == number
        return (
            replace(glasses, person=glasses.person % people),
            Blanks(
                self.blanks.day[here], self.blanks.person[here] % people,
                self.blanks.is_false_call[here],
            ),
        )  # fmt: skip


def invent(scenario: Scenario, size: Size, seed: int) -> World:
    """Draw a world and let its panels taste for 18 months."""
    draw = np.random.default_rng(seed)
    cells = draw_cells(scenario, size, draw)
    days = FIRST_DAY + np.round(np.linspace(0, SPAN_DAYS, size.sessions)).astype(np.int64)
    wander = draw.normal(0, scenario.wander_sd, cells.level.shape)
    served, spiked, blank = np.zeros(size.compounds), [], []
    for before, day in zip(np.concatenate([days[:1], days]), days, strict=False):
        wander = wander_on(wander, day - before, scenario, draw)
        threshold = threshold_on(day, days[-1], wander, cells, scenario)
        chosen = _choose_compounds(served, draw)
        served[chosen] += 1
        is_here = draw.random(cells.calls.shape[:2]) < ATTENDANCE
        spiked.append(taste(day, chosen, is_here, threshold, cells, scenario, draw))
        blank.append(taste_blanks(day, GLASSES - chosen.size, is_here, cells, draw))
    return World(
        scenario=scenario,
        cells=cells,
        glasses=Glasses(*(np.concatenate(part) for part in zip(*spiked, strict=True))),
        blanks=Blanks(*(np.concatenate(part) for part in zip(*blank, strict=True))),
        today=int(days[-1]),
        threshold=threshold,
        rate=true_rate(threshold, cells, scenario),
    )


def draw_cells(scenario: Scenario, size: Size, draw: np.random.Generator) -> Cells:
    """What is true of every cell before anything moves."""
    shape = (size.panels, size.people, size.compounds)
    cannot_taste = draw.random(shape) < NONTASTERS
    misnames = draw.random(shape) < scenario.misnaming
    level = draw.normal(0, 0.7, (size.panels, 1, size.compounds))
    level = level + draw.normal(0, 0.4, (size.panels, size.people, 1)) + draw.normal(0, 0.7, shape)
    is_lost = np.zeros(shape, dtype=np.bool_)
    unlucky = draw.integers(0, size.people, size.panels)
    lost = draw.random((size.panels, size.compounds)) < 0.5
    is_lost[np.arange(size.panels), unlucky] = lost & (scenario.loss > 0)
    part = draw.uniform(*scenario.loss_between, (size.panels, 1, 1))
    gap = np.zeros((*shape, scenario.families))
    gap[..., 1:] = draw.normal(0, scenario.family_gap_sd, gap[..., 1:].shape)
    return Cells(
        level=level + cannot_taste * draw.uniform(2.5, 5, shape),
        slope=np.exp(draw.normal(0, scenario.slope_log_sd, shape)),
        accuracy=np.where(misnames, draw.uniform(0.1, 0.7, shape), draw.beta(18, 2, shape)),
        calls=draw.beta(1.5, 18, (*shape[:2], 1)),
        guess=_draw_guesses(scenario, shape, draw),
        misnames=misnames,
        cannot_taste=cannot_taste,
        is_lost=is_lost,
        lost_on=FIRST_DAY + np.round(part * SPAN_DAYS).astype(np.int64),
        gap=gap,
    )


def _draw_guesses(
    scenario: Scenario, shape: tuple[int, int, int], draw: np.random.Generator
) -> Floats:
    """Every name alike, or one favourite of each person above the others."""
    favourite = draw.integers(0, shape[2], (*shape[:2], 1)) == np.arange(shape[2])
    return (1 - scenario.favourite) / NAMES + scenario.favourite * favourite


def wander_on(wander: Floats, days: int, scenario: Scenario, draw: np.random.Generator) -> Floats:
    """Where the slow drift stands so many days later; any shape."""
    kept = np.exp(-days / 730.0)
    fresh = scenario.wander_sd * np.sqrt(1 - kept**2)
    return kept * wander + draw.normal(0, 1, wander.shape) * fresh


def threshold_on(day: int, last: int, wander: Floats, cells: Cells, scenario: Scenario) -> Floats:
    """True thresholds of a day, family by family; shape (R, P, K, B)."""
    lost = scenario.loss * (cells.is_lost & (day >= cells.lost_on))
    learnt = scenario.improving * (last - day) / 365.25
    return (cells.level + wander + lost + learnt)[..., None] + cells.gap


def _choose_compounds(served: Floats, draw: np.random.Generator) -> NDArray[np.intp]:
    """Those served least so far; five or six of seven glasses are spiked."""
    spiked = GLASSES * SPIKED_SHARE
    number = int(spiked) + int(draw.random() < spiked % 1)
    return np.argsort(served + draw.random(served.size))[:number]
