"""Simulated tasters are read by the model as everybody is."""

import numpy as np
import pytest
from scipy.stats import binom

from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.glasses import Outcome
from seatworthy.stats.ability.settings import DEFAULT
from seatworthy.stats.ability.simulated_looks import all_runs, chance_at_looks, drawn_runs

RATES = np.array([1 / 12, 0.5, 0.7, 0.85, 0.95])
EIGHT_ON_FOUR_DAYS = np.repeat([91, 182, 273, 365], 2)


def followed_alone(right, days, name_glasses, pour_blanks):
    """One person through the whole model, by hand."""
    outcomes = np.where(right, Outcome.RIGHT, Outcome.NONE)
    rows = [(int(day), 3.0, int(said)) for day, said in zip(days, outcomes, strict=True)]
    return follow(name_glasses(rows), pour_blanks([]), (1, 1, 1), int(days[-1])).chance_met_own


def test_everybody_is_read_as_if_followed_alone(name_glasses, pour_blanks):
    right = drawn_runs([0.7], 8, runs=12, seed=7).right
    together = chance_at_looks(right, EIGHT_ON_FOUR_DAYS)
    assert len(right) > 5
    alone = [followed_alone(row, EIGHT_ON_FOUR_DAYS, name_glasses, pour_blanks) for row in right]
    assert together.shape == (len(right), 4)
    assert np.allclose(together, alone, rtol=0, atol=1e-9)


def test_a_right_last_name_never_lowers_the_chance_of_its_day():
    right = all_runs([0.5], 6).right
    last = chance_at_looks(right, np.arange(1, 7) * 60)[:, -1]
    order = np.argsort(right @ (2 ** np.arange(5, -1, -1)))
    missed, named = last[order].reshape(-1, 2).T
    assert np.all(named > missed)


def test_a_higher_rate_is_right_more_often_even_in_a_few_runs():
    runs = drawn_runs(RATES, 8, runs=10)
    assert np.all(np.diff(runs.weight @ runs.right.sum(axis=1)) >= 0)
    assert np.allclose(runs.weight.sum(axis=1), 1)


def test_a_higher_rate_has_a_higher_mean_chance_at_every_look():
    runs = all_runs(RATES, 8)
    mean = runs.weight @ chance_at_looks(runs.right, EIGHT_ON_FOUR_DAYS)
    assert np.all(np.diff(mean, axis=0) > 0)


def test_drawn_runs_agree_with_all_of_them_whatever_the_seed():
    every = all_runs(RATES, 8)
    is_sure = chance_at_looks(every.right, EIGHT_ON_FOUR_DAYS)[:, -1] >= 0.85
    truth = every.weight @ is_sure
    for seed in (1, 2):
        drawn = drawn_runs(RATES, 8, runs=400, seed=seed)
        found = drawn.weight @ (chance_at_looks(drawn.right, EIGHT_ON_FOUR_DAYS)[:, -1] >= 0.85)
        assert np.all(np.abs(found - truth) < 5 * np.sqrt(truth * (1 - truth) / 400) + 1e-9)


def test_all_runs_weigh_as_the_binomial_says():
    runs = all_runs(RATES, 7)
    by_right = [runs.weight[:, runs.right.sum(axis=1) == k].sum(axis=1) for k in range(8)]
    assert np.allclose(np.transpose(by_right), binom.pmf(np.arange(8), 7, RATES[:, None]))


def test_another_limit_gives_another_chance():
    right = np.ones((1, 4), dtype=bool)
    easier = type(DEFAULT)(p_min=0.5)
    asked, less = (chance_at_looks(right, [1, 2, 3, 4], one)[0, -1] for one in (DEFAULT, easier))
    assert less > asked


def test_without_a_glass_there_is_no_look():
    assert chance_at_looks(all_runs(RATES, 0).right, []).shape == (1, 0)


def test_ten_glasses_can_be_listed_and_eleven_cannot():
    assert all_runs([0.5], 10).right.shape == (1024, 10)
    with pytest.raises(ValueError, match="Rows of 0 to 10 glasses can be listed, got 11"):
        all_runs([0.5], 11)


def test_days_that_fall_are_refused():
    with pytest.raises(ValueError, match="One day a glass is needed"):
        chance_at_looks(np.ones((1, 2), dtype=bool), [5, 4])


def test_a_rate_above_one_is_refused():
    with pytest.raises(ValueError, match="must be one row of fractions"):
        drawn_runs([1.2], 3)


def test_no_runs_are_refused():
    with pytest.raises(ValueError, match="At least one run is needed, got 0"):
        drawn_runs([0.5], 3, runs=0)
