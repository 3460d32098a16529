"""What no table of rates shows: the prior by itself, and colleagues' answers turned round."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from calibration_figures import MET_SURE, NOT_MET_BELOW
from worlds import World

from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.followed import Today
from seatworthy.stats.ability.glasses import NAMING, Blanks, Glasses, Outcome
from seatworthy.stats.ability.settings import DEFAULT, Settings

RATES_ASKED: Final = (0.60, 0.65, 0.70)


@dataclass(frozen=True)
class PriorAlone:
    """What is said of somebody without any answer, beside nobody.

    Attributes:
        good_enough: The rate asked for.
        own: Chance of it, for judging on own answers.
        pooled: Chance of it in a new panel.
        decides: Whether a limit of the default rulebook is reached, its least number of glasses
            waived.
    """

    good_enough: float
    own: float
    pooled: float
    decides: bool


@dataclass(frozen=True)
class TurnedRound:
    """What happens to N cells when all colleagues' answers are turned into their opposite.

    Attributes:
        cells: N.
        own_moves: Largest move of a chance on own answers.
        pooled_moves: Largest move of a pooled chance.
        verdicts_changed: Verdicts of the default rulebook, glasses not counted, that differ.
    """

    cells: int
    own_moves: float
    pooled_moves: float
    verdicts_changed: int


def ask_the_prior(settings: Settings = DEFAULT) -> list[PriorAlone]:
    """The verdict on nobody, for several rates asked for."""
    none, real, words = np.empty(0, np.int64), np.empty(0), np.empty(0, np.str_)
    glasses = Glasses(none, none, none, none, words, real, real, none)
    blanks = Blanks(none, none, np.empty(0, np.bool_))
    found = []
    for rate in RATES_ASKED:
        today = follow(glasses, blanks, (1, 1, 1), 20_000, replace(settings, p_min=rate)).today
        own, pooled = float(today.chance_met_own.item()), float(today.chance_met_pooled.item())
        found.append(PriorAlone(rate, own, pooled, bool(_decided(today)[0] != 0)))
    return found


def turn_colleagues_round(world: World, settings: Settings = DEFAULT) -> TurnedRound:
    """Read everybody twice: among colleagues as they are, and as they are not."""
    panels, people, *rest = world.shape
    shape = (people, *rest)
    own, pooled, changed = [], [], 0
    for number in range(panels):
        glasses, blanks = world.panel(number)
        as_is = follow(glasses, blanks, shape, world.today, settings).today
        for person in range(people):
            turned = _turn(glasses, glasses.person != person)
            today = follow(turned, blanks, shape, world.today, settings).today
            own.append(_apart(as_is.chance_met_own, today.chance_met_own, person))
            pooled.append(_apart(as_is.chance_met_pooled, today.chance_met_pooled, person))
            differs = (_decided(as_is) != _decided(today)).reshape(shape)[person]
            changed += int(differs.sum())
    return TurnedRound(int(np.prod(world.shape)), max(own), max(pooled), changed)


def _turn(glasses: Glasses, chosen: np.ndarray) -> Glasses:
    """Right becomes nothing noticed, in a forced choice the wrong pick, and the reverse."""
    other = np.where(glasses.method == NAMING, Outcome.NONE, Outcome.WRONG)
    is_right = glasses.outcome == Outcome.RIGHT
    turned = np.where(is_right, other, Outcome.RIGHT)
    return replace(glasses, outcome=np.where(chosen, turned, glasses.outcome))


def _apart(before: np.ndarray, after: np.ndarray, person: int) -> float:
    return float(np.abs(before[person] - after[person]).max())


def _decided(today: Today) -> np.ndarray:
    """1 met, -1 not met, 0 neither, by the limits on the chance alone; one long row."""
    chance = today.chance_met_own.ravel()
    return (chance >= MET_SURE).astype(int) - (chance <= NOT_MET_BELOW)
