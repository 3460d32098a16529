"""Answers before and after a day, together, against plain sampling written without any table."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.special import ndtr, ndtri

from seatworthy.stats.ability.after_loss import likelihood_after_loss
from seatworthy.stats.ability.alarm import LOSS_PRIOR, SHARE_LOST, SHIFTS, find_loss
from seatworthy.stats.ability.both_ways import Cell
from seatworthy.stats.ability.grid import build_grid
from seatworthy.stats.ability.reading import chance_met, posterior
from seatworthy.stats.ability.settings import DEFAULT
from seatworthy.stats.ability.smooth import smooth

TODAY, TURN = 20_000, 19_600
CALLS, CALL_NODE = 0.10, 3  # the node of somebody without blanks
EDGE = DEFAULT.theta_limit + DEFAULT.theta_step / 2
UNIT = 1.115916  # d' of 2/3 right in a 3-AFC
NO_SLOPES = replace(DEFAULT, slope_log_sd=0.0)

BEFORE = [(19_200, 3.0, 0), (19_300, 2.0, 0), (19_420, 3.0, 0), (19_500, 3.0, 1)]  # four days
SINCE = [(19_600, 3.0, 2), (19_650, 4.0, 0), (19_700, 3.0, 2), (19_750, 3.0, 2)]


class Sampled:
    """Many histories of one cell that meet in its threshold of one day."""

    def __init__(self, seed, number=150_000):
        self.draw = np.random.default_rng(seed)
        theta = self.draw.normal(0, DEFAULT.own_sd, 2 * number)
        self.theta = theta[np.abs(theta) < EDGE][:number]
        self.accuracy = self.draw.beta(*DEFAULT.naming_prior, number)
        self.drift = self.draw.choice(3, number, p=DEFAULT.drift_weight)

    def wander(self, theta, days):
        """Some days earlier or later: reflected at the ends, or anywhere."""
        years, number = abs(days) / 365.25, theta.size
        sd, jump = (np.asarray(x)[self.drift] for x in (DEFAULT.drift_sd, DEFAULT.drift_jump))
        theta = theta + sd * np.sqrt(years) * self.draw.normal(size=number)
        theta = np.where(np.abs(theta) > EDGE, np.sign(theta) * 2 * EDGE - theta, theta)
        jumps = self.draw.random(number) < 1 - np.exp(-jump * years)
        return np.where(jumps, self.draw.uniform(-EDGE, EDGE, number), theta)

    def right_wrong_none(self, level, theta):
        """Chances of the three outcomes of a naming glass."""
        clear = np.minimum(UNIT * level / 2 ** (theta + DEFAULT.naming_shift), 12)
        alarm, lucky = DEFAULT.criterion, CALLS / DEFAULT.names
        seen = (1 - DEFAULT.lapse) * (ndtr(clear + ndtri(alarm)) - alarm) / (1 - alarm)
        right = self.accuracy * seen + (1 - seen) * lucky
        none = (1 - seen) * (1 - CALLS)
        return right, 1 - right - none, none

    def likelihood(self, rows, theta, day, until=TODAY):
        """P(answers) of rows in order away from a day, and the threshold in the end."""
        weight = np.ones(theta.size)
        for then, level, outcome in rows:
            theta, day = self.wander(theta, then - day), then
            actual = level * 2 ** self.draw.normal(0, DEFAULT.dose_sd, theta.size)
            weight *= self.right_wrong_none(actual, theta)[outcome]
        return weight, self.wander(theta, until - day)


def test_a_smoothed_threshold_agrees_with_plain_sampling(name_glasses, pour_blanks):
    sampled, day = Sampled(5), 19_560
    weight, _ = sampled.likelihood(BEFORE[::-1], sampled.theta, day)
    weight *= sampled.likelihood(SINCE, sampled.theta, day)[0]
    rate = sampled.right_wrong_none(DEFAULT.reference_level, sampled.theta)[0]
    glasses = name_glasses(BEFORE + SINCE)
    seen = smooth(glasses, pour_blanks([]), Cell(0, 0), TODAY, NO_SLOPES, days=[day])
    assert seen.threshold_mean[0] == pytest.approx(weight @ sampled.theta / weight.sum(), abs=0.03)
    assert seen.rate_mean[0] == pytest.approx(weight @ rate / weight.sum(), abs=0.02)


def test_one_compounds_word_for_a_loss_agrees_with_plain_sampling(name_glasses, pour_blanks):
    sampled = Sampled(6)
    known, _ = sampled.likelihood(BEFORE[::-1], sampled.theta, TURN)
    fits = [
        known @ sampled.likelihood(SINCE, np.minimum(sampled.theta + shift, EDGE), TURN)[0]
        for shift in (0.0, *SHIFTS)
    ]
    expected = 1 - SHARE_LOST + SHARE_LOST * np.mean(fits[1:]) / fits[0]
    glasses = name_glasses(BEFORE + SINCE)
    loss = find_loss(glasses, pour_blanks([]), (1, 1, 1), 0, SINCE[-1][0], DEFAULT)
    seen = loss.log_factor_by_day[loss.days.tolist().index(TURN)]
    assert seen == pytest.approx(np.log(expected), abs=0.05)


def test_chances_of_and_after_a_loss_agree_with_plain_sampling(name_glasses, pour_blanks):
    """One compound, and by the window only one day on which a loss may have begun."""
    today = 19_750
    before, since = BEFORE, [(TURN, 3.0, 2), (TURN, 3.0, 2), (19_650, 3.0, 2)]
    sampled, chances, fits = Sampled(7), [], []
    known, _ = sampled.likelihood(before[::-1], sampled.theta, TURN)
    for shift in (0.0, *SHIFTS):
        theta = np.minimum(sampled.theta + shift, EDGE)
        weight, now = sampled.likelihood(since, theta, TURN, today)
        is_good = sampled.right_wrong_none(DEFAULT.reference_level, now)[0] >= DEFAULT.p_min
        chances.append((known * weight) @ is_good / (known @ weight))
        fits.append(known @ weight)
    each = LOSS_PRIOR * SHARE_LOST / len(SHIFTS)
    joint = np.array([1 - LOSS_PRIOR * SHARE_LOST, *[each] * len(SHIFTS)]) * fits
    glasses, blanks = name_glasses(before + since), pour_blanks([])
    loss = find_loss(glasses, blanks, (1, 1, 1), 0, today, DEFAULT)
    assert loss.days.tolist() == [TURN]
    told = likelihood_after_loss(glasses, blanks, (1, 1, 1), 0, today, loss, DEFAULT)
    own = posterior(told[0], build_grid(DEFAULT).own_prior, DEFAULT)
    seen = chance_met(own, np.array([CALL_NODE]), DEFAULT)
    assert seen[0] == pytest.approx(np.average(chances, weights=joint), abs=0.02)
    no_loss = (1 - LOSS_PRIOR) * fits[0]
    assert loss.chance == pytest.approx(1 - no_loss / joint.sum(), abs=0.02)
