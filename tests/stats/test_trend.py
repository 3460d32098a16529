"""A straight line through somebody's thresholds."""

from dataclasses import astuple

import numpy as np
import pytest
from scipy.special import ndtr, ndtri

from seatworthy.stats.ability.both_ways import Cell
from seatworthy.stats.ability.glasses import Outcome
from seatworthy.stats.ability.settings import DEFAULT
from seatworthy.stats.ability.trend import NOTABLE, SLOPE_SD, SURE, Trend, find_trend

TODAY = 20_000
CALLS = 0.10  # of somebody without blanks
EDGE = DEFAULT.theta_limit + DEFAULT.theta_step / 2
UNIT = 1.115916  # d' of 2/3 right in a 3-AFC
QUARTERS = [round(TODAY - 91.3 * quarter) for quarter in range(20)][::-1]  # of five years
RIGHT, WRONG, NONE = Outcome.RIGHT, Outcome.WRONG, Outcome.NONE


@pytest.fixture
def trend(name_glasses, pour_blanks):
    def run(rows):
        return find_trend(name_glasses(rows), pour_blanks([]), Cell(0, 0), TODAY)

    return run


def right_wrong(level, theta, accuracy):
    """Chances of the right and of a wrong name; any shape."""
    clear = np.minimum(UNIT * level / 2 ** (theta + DEFAULT.naming_shift), 12)
    alarm, lucky = DEFAULT.criterion, CALLS / DEFAULT.names
    seen = (1 - DEFAULT.lapse) * (ndtr(clear + ndtri(alarm)) - alarm) / (1 - alarm)
    return accuracy * seen + (1 - seen) * lucky, (1 - accuracy) * seen + (1 - seen) * (
        CALLS - lucky
    )


def simulate(slope, seed):
    """Two glasses a quarter of somebody whose threshold moves on a straight line to N(0, 1)."""
    draw = np.random.default_rng(seed)
    today, accuracy, rows = draw.normal(0, 1), draw.beta(9, 1), []
    for day in np.repeat(QUARTERS, 2).tolist():
        level = float(draw.choice((2.0, 3.0, 4.0)))
        theta = today + slope * (day - TODAY) / 365.25
        right, wrong = right_wrong(level * 2 ** draw.normal(0, 0.25), theta, accuracy)
        chance = draw.random()
        outcome = RIGHT if chance < right else WRONG if chance < right + wrong else NONE
        rows.append((day, level, outcome))
    return rows


def test_the_slope_agrees_with_plain_sampling(trend):
    rows = [(18_200, 3.0, RIGHT), (18_600, 2.0, RIGHT), (19_300, 3.0, WRONG), (19_300, 3.0, RIGHT)]
    rows += [(19_700, 3.0, NONE), (19_990, 4.0, NONE)]
    draw, number = np.random.default_rng(3), 400_000
    slope, today = draw.normal(0, SLOPE_SD, number), draw.normal(0, DEFAULT.own_sd, number)
    accuracy = draw.beta(*DEFAULT.naming_prior, number)
    weight = 1.0 * (np.abs(today) < EDGE)
    for day, level, outcome in rows:
        theta = today + slope * (day - TODAY) / 365.25
        right, wrong = right_wrong(level * 2 ** draw.normal(0, 0.25, number), theta, accuracy)
        weight *= (right, wrong, 1 - right - wrong)[outcome]
    seen = trend(rows)
    assert seen.mean == pytest.approx(weight @ slope / weight.sum(), abs=0.02)
    for chance, holds in (
        (seen.chance_rising, slope > 0),
        (seen.chance_less_sensitive, slope > NOTABLE),
        (seen.chance_more_sensitive, slope < -NOTABLE),
        (0.05, slope < seen.low),
        (0.05, slope > seen.high),
    ):
        assert chance == pytest.approx(weight @ holds / weight.sum(), abs=0.02)


def flags(trend, slope, tasters, seed):
    """Trends of simulated tasters with one slope."""
    return [trend(simulate(slope, seed + one)) for one in range(tasters)]


def test_constant_tasters_are_rarely_flagged(trend):
    found = flags(trend, 0.0, tasters=80, seed=5_000)
    assert np.mean([one.is_less_sensitive or one.is_more_sensitive for one in found]) <= 0.06
    assert np.mean([one.low <= 0 <= one.high for one in found]) >= 0.86


