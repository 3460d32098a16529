"""The alarm for a loss in a whole person."""

import numpy as np
import pytest
from scipy.special import logit

from seatworthy.stats.ability.alarm import (
    ALARM_CHANCE,
    LEAST_BEFORE,
    LEAST_SINCE,
    LOSS_PRIOR,
    SHARE_LOST,
    SHIFTS,
    WINDOW_DAYS,
    Loss,
    find_loss,
)
from seatworthy.stats.ability.glasses import Outcome

COMPOUNDS, WEEKS, TURN = 8, 26, 20
FIRST = 19_000
RIGHT, NONE = Outcome.RIGHT, Outcome.NONE


def taste(lost=range(COMPOUNDS), seed=1, turn=TURN, weeks=WEEKS, skill=0.9):
    """Rows of a person who names most of six glasses a week, and few of the lost since a turn."""
    draw, rows = np.random.default_rng(seed), []
    for week in range(weeks):
        for compound in draw.permutation(COMPOUNDS)[:6].tolist():
            rate = 0.1 if week >= turn and compound in lost else skill
            outcome = RIGHT if draw.random() < rate else NONE
            rows.append((FIRST + 7 * week, 0, compound, 0, "naming", 3.0, 0.0, outcome))
    return rows


@pytest.fixture
def loss_of(pour_glasses, pour_blanks):
    def run(rows, today=None, shape=(1, COMPOUNDS, 1), person=0):
        today = max((row[0] for row in rows), default=FIRST) if today is None else today
        return find_loss(pour_glasses(rows), pour_blanks([]), shape, person, today)

    return run


def test_a_loss_of_everything_gives_an_alarm_and_its_day(loss_of):
    seen = loss_of(taste())
    assert seen.is_alarm
    assert abs(seen.day - (FIRST + 7 * TURN)) <= 7
    assert seen.sessions == pytest.approx(WEEKS - TURN, abs=1)
    assert np.all(seen.by_compound > 0)


def test_a_loss_of_half_is_found_and_the_compounds_named(loss_of):
    seen = loss_of(taste(lost=range(4), weeks=WEEKS + 6))
    assert seen.is_alarm
    assert seen.by_compound[:4].min() > 0 > seen.by_compound[4:].max()


@pytest.mark.parametrize("seed", range(3))
def test_a_steady_taster_gives_no_alarm(seed, loss_of):
    seen = loss_of(taste(lost=(), seed=seed))
    assert seen.chance < LOSS_PRIOR
    assert not seen.is_alarm


def test_many_compounds_see_a_loss_that_one_alone_does_not(loss_of):
    rows = taste(weeks=TURN + 3)
    assert loss_of(rows).is_alarm
    alone = [loss_of([row for row in rows if row[2] == one]) for one in range(COMPOUNDS)]
    assert not any(one.is_alarm for one in alone)


def test_one_bad_day_is_no_loss(loss_of):
    assert not loss_of(taste(weeks=TURN + 1)).is_alarm
    assert loss_of(taste(weeks=TURN + LEAST_SINCE)).chance > LOSS_PRIOR


def test_a_loss_that_passed_is_forgotten(loss_of):
    ill = taste(weeks=TURN + 3)
    well = [row for row in taste(lost=(), seed=2, weeks=TURN + 9) if row[0] > ill[-1][0]]
    assert loss_of(ill).is_alarm
    assert not loss_of(ill + well).is_alarm


def test_somebody_poor_from_the_start_has_lost_nothing(loss_of):
    seen = loss_of(taste(lost=(), skill=0.1))
    assert seen.chance < 2 * LOSS_PRIOR


def test_colleagues_answers_play_no_part(loss_of):
    rows = taste(weeks=TURN + 3)
    others = [(day, 1, *more[1:-1], NONE) for day, *more in rows]
    alone, among = loss_of(rows), loss_of(rows + others, shape=(2, COMPOUNDS, 1))
    assert np.array_equal(alone.log_factors, among.log_factors, equal_nan=True)
    assert alone.chance == among.chance


def test_chances_belong_together(loss_of):
    seen = loss_of(taste(lost=range(4), weeks=TURN + 3))
    mean_factor = np.exp(seen.log_factor_by_day).mean()
    assert seen.log_factor == pytest.approx(np.log(mean_factor))
    odds = seen.chance / (1 - seen.chance)
    assert odds == pytest.approx(mean_factor * LOSS_PRIOR / (1 - LOSS_PRIOR))
    assert seen.chance_by_day.sum() == pytest.approx(seen.chance)
    assert seen.day == seen.days[seen.chance_by_day.argmax()]
    by_compound = seen.chance_by_shift.sum(axis=(1, 2))
    assert np.all((by_compound > 0) & (by_compound < seen.chance))


