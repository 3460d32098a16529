"""How a threshold went over time, with answers before and after every day."""

from dataclasses import fields, replace

import numpy as np
import pytest

from seatworthy.stats.ability.both_ways import Cell
from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.glasses import Outcome
from seatworthy.stats.ability.smooth import DAYS_BETWEEN, Smoothed, smooth

RIGHT, WRONG, NONE = Outcome.RIGHT, Outcome.WRONG, Outcome.NONE
CELL = Cell(0, 0)
ESTIMATES = [field.name for field in fields(Smoothed)][2:]
TODAYS = {
    "threshold_mean": "threshold_mean_own",
    "threshold_low": "threshold_low_own",
    "threshold_high": "threshold_high_own",
    "rate_mean": "rate_mean",
    "rate_low": "rate_low",
    "rate_high": "rate_high",
}


@pytest.fixture
def smoothed(name_glasses, pour_blanks):
    def run(rows, today=20_000, blanks=(), cell=CELL, **more):
        return smooth(name_glasses(rows), pour_blanks(blanks), cell, today, **more)

    return run


def assert_same(one, other, tolerance=1e-9):
    for name in ESTIMATES:
        assert getattr(one, name) == pytest.approx(getattr(other, name), abs=tolerance), name


def test_today_reads_as_it_is_followed(invent_panel):
    panel = invent_panel(seed=2)
    today = follow(panel.glasses, panel.blanks, panel.shape, panel.today).today
    for place in np.ndindex(panel.shape):
        seen = smooth(panel.glasses, panel.blanks, Cell(*place), panel.today)
        for name, followed in TODAYS.items():
            expected = getattr(today, followed)[place]
            assert getattr(seen, name)[-1] == pytest.approx(expected, abs=1e-9), name


def test_the_last_day_with_glasses_reads_as_it_is_followed(invent_panel):
    panel = invent_panel(seed=4)
    last = int(panel.glasses.day.max())
    today = follow(panel.glasses, panel.blanks, panel.shape, last).today
    seen = smooth(panel.glasses, panel.blanks, Cell(1, 2, 1), last)
    assert seen.days[-1] == last
    assert seen.threshold_mean[-1] == pytest.approx(today.threshold_mean_own[1, 2, 1], abs=1e-9)


def test_a_sudden_loss_shows_earlier_than_it_was_known(name_glasses, pour_blanks):
    """Ten months of right names, then none: the first day on which half of the rise is read."""
    rows = [(19_000 + 30 * month, 3.0, RIGHT if month < 10 else NONE) for month in range(20)]
    glasses, blanks, today = name_glasses(rows), pour_blanks([]), rows[-1][0]
    seen = smooth(glasses, blanks, CELL, today)
    known = follow(glasses, blanks, (1, 1, 1), today)
    half = (seen.threshold_mean.min() + seen.threshold_mean.max()) / 2
    shown = seen.days[seen.threshold_mean > half][0]
    was_known = known.days[known.threshold_mean > half][0]
    assert abs(shown - rows[10][0]) <= 30
    assert was_known >= shown + 30


def test_a_history_told_backwards_reads_backwards(smoothed):
    rows = [(19_000, 3.0, RIGHT), (19_000, 2.0, NONE), (19_200, 3.0, WRONG), (19_700, 4.0, RIGHT)]
    turned = [(38_700 - day, level, outcome) for day, level, outcome in rows]
    asked = [19_000, 19_100, 19_350, 19_700]
    there = smoothed(rows, today=19_700, days=asked)
    back = smoothed(turned, today=19_700, days=[38_700 - day for day in asked])
    for name in ESTIMATES:
        assert getattr(there, name) == pytest.approx(getattr(back, name)[::-1], abs=1e-9), name


def test_a_day_is_surest_where_the_glasses_are(smoothed):
    seen = smoothed([(19_000, 3.0, RIGHT)] * 6, days=[18_500, 19_000, 19_500])
    width = seen.threshold_high - seen.threshold_low
    assert width[1] < width[0]
    assert width[0] == pytest.approx(width[2], abs=1e-9)


def test_later_answers_tell_about_earlier_days(smoothed):
    rows = [(19_400, 3.0, RIGHT)]
    alone = smoothed(rows, days=[19_400])
    later = smoothed([*rows, *[(19_430, 3.0, NONE)] * 5], days=[19_400])
    assert later.threshold_mean[0] > alone.threshold_mean[0] + 0.5


