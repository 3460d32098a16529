"""Eight people, their luck and the tanks they must release: one truth for every brewery.

P people, K compounds, W weeks. What somebody says of a glass is drawn beforehand, glass by glass, so
that two breweries differ only in what they pour, whom they seat and what they do with the words.
"""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray
from world_answers import Cells, Floats, perceived, true_rate
from world_scenarios import ATTENDANCE, BASE, Scenario, Size
from worlds import FIRST_DAY, NAMES, draw_cells, threshold_on, wander_on

from seatworthy.decide.priors import CRITICAL_SHARE, OTHER_SHARE, UNLISTED_SHARE
from seatworthy.decide.said import LEVEL_SHARES, LEVELS, TAINT_NOTICED, TAINT_UNNAMED
from seatworthy.stats.ability.glasses import NOTHING

PEOPLE: Final = 8
COMPOUNDS: Final = 10
CRITICAL: Final = 6  # the first six
WEEKS: Final = 78
MOST_GLASSES: Final = 8  # of one session; luck is drawn for so many

TANKS_A_WEEK: Final = 3
FAULTY: Final = 0.08
FAULT_LEVELS: Final = (1.5, 5.0)  # all alike on a logarithmic scale
POURS: Final = 2  # of one tank: as it comes, and once again

GOOD_RATE: Final = 0.70
BAD_RATE: Final = 0.50
GOOD_IN: Final = 4
BAD_IN: Final = 1
CLEARLY_BELOW: Final = 0.60
CLEARLY_IN: Final = 3

TAINT: Final = COMPOUNDS  # in place of a compound: something unlisted, commonly called by one name

_DICE: Final = 5  # perceived? named right? which wrong name? calls one anyway? which one?

