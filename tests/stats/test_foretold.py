"""What is foretold of a glass: from the days before it alone, and right as often as it says."""

import numpy as np
import pytest

from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.foretold import foretell
from seatworthy.stats.ability.glasses import Outcome

RIGHT, NONE = Outcome.RIGHT, Outcome.NONE
SHAPE = (3, 2, 1)


def row(day, person, outcome=RIGHT, compound=0, level=3.0, method="naming"):
    return (day, person, compound, 0, method, level, 0.0, outcome)


@pytest.fixture
def past():
    """Person 0 finds compound 0, person 1 misses it, person 2 never had it; asked again on day 200."""
    days = range(100, 180, 10)
    rows = [row(day, 0) for day in days] + [row(day, 1, NONE) for day in days]
    return [*rows, row(200, 0), row(200, 1), row(200, 2)]


def of_day(pour_glasses, pour_blanks, rows, since=200):
    return foretell(pour_glasses(rows), pour_blanks([]), SHAPE, since)


def test_who_found_it_is_expected_to_and_who_missed_it_is_not(pour_glasses, pour_blanks, past):
    found, missed, unknown = of_day(pour_glasses, pour_blanks, past)[-3:]
    assert found > 0.85
    assert missed < 0.35
    assert missed < unknown < found


def test_earlier_days_are_only_taken_in(pour_glasses, pour_blanks, past):
    chances = of_day(pour_glasses, pour_blanks, past)
    assert np.isnan(chances[:-3]).all()
    assert np.isfinite(of_day(pour_glasses, pour_blanks, past, since=0)).all()


def test_the_answers_of_the_day_itself_change_nothing(pour_glasses, pour_blanks, past):
    other = [*past[:-3], row(200, 0, NONE), row(200, 1, NONE), row(200, 2, NONE)]
    assert np.array_equal(
        of_day(pour_glasses, pour_blanks, past)[-3:],
        of_day(pour_glasses, pour_blanks, other)[-3:],
    )


def test_later_days_change_nothing(pour_glasses, pour_blanks, past):
    later = [*past, *(row(300, person, NONE) for person in range(3))]
    assert of_day(pour_glasses, pour_blanks, later)[-6:-3] == pytest.approx(
        of_day(pour_glasses, pour_blanks, past)[-3:], abs=1e-12
    )


def test_a_stronger_glass_is_likelier_to_be_found(pour_glasses, pour_blanks, past):
    weak, strong = (
        of_day(pour_glasses, pour_blanks, [*past[:-3], row(200, 0, level=level)])[-1]
        for level in (0.5, 6.0)
    )
    assert weak < strong


def test_forced_choices_and_unknown_levels_are_not_foretold(pour_glasses, pour_blanks, past):
    rows = [*past[:-3], row(200, 0, method="3afc"), row(200, 0, level=np.nan)]
    assert np.isnan(of_day(pour_glasses, pour_blanks, rows)[-2:]).all()


def test_without_a_glass_there_is_nothing(pour_glasses, pour_blanks):
    assert of_day(pour_glasses, pour_blanks, []).size == 0


def test_the_chance_is_the_models_own_rate_for_one_person(pour_glasses, pour_blanks):
    """With nobody to learn from, the next glass at 3x has about the rate read off that day."""
    rows = [row(day, 0, RIGHT if day % 30 else NONE) for day in range(100, 200, 10)]
    glasses = pour_glasses([*rows, row(201, 0)])
    foretold = foretell(glasses, pour_blanks([]), (1, 1, 1), 201)[-1]
    before = glasses.where(glasses.day < 201)
    today = follow(before, pour_blanks([]), (1, 1, 1), 201).today
    assert foretold == pytest.approx(today.rate_mean_pooled[0, 0, 0], abs=0.03)
