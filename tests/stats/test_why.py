"""What each glass did to an estimate and how much of it is left."""

from dataclasses import replace

import numpy as np
import pytest

from seatworthy.stats.ability.both_ways import Cell
from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.glasses import Outcome
from seatworthy.stats.ability.why import find_reasons

RIGHT, WRONG, NONE = Outcome.RIGHT, Outcome.WRONG, Outcome.NONE
TODAY = 20_000
AGES = (0, 30, 90, 182, 365, 730, 1500)


def followed_log_odds(glasses, panel, cell):
    today = follow(glasses, panel.blanks, panel.shape, panel.today).today
    chance = today.chance_met_own[cell.person, cell.compound, cell.family]
    return np.log(chance / (1 - chance))


@pytest.fixture
def reasons(name_glasses, pour_blanks):
    def run(rows, family=0):
        return find_reasons(name_glasses(rows), pour_blanks([]), Cell(0, 0, family), TODAY)

    return run


@pytest.mark.parametrize("cell", [Cell(0, 0, 0), Cell(1, 2, 1)])
def test_a_pull_is_what_leaving_the_glass_out_changes(cell, invent_panel):
    panel = invent_panel(seed=2)
    seen = find_reasons(panel.glasses, panel.blanks, cell, panel.today)
    whole = followed_log_odds(panel.glasses, panel, cell)
    assert seen.log_odds == pytest.approx(whole, abs=1e-9)
    for place in np.flatnonzero(seen.counts):
        others = panel.glasses.where(np.arange(seen.counts.size) != place)
        without = followed_log_odds(others, panel, cell)
        assert seen.pull[place] == pytest.approx(whole - without, abs=1e-9)


def test_several_glasses_of_one_day_are_left_out_one_by_one(reasons):
    rows = [(19_900, 3.0, RIGHT), (19_900, 2.0, NONE), (19_900, 4.0, WRONG)]
    seen = reasons(rows)
    for place in range(3):
        others = reasons(rows[:place] + rows[place + 1 :])
        assert seen.pull[place] == pytest.approx(seen.log_odds - others.log_odds, abs=1e-9)


def test_a_single_glass_is_all_the_difference_from_the_prior(reasons):
    seen = reasons([(19_900, 3.0, RIGHT)])
    assert seen.pull[0] == pytest.approx(seen.log_odds - seen.prior_log_odds, abs=1e-12)
    assert seen.prior_log_odds == pytest.approx(reasons([]).log_odds, abs=1e-12)


def test_right_pulls_up_and_all_else_at_the_reference_level_down(reasons):
    seen = reasons([(19_900, 3.0, outcome) for outcome in (RIGHT, WRONG, NONE)])
    assert np.sign(seen.pull).tolist() == [1, -1, -1]


def test_a_miss_far_above_the_reference_level_says_more_than_one_below(reasons):
    seen = reasons([(19_900, 8.0, NONE), (19_900, 1.0, NONE)])
    assert seen.pull[0] < seen.pull[1] < 0


def test_a_glass_with_next_to_nothing_in_it_pulls_about_nothing(reasons):
    """A name called right by chance leaves the little that a threshold near 1/64 would explain."""
    rows = [(19_900, 3.0, RIGHT), (19_950, 0.001, NONE), (19_950, 0.001, RIGHT)]
    assert np.abs(reasons(rows).pull[1:]) == pytest.approx([0, 0], abs=0.05)


def test_pulls_come_in_the_order_of_the_glasses(reasons):
    rows = [(19_990, 3.0, RIGHT), (19_000, 3.0, NONE), (19_500, 2.0, RIGHT), (19_000, 4.0, RIGHT)]
    order = [2, 0, 3, 1]
    there, back = reasons(rows), reasons([rows[place] for place in order])
    assert back.pull == pytest.approx(there.pull[order], abs=1e-9)
    assert back.weight == pytest.approx(there.weight[order], abs=1e-12)