def test_days_are_those_with_glasses_today_and_a_grid_back_from_today(smoothed):
    seen = smoothed([(19_985, 3.0, RIGHT), (19_930, 3.0, NONE)])
    assert seen.days.tolist() == [19_930, 19_940, 19_970, 19_985, 20_000]
    assert seen.is_poured.tolist() == [True, False, False, True, False]


@pytest.mark.parametrize(("first", "number"), [(DAYS_BETWEEN, 2), (DAYS_BETWEEN + 1, 3)])
def test_the_grid_begins_with_the_first_glass(first, number, smoothed):
    assert smoothed([(20_000 - first, 3.0, RIGHT)]).days.size == number


def test_days_asked_for_are_read_once_and_in_order(smoothed):
    seen = smoothed([(19_985, 3.0, RIGHT)], days=[20_100, 19_000, 20_100])
    assert seen.days.tolist() == [19_000, 20_100]


def test_without_glasses_today_holds_the_prior(smoothed, name_glasses, pour_blanks):
    seen = smoothed([])
    prior = follow(name_glasses([]), pour_blanks([]), (1, 1, 1), 20_000).today
    assert seen.days.tolist() == [20_000]
    assert not seen.is_poured[0]
    assert seen.threshold_mean[0] == pytest.approx(prior.threshold_mean_own[0, 0, 0], abs=1e-9)
    assert seen.rate_high[0] == pytest.approx(prior.rate_high[0, 0, 0], abs=1e-9)


def test_days_asked_for_must_not_be_none(smoothed):
    with pytest.raises(ValueError, match="At least one day to read was expected"):
        smoothed([(19_985, 3.0, RIGHT)], days=[])


@pytest.mark.parametrize("outcome", Outcome)
def test_all_answers_alike_are_read(outcome, smoothed):
    seen = smoothed([(19_000 + 7 * week, 3.0, outcome) for week in range(60)])
    assert np.all(seen.threshold_low < seen.threshold_mean)
    assert np.all(seen.threshold_mean < seen.threshold_high)
    assert np.all((seen.rate_low >= 0) & (seen.rate_high <= 1))


@pytest.mark.parametrize("level", [0.001, 1000.0])
def test_levels_far_out_are_read(level, smoothed):
    seen = smoothed([(19_000, level, RIGHT), (19_500, level, NONE)])
    assert np.all(np.isfinite([getattr(seen, name) for name in ESTIMATES]))


def test_order_of_glasses_does_not_matter(smoothed):
    rows = [(19_000, 3.0, RIGHT), (19_300, 3.0, NONE), (19_300, 2.0, WRONG), (19_900, 3.0, RIGHT)]
    assert_same(smoothed(rows), smoothed(rows[::-1]), 1e-12)


def test_answers_after_today_are_left_out(smoothed):
    rows = [(19_000, 3.0, RIGHT), (19_300, 3.0, NONE)]
    assert_same(smoothed([*rows, (20_001, 3.0, NONE)]), smoothed(rows), 0)


def test_unknown_levels_say_nothing(smoothed):
    rows = [(19_000, 3.0, RIGHT), (19_300, 3.0, NONE)]
    assert_same(smoothed([*rows, (19_100, float("nan"), NONE)]), smoothed(rows), 0)


def test_colleagues_and_other_compounds_say_nothing(invent_panel):
    panel, cell = invent_panel(), Cell(2, 1, 0)
    own = (panel.glasses.person == 2) & (panel.glasses.compound == 1)
    alone = replace(panel, glasses=panel.glasses.where(own))
    assert_same(
        *(smooth(one.glasses, one.blanks, cell, one.today) for one in (panel, alone)), 1e-12
    )


def test_another_beer_family_says_less(smoothed):
    rows = [(19_900, 3.0, RIGHT)] * 5
    here, there = (smoothed(rows, days=[19_900], cell=Cell(0, 0, family)) for family in (0, 1))
    assert here.threshold_high[0] < there.threshold_high[0]


def test_answers_are_read_with_the_false_call_rate_known_today(smoothed):
    rows = [(19_000 + 60 * place, 3.0, RIGHT) for place in range(6)]
    caller = smoothed(rows, blanks=[(19_900, 0, True)] * 8)
    quiet = smoothed(rows, blanks=[(19_900, 0, False)] * 8)
    assert np.all(caller.threshold_mean > quiet.threshold_mean)