def test_a_compound_speaks_only_with_answers_before_and_since(loss_of):
    early, late = 6, 7
    rows = [
        row
        for row in taste()
        if not (row[2] == early and row[0] >= FIRST + 70)
        and not (row[2] == late and row[0] < FIRST + 70)
    ]
    seen = loss_of(rows)
    place = seen.days.tolist().index(FIRST + 70)
    assert np.isnan(seen.log_factors[[early, late], place]).all()
    assert not np.isnan(seen.log_factors[:early, place]).any()
    assert seen.shares[early, place].sum() == pytest.approx(SHARE_LOST)
    assert seen.shares[late, place].sum() == 0


LEAST_DAYS = LEAST_BEFORE + LEAST_SINCE


def first_days(number):
    return [row for row in taste() if row[0] < FIRST + 7 * number]


@pytest.mark.parametrize("days", [0, 1, LEAST_DAYS - 1])
def test_too_few_days_put_no_day_in_question(days, loss_of):
    seen = loss_of(first_days(days))
    assert seen.days.size == seen.log_factor == seen.sessions == 0
    assert seen.day is None
    assert seen.chance == pytest.approx(LOSS_PRIOR)
    assert np.isnan(seen.by_compound).all()
    assert seen.chance_by_shift.shape == (COMPOUNDS, 0, len(SHIFTS))
    assert not seen.is_alarm


def test_a_panel_without_compounds_loses_nothing(loss_of):
    assert loss_of([], shape=(1, 0, 1)).by_compound.shape == (0,)


def test_just_enough_days_put_one_in_question(loss_of):
    seen = loss_of(first_days(LEAST_DAYS))
    assert seen.days.tolist() == [FIRST + 7 * LEAST_BEFORE]
    assert seen.sessions_since.tolist() == [LEAST_SINCE]


@pytest.mark.parametrize(("past", "number"), [(WINDOW_DAYS, 1), (WINDOW_DAYS + 1, 0)])
def test_only_the_last_half_year_is_in_question(past, number, loss_of):
    day = FIRST + 7 * LEAST_BEFORE
    assert loss_of(first_days(LEAST_DAYS), today=day + past).days.size == number


@pytest.mark.parametrize(("beyond", "is_alarm"), [(1e-9, True), (-1e-9, False)])
def test_an_alarm_takes_the_chance_that_was_set(beyond, is_alarm):
    factor = logit(ALARM_CHANCE) - logit(LOSS_PRIOR) + beyond
    one = Loss(
        np.array([1]),
        np.array([2]),
        np.array([factor]),
        np.array([[factor]]),
        np.zeros((1, 1, len(SHIFTS))),
    )
    assert one.is_alarm == is_alarm


def test_order_of_glasses_does_not_matter(loss_of):
    rows = taste(weeks=TURN + 3)
    assert loss_of(rows).chance == pytest.approx(loss_of(rows[::-1]).chance, abs=1e-12)


def test_answers_after_today_are_left_out(loss_of):
    rows = taste()
    today = FIRST + 7 * TURN
    until = [row for row in rows if row[0] <= today]
    assert loss_of(rows, today=today).chance == loss_of(until).chance


def test_unknown_levels_say_nothing(loss_of):
    rows = taste(weeks=TURN + 3)
    silent = [(*row[:5], float("nan"), *row[6:-1], NONE) for row in rows]
    assert loss_of(rows + silent).chance == loss_of(rows).chance


@pytest.mark.parametrize("outcome", Outcome)
def test_answers_all_alike_give_no_alarm(outcome, loss_of):
    assert loss_of([(*row[:-1], outcome) for row in taste()]).chance < 0.2


def test_answers_in_two_beer_families_speak_together(loss_of):
    rows = taste(weeks=TURN + 3)
    families = [(*row[:3], place % 2, *row[4:]) for place, row in enumerate(rows)]
    both = loss_of(families, shape=(1, COMPOUNDS, 2))
    first = loss_of([row for row in families if row[3] == 0], shape=(1, COMPOUNDS, 2))
    assert both.log_factor > first.log_factor
    assert both.is_alarm


def test_people_and_compounds_outside_the_axes_are_refused(loss_of):
    with pytest.raises(ValueError, match="A person must lie in 0 to 0, got 1"):
        loss_of(taste(), person=1)
    with pytest.raises(ValueError, match="Compounds must lie in 0 to 6, got 0 to 7"):
        loss_of(taste(), shape=(1, COMPOUNDS - 1, 1))