@pytest.mark.parametrize("outcome", Outcome)
def test_weights_fall_with_age(outcome, reasons):
    weight = reasons([(TODAY - age, 3.0, outcome) for age in AGES]).weight
    assert weight[0] == pytest.approx(1, abs=1e-9)
    assert np.all(np.diff(weight) < 0)
    assert weight[-1] > 0


@pytest.mark.parametrize("outcome", Outcome)
def test_a_glass_of_another_beer_family_weighs_less(outcome, reasons):
    rows = [(TODAY - age, 3.0, outcome) for age in AGES]
    here, there = reasons(rows).weight, reasons(rows, family=1).weight
    assert np.all(there < here)


def test_a_weight_does_not_depend_on_the_other_glasses(reasons):
    alone = reasons([(19_500, 3.0, RIGHT)])
    among = reasons([(19_500, 3.0, RIGHT), (19_800, 3.0, NONE), (19_500, 2.0, NONE)])
    assert among.weight[0] == pytest.approx(alone.weight[0], abs=1e-12)


def test_a_glass_that_could_say_nothing_keeps_the_weight_of_nothing(pour_glasses, pour_blanks):
    """A pick between two like glasses: what was added is below the background."""
    glasses = pour_glasses([(19_000, 0, 0, 0, "2afc", 1.0, 2.0, RIGHT)])
    seen = find_reasons(glasses, pour_blanks([]), Cell(0, 0), TODAY)
    assert seen.pull[0] == pytest.approx(0, abs=1e-9)
    assert seen.weight[0] == 1


def test_without_glasses_there_are_no_reasons(reasons):
    seen = reasons([])
    assert seen.log_odds == seen.prior_log_odds
    assert seen.pull.shape == seen.weight.shape == seen.counts.shape == (0,)


def test_glasses_that_do_not_count_pull_nothing_and_weigh_nothing(pour_glasses, pour_blanks):
    rows = [
        (19_900, 0, 0, 0, "naming", 3.0, 0.0, RIGHT),
        (19_900, 1, 0, 0, "naming", 3.0, 0.0, RIGHT),
        (19_900, 0, 1, 0, "naming", 3.0, 0.0, RIGHT),
        (20_001, 0, 0, 0, "naming", 3.0, 0.0, RIGHT),
        (19_900, 0, 0, 0, "naming", float("nan"), 0.0, RIGHT),
        (19_900, 0, 0, 0, "intensity", 3.0, 0.0, RIGHT),
    ]
    seen = find_reasons(pour_glasses(rows), pour_blanks([]), Cell(0, 0), TODAY)
    assert seen.counts.tolist() == [True, False, False, False, False, False]
    assert np.all(seen.pull[1:] == 0)
    assert np.all(seen.weight[1:] == 0)


@pytest.mark.parametrize("outcome", Outcome)
def test_many_answers_all_alike_have_reasons(outcome, reasons):
    seen = reasons([(19_000 + 7 * week, 3.0, outcome) for week in range(60)] * 3)
    assert np.all(np.isfinite(seen.pull))
    assert np.all((seen.weight > 0) & (seen.weight <= 1))


def test_the_false_call_rate_known_today_counts(name_glasses, pour_blanks, invent_panel):
    panel = invent_panel(seed=5)
    noisy = replace(panel, blanks=pour_blanks([(19_000, person, True) for person in range(4)] * 6))
    cell = Cell(0, 0, 0)
    seen = find_reasons(noisy.glasses, noisy.blanks, cell, noisy.today)
    assert seen.log_odds == pytest.approx(followed_log_odds(noisy.glasses, noisy, cell), abs=1e-9)


@pytest.mark.parametrize("outcome", [0, 2])
def test_a_thousand_glasses_of_one_day_have_finite_reasons(name_glasses, pour_blanks, outcome):
    glasses = name_glasses([(20_000, 3.0, outcome)] * 1000)
    reasons = find_reasons(glasses, pour_blanks([]), Cell(0, 0, 0), 20_000)
    assert np.isfinite(reasons.log_odds)
    assert np.isfinite(reasons.pull).all()