@pytest.mark.parametrize(
    ("slope", "flag", "least"), [(-0.4, "is_more_sensitive", 0.3), (0.4, "is_less_sensitive", 0.1)]
)
def test_a_slope_of_five_years_is_often_found_and_covered(slope, flag, least, trend):
    found = flags(trend, slope, tasters=30, seed=6_000)
    assert np.mean([getattr(one, flag) for one in found]) >= least
    assert np.mean([one.low <= slope <= one.high for one in found]) >= 0.8


def test_answers_that_turn_bad_are_flagged_as_a_loss(trend):
    seen = trend([(day, 3.0, RIGHT if day < 19_000 else NONE) for day in QUARTERS])
    assert seen.is_less_sensitive
    assert not seen.is_more_sensitive
    assert seen.low > 0


def test_answers_that_turn_good_are_flagged_as_a_gain(trend):
    seen = trend([(day, 3.0, NONE if day < 19_000 else RIGHT) for day in QUARTERS])
    assert seen.is_more_sensitive
    assert not seen.is_less_sensitive
    assert seen.high < 0


@pytest.mark.parametrize("outcome", Outcome)
def test_answers_all_alike_show_no_trend(outcome, trend):
    seen = trend([(day, 3.0, outcome) for day in QUARTERS])
    assert seen.low < 0 < seen.high
    assert not seen.is_less_sensitive
    assert not seen.is_more_sensitive


@pytest.mark.parametrize(
    ("rows", "days"), [([], 0), ([(19_000, 3.0, RIGHT)] * 9, 1), ([(19_000, np.nan, RIGHT)], 0)]
)
def test_fewer_than_two_days_show_nothing(rows, days, trend):
    seen = trend(rows)
    assert seen.days == days
    assert np.all(np.isnan(astuple(seen)[1:]))
    assert np.isnan(seen.chance_notable)
    assert not seen.is_less_sensitive
    assert not seen.is_more_sensitive


def test_two_days_show_something(trend):
    seen = trend([(18_000, 3.0, RIGHT), (19_990, 3.0, NONE)])
    assert seen.days == 2
    assert seen.chance_less_sensitive > 0.5


@pytest.mark.parametrize(("chance", "is_flagged"), [(SURE, True), (SURE - 1e-9, False)])
def test_a_flag_takes_the_chance_that_was_set(chance, is_flagged):
    worse = Trend(9, 0, 0, 0, 0.99, chance_less_sensitive=chance, chance_more_sensitive=0.01)
    better = Trend(9, 0, 0, 0, 0.01, chance_less_sensitive=0.01, chance_more_sensitive=chance)
    assert worse.is_less_sensitive == is_flagged
    assert better.is_more_sensitive == is_flagged


def test_chances_belong_together(trend):
    seen = trend(simulate(-0.2, seed=1))
    assert 0 < seen.chance_more_sensitive < 1 - seen.chance_rising < 1
    assert 0 < seen.chance_less_sensitive < seen.chance_rising < 1
    assert seen.chance_notable == seen.chance_less_sensitive + seen.chance_more_sensitive
    assert seen.low < seen.mean < seen.high


def test_order_of_glasses_does_not_matter(trend):
    rows = simulate(-0.3, seed=2)
    assert astuple(trend(rows)) == pytest.approx(astuple(trend(rows[::-1])), abs=1e-12)


def test_answers_after_today_are_left_out(trend):
    rows = simulate(-0.3, seed=3)
    assert astuple(trend(rows)) == astuple(trend([*rows, (TODAY + 1, 3.0, NONE)]))


def test_many_glasses_are_read(trend):
    rows = [(day, level, WRONG) for day in QUARTERS for level in (0.001, 3.0, 1000.0)] * 8
    assert np.all(np.isfinite(astuple(trend(rows))))


def test_beer_families_share_the_slope(pour_glasses, pour_blanks):
    rows = [
        (day, 0, 0, place % 2, "naming", 3.0, 0.0, RIGHT if day < 19_000 else NONE)
        for place, day in enumerate(QUARTERS)
    ]
    glasses, blanks = pour_glasses(rows), pour_blanks([])
    both = find_trend(glasses, blanks, Cell(0, 0, 0), TODAY)
    one = find_trend(glasses.where(glasses.family == 0), blanks, Cell(0, 0, 0), TODAY)
    assert both.low > one.low
    assert both.is_less_sensitive


def test_forced_choices_with_a_background_are_read(pour_glasses, pour_blanks):
    rows = [
        (day, 0, 0, 0, "3afc", 3.0, 1.0, RIGHT if day < 19_000 else WRONG) for day in QUARTERS * 2
    ]
    seen = find_trend(pour_glasses(rows), pour_blanks([]), Cell(0, 0), TODAY)
    assert seen.is_less_sensitive