Whole = NDArray[np.int64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class Kind:
    """How good a panel is to begin with.

    Attributes:
        name: For the table.
        lower: How much lower its thresholds lie than in the base world, log2.
        misnaming: Share of cells that name badly.
        scenario: The world it lives in, but for that share.
        as_assumed: Whether faulty tanks are as the weighing assumes: many at levels that hardly
            anybody notices, some with a taint that is on nobody's list; else between 1.5 and 5
            times threshold, all compounds alike, and no taints.
    """

    name: str
    lower: float
    misnaming: float
    scenario: Scenario = BASE
    as_assumed: bool = False


TRAINED: Final = Kind("trained", 0.7, 0.05)
WELL_TRAINED: Final = Kind("well trained", 1.2, 0.03)
MIXED: Final = Kind("mixed", 0.0, 0.10)
AS_ASSUMED: Final = replace(TRAINED, name="faults as assumed", as_assumed=True)


@dataclass(frozen=True)
class Pour:
    """G glasses that everybody who is there gets alike.

    Attributes:
        compound: Place of what is in each; `NOTHING` for a blank; shape (G,).
        level: Stated multiple of the working threshold, 0 in a blank; shape (G,).
    """

    compound: Whole
    level: Floats


@dataclass(frozen=True)
class Truth:
    """What is true in 18 months.

    Attributes:
        scenario: The world.
        day: Day of each week's session and tanks; shape (W,).
        cells: Everybody's ways, as one panel of a world.
        threshold: Shape (W, P, K).
        rate: True rate of right names at the reference level; shape (W, P, K).
        is_here: Who comes; shape (W, P).
        tank: What each tank holds, `NOTHING` for clean beer, `TAINT`; shape (W, T).
        tank_level: Its level; shape (W, T).
        taint_name: By which compound's name a taint is called; shape (W, T).
        dose_error: Of each glass of a session, log2; shape (W, G).
        luck: Of each glass of a session; shape (W, G, P, 5), from 0 to 1.
        tank_luck: Of each glass of a tank; shape (W, T, pours, P, 5).
    """

    scenario: Scenario
    day: Whole
    cells: Cells
    threshold: Floats
    rate: Floats
    is_here: Flags
    tank: Whole
    tank_level: Floats
    taint_name: Whole
    dose_error: Floats
    luck: Floats
    tank_luck: Floats

    def answer(self, week: int, pour: Pour) -> Whole:
        """What everybody would say to a session's glasses: places of names; shape (P, G)."""
        number = pour.compound.size
        true_level = pour.level * np.exp2(self.dose_error[week, :number])
        return _say(self, week, pour.compound, true_level, self.luck[week, :number])

    def taste(self, week: int, tank: int, pour: int) -> Whole:
        """What everybody would say to a tank, poured for the first time (0) or again; shape (P,)."""
        holds, level = self.tank[week, tank], self.tank_level[week, tank]
        luck = self.tank_luck[week, tank, pour]
        if holds == TAINT:
            return _say_of_taint(self, int(self.taint_name[week, tank]), luck)
        return _say(self, week, np.array([holds]), np.array([level]), luck[None])[:, 0]

    @property
    def is_good(self) -> Flags:
        """Which critical rates are good enough; shape (W, P, 6)."""
        return self.rate[..., :CRITICAL] >= GOOD_RATE

    @property
    def deserves(self) -> Flags:
        """Good in four of the six, bad in at most one; shape (W, P)."""
        bad = (self.rate[..., :CRITICAL] < BAD_RATE).sum(axis=2)
        return (self.is_good.sum(axis=2) >= GOOD_IN) & (bad <= BAD_IN)

    @property
    def is_clearly_wrong(self) -> Flags:
        """Whoever is below 60 % in three of the six or more; shape (W, P)."""
        return (self.rate[..., :CRITICAL] < CLEARLY_BELOW).sum(axis=2) >= CLEARLY_IN


def draw_truth(seed: int, kind: Kind = TRAINED) -> Truth:
    """Draw 18 months of one panel, its luck and its tanks."""
    draw = np.random.default_rng(seed)
    scenario = replace(kind.scenario, misnaming=kind.misnaming)
    cells = draw_cells(scenario, Size(1, PEOPLE, COMPOUNDS), draw)
    cells = replace(cells, level=cells.level - kind.lower)
    day = FIRST_DAY + 7 * np.arange(WEEKS, dtype=np.int64)
    threshold, rate = _follow(cells, day, scenario, draw)
    tank, tank_level = _fill_tanks(kind, draw)
    return Truth(
        scenario=scenario,
        day=day,
        cells=cells,
        threshold=threshold,
        rate=rate,
        is_here=draw.random((WEEKS, PEOPLE)) < ATTENDANCE,
        tank=tank,
        tank_level=tank_level,
        taint_name=draw.integers(0, COMPOUNDS, tank.shape),
        dose_error=draw.normal(0, scenario.dose_sd, (WEEKS, MOST_GLASSES)),
        luck=draw.random((WEEKS, MOST_GLASSES, PEOPLE, _DICE)),
        tank_luck=draw.random((*tank.shape, POURS, PEOPLE, _DICE)),
    )


def _fill_tanks(kind: Kind, draw: np.random.Generator) -> tuple[Whole, Floats]:
    """What every tank holds, and at which level; shape (W, T) both."""
    shape = (WEEKS, TANKS_A_WEEK)
    if kind.as_assumed:
        share = np.where(np.arange(COMPOUNDS) < CRITICAL, CRITICAL_SHARE, OTHER_SHARE)
        share = np.append(share, UNLISTED_SHARE)
        is_faulty = draw.random(shape) < share.sum()
        holds = draw.choice(COMPOUNDS + 1, shape, p=share / share.sum())
        level = draw.choice(LEVELS, shape, p=LEVEL_SHARES)
    else:
        is_faulty = draw.random(shape) < FAULTY
        holds = draw.integers(0, COMPOUNDS, shape)
        level = np.exp(draw.uniform(*np.log(FAULT_LEVELS), shape))
    return np.where(is_faulty, holds, NOTHING), np.where(is_faulty, level, 0.0)


def _follow(
    cells: Cells, day: Whole, scenario: Scenario, draw: np.random.Generator
) -> tuple[Floats, Floats]:
    """Thresholds and rates week by week; shape (W, P, K) both."""
    wander = draw.normal(0, scenario.wander_sd, cells.level.shape)
    thresholds, rates = [], []
    for before, now in zip(np.concatenate([day[:1], day]), day, strict=False):
        wander = wander_on(wander, int(now - before), scenario, draw)
        threshold = threshold_on(int(now), int(day[-1]), wander, cells, scenario)
        thresholds.append(threshold[0, ..., 0])
        rates.append(true_rate(threshold, cells, scenario)[0, ..., 0])
    return np.stack(thresholds), np.stack(rates)


def _say(truth: Truth, week: int, compound: Whole, level: Floats, luck: Floats) -> Whole:
    """Names given to some glasses; names outside the axis are beyond its end; shape (P, G)."""
    cells, own = truth.cells, np.where(compound == NOTHING, 0, compound)
    calls = cells.calls[0]
    slope, threshold = cells.slope[0][:, own], truth.threshold[week][:, own]
    seen = perceived(level, threshold, slope, calls, truth.scenario)
    is_seen, is_right, other, calls_one, guess = luck.transpose(2, 1, 0)
    wrong = (other * (NAMES - 1)).astype(np.int64)
    wrong += wrong >= own
    named = np.where(is_right < cells.accuracy[0][:, own], own, wrong)
    called = np.where(calls_one < calls, (guess * NAMES).astype(np.int64), NOTHING)
    return np.where(is_seen < seen, named, called)


def _say_of_taint(truth: Truth, name: int, luck: Floats) -> Whole:
    """What everybody says to a taint: those who notice it find one name, or none; shape (P,)."""
    notices, names, _, calls_one, guess = luck.T
    said = np.where(names < TAINT_UNNAMED, TAINT, name)
    calls = truth.cells.calls[0, :, 0]
    called = np.where(calls_one < calls, (guess * NAMES).astype(np.int64), NOTHING)
    return np.where(notices < TAINT_NOTICED, said, called)
