"""The half-year after a sudden loss: what is said of the lost cells, with and without the alarm."""

from dataclasses import dataclass, fields

import numpy as np
from calibration_estimates import Flags, Floats
from calibration_figures import GOOD, MET_SURE, Share, covers, share
from worlds import World

from seatworthy.stats.ability.after_loss import likelihood_after_loss
from seatworthy.stats.ability.alarm import find_loss
from seatworthy.stats.ability.both_ways import call_node_of
from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.grid import build_grid
from seatworthy.stats.ability.reading import (
    chance_met,
    posterior,
    rate_histogram,
    rate_interval,
    read_thresholds,
)
from seatworthy.stats.ability.settings import DEFAULT, Settings


@dataclass(frozen=True)
class Reading:
    """What own answers say of N cells; every array has shape (N,).

    Attributes:
        chance: Chance that the rate is good enough.
        rate_low: Lower end of its interval.
        rate_high: Upper end.
        threshold_low: Lower end of the interval of the threshold, log2 multiples.
        threshold_high: Upper end.
    """

    chance: Floats
    rate_low: Floats
    rate_high: Floats
    threshold_low: Floats
    threshold_high: Floats


@dataclass(frozen=True)
class AfterLoss:
    """Lost cells of the unlucky people.

    Attributes:
        reads: Without or with the alarm.
        cells: Number of lost cells.
        alarmed: Share of these people about whom the alarm speaks today.
        rate_covered: How often the interval of the rate holds the truth.
        threshold_covered: Likewise for the threshold.
        wrongly_met: Sure enough to be called met, of the cells truly below the rate.
    """

    reads: str
    cells: int
    alarmed: Share
    rate_covered: Share
    threshold_covered: Share
    wrongly_met: Share


def look_after_losses(world: World, settings: Settings = DEFAULT) -> list[AfterLoss]:
    """Read the lost cells of every panel's unlucky person twice; worlds of one beer family."""
    is_lost, alarms = world.cells.is_lost, {}
    plain, heeded = [], []
    for panel in np.flatnonzero(is_lost.any(axis=(1, 2))).tolist():
        person = int(np.flatnonzero(is_lost[panel].any(axis=1))[0])
        glasses, blanks = world.panel(panel)
        without = _read_plainly(glasses, blanks, world, person, settings)
        within = _read_if_alarmed(glasses, blanks, world, person, settings)
        alarms[panel] = within is not None
        chosen = is_lost[panel, person]
        plain.append(_where(without, chosen))
        heeded.append(_where(within or without, chosen))
    panels = np.array(list(alarms))
    alarmed = share(np.array(list(alarms.values())), panels)
    return [
        _sum_up(name, world, _joined(reads), alarmed)
        for name, reads in (("without the alarm", plain), ("with it", heeded))
    ]


def _read_plainly(
    glasses: Glasses, blanks: Blanks, world: World, person: int, settings: Settings
) -> Reading:
    today = follow(glasses, blanks, world.shape[1:], world.today, settings).today
    names = ("chance_met_own", "rate_low", "rate_high", "threshold_low_own", "threshold_high_own")
    return Reading(*(getattr(today, name)[person, :, 0] for name in names))


def _read_if_alarmed(
    glasses: Glasses, blanks: Blanks, world: World, person: int, settings: Settings
) -> Reading | None:
    """One person's cells with the loss given its chance; None without an alarm."""
    asked = (glasses, blanks, world.shape[1:], person, world.today)
    loss = find_loss(*asked, settings)
    if not loss.is_alarm:
        return None
    likelihood = likelihood_after_loss(*asked, loss, settings)[:, 0]
    joint = posterior(likelihood, build_grid(settings).own_prior, settings)
    node = np.full(len(joint), call_node_of(person, blanks, world.today, settings))
    thresholds = read_thresholds(joint.sum(axis=1), settings)
    low, high = rate_interval(rate_histogram(joint, node, settings), settings)
    return Reading(chance_met(joint, node, settings), low, high, thresholds.low, thresholds.high)


def _where(reading: Reading, chosen: Flags) -> Reading:
    return Reading(*(getattr(reading, field.name)[chosen] for field in fields(Reading)))


def _joined(readings: list[Reading]) -> Reading:
    names = [field.name for field in fields(Reading)]
    return Reading(*(np.concatenate([getattr(one, name) for one in readings]) for name in names))


def _sum_up(reads: str, world: World, said: Reading, alarmed: Share) -> AfterLoss:
    """Shares of the lost cells, which stand in the order of the panels."""
    is_lost = world.cells.is_lost
    panel, rate = np.nonzero(is_lost)[0], world.rate[is_lost][:, 0]
    threshold = world.threshold[is_lost][:, 0]
    is_bad = rate < GOOD
    return AfterLoss(
        reads=reads,
        cells=panel.size,
        alarmed=alarmed,
        rate_covered=share(covers(said.rate_low, said.rate_high, rate), panel),
        threshold_covered=share(covers(said.threshold_low, said.threshold_high, threshold), panel),
        wrongly_met=share(said.chance[is_bad] >= MET_SURE, panel[is_bad]),
    )
