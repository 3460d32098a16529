"""A threshold from the ability model beside one fitted by an independent program."""

from dataclasses import replace

import numpy as np
import pytest

from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.settings import DEFAULT

LEVELS = np.array([0.25, 0.5, 1, 2, 4, 8, 16])
RIGHT = np.array([15, 17, 20, 26, 36, 39, 39])  # of 40 each, 3-AFC
TRIALS = 40


def own_threshold():
    """Mean and 90 % interval, log2; no error of dose and no other slopes, as the other has none."""
    settings = replace(DEFAULT, dose_sd=0.0, slope_log_sd=0.0, own_sd=4.0)
    level = np.repeat(LEVELS, TRIALS)
    outcome = np.concatenate([np.arange(TRIALS) >= right for right in RIGHT]).astype(int)
    zero = np.zeros(level.size, dtype=int)
    method = np.full(level.size, "3afc")
    glasses = Glasses(zero, zero, zero, zero, method, level, 0 * level, outcome)
    nothing = np.empty(0, dtype=int)
    blanks = Blanks(nothing, nothing, nothing.astype(bool))
    today = follow(glasses, blanks, (1, 1, 1), 0, settings).today
    ends = today.threshold_low_own, today.threshold_mean_own, today.threshold_high_own
    return [float(end[0, 0, 0]) for end in ends]


@pytest.mark.parametrize("sigmoid", ["logistic", "norm", "weibull"])
def test_a_3afc_threshold_agrees_with_psignifit(sigmoid):
    """By psignifit 4: guess rate 1/3, the same lapse and no overdispersion held; width left free.

    Both give the level half way between guessing and certainty. The curves are not of one family
    and ours has its slope held, so a quarter of a doubling is allowed for that.
    """
    import psignifit

    data = np.column_stack([np.log2(LEVELS), RIGHT, np.full(LEVELS.size, TRIALS)])
    fit = psignifit.psignifit(
        data,
        experiment_type="nAFC",
        experiment_choices=3,
        sigmoid=sigmoid,
        fixed_parameters={"lambda": DEFAULT.lapse * 2 / 3, "eta": 1e-10},
    )
    low, mean, high = own_threshold()
    assert mean == pytest.approx(fit.parameter_estimate["threshold"], abs=0.25)
    assert low < fit.parameter_estimate["threshold"] < high


def test_the_threshold_is_the_one_that_the_answers_were_made_for():
    """The counts are 40 times the Thurstonian 3-AFC chances at a threshold of 2 (log2: 1)."""
    assert own_threshold()[1] == pytest.approx(1.0, abs=0.05)
