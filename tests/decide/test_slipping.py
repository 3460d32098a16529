"""Did everybody at once find less than usual: by hand, both sides of every limit, and simulated."""

import numpy as np
import pytest

from seatworthy.decide.slipping import (
    CALLS_ROSE,
    FEWEST_GLASSES,
    PANEL_MOVED,
    SHARED,
    TOGETHER_BELOW,
    chance_of_so_many,
    more_calls_than_before,
    shortfall,
)


def found(right, chance=0.8, person=None, sample=None):
    number = len(right)
    who = np.arange(number) if person is None else person
    jug = np.arange(number) if sample is None else sample
    return shortfall(who, jug, right, np.full(number, chance))


def test_counts_and_distance_by_hand():
    """Ten jugs at .8, five right: (8 - 5) / sqrt(10 x .16) = 2.372; without one miss 2.2 / 1.2."""
    seen = found([True] * 5 + [False] * 5)
    assert (seen.glasses, seen.right, seen.tasters) == (10, 5, 10)
    assert seen.foretold == pytest.approx(8)
    assert seen.below == pytest.approx(3 / np.sqrt(1.6))
    assert seen.below_without_worst == pytest.approx(2.2 / 1.2)


def test_glasses_of_one_jug_say_less_than_as_many_jugs():
    """One jug of ten: the variance grows by 1 + 9 x SHARED."""
    alone, together = found([False] * 10), found([False] * 10, sample=np.zeros(10))
    assert together.below == pytest.approx(alone.below / np.sqrt(1 + 9 * SHARED))


def test_everybody_short_is_together_and_one_person_short_is_not():
    everybody = found([True, False, False] * 4, person=np.repeat(np.arange(4), 3))
    assert everybody.is_together
    assert not everybody.rests_on_one
    right = np.ones(32, dtype=bool)
    right[:8] = False
    one = found(right, chance=0.9, person=np.repeat(np.arange(4), 8))
    assert not one.is_together
    assert one.rests_on_one


def test_two_people_can_not_drop_together():
    two = found([False] * 12, person=np.repeat([0, 1], 6))
    assert two.below_without_worst > TOGETHER_BELOW
    assert not two.is_together
    assert found([False] * 12, person=np.repeat([0, 1, 2], 4)).is_together


def test_fewer_glasses_than_the_least_say_nothing():
    assert not found([False] * (FEWEST_GLASSES - 1)).is_together
    assert found([False] * FEWEST_GLASSES).is_together


def test_the_limit_is_reached_from_it_on():
    seen = found([True] * 5 + [False] * 5)
    assert seen.below_without_worst > TOGETHER_BELOW
    assert seen.is_together
    less = found([True] * 6 + [False] * 4)
    assert less.below_without_worst < TOGETHER_BELOW
    assert not less.is_together


def test_the_panel_is_better_worse_or_as_usual():
    assert found([False] * 10).moved == -1
    assert found([True] * 20, chance=0.7).moved == 1
    assert found([True] * 20, chance=0.7).below < -PANEL_MOVED
    assert found([True] * 8 + [False] * 2).moved == 0


def test_without_a_glass_nothing_is_known():
    seen = shortfall([], [], [], [])
    assert (seen.glasses, seen.tasters, seen.moved) == (0, 0, 0)
    assert np.isnan([seen.below, seen.below_without_worst]).all()
    assert not (seen.is_together)
    assert not (seen.rests_on_one)


def test_one_person_alone_is_no_panel():
    assert np.isnan(found([False] * 9, person=np.zeros(9)).below_without_worst)
    assert not found([False] * 9, person=np.zeros(9)).is_together


def test_glasses_of_which_nothing_was_foretold_are_left_out():
    seen = shortfall([0, 1, 2], [0, 1, 2], [True, False, False], [0.8, np.nan, 0.5])
    assert (seen.glasses, seen.right, seen.foretold) == (2, 1, pytest.approx(1.3))


def test_arrays_of_different_lengths_are_refused():
    with pytest.raises(ValueError, match="a person, a sample, an answer and a chance"):
        shortfall([0, 1], [0], [True], [0.5])


def test_a_chance_that_is_none_is_refused():
    with pytest.raises(ValueError, match="between 0 and 1"):
        shortfall([0], [0], [True], [1.5])


def test_a_steady_panel_is_rarely_called_short_and_a_weak_stock_mostly_found():
    """2,000 compounds of 8 people and 24 glasses from 6 jugs; each jug is off by .25 log2 or so."""
    draw = np.random.default_rng(11)
    person, sample = np.tile(np.arange(8), 3), np.repeat(np.arange(6), 4)

    def share(weaker):
        called = 0
        for _ in range(2000):
            chance = np.clip(draw.beta(8, 2, 24), 0.05, 0.98)
            truth = np.clip(chance * weaker + draw.normal(0, 0.05, 6)[sample], 0, 1)
            called += shortfall(person, sample, draw.random(24) < truth, chance).is_together
        return called / 2000

    assert share(1.0) < 0.02
    assert share(0.5) > 0.80


def test_fishers_tea():
    """Three of four cups right and one of four wrong: 17/70 = .243. Fisher (1935), chapter 2."""
    assert chance_of_so_many(3, 4, 1, 4) == pytest.approx(17 / 70)
    assert chance_of_so_many(4, 4, 0, 4) == pytest.approx(1 / 70)


@pytest.mark.parametrize(("recent", "is_said"), [(12, True), (4, False)])
def test_more_calls_than_before_are_said_when_chance_does_not_explain_them(recent, is_said):
    assert (chance_of_so_many(recent, 60, 6, 180) < CALLS_ROSE) is is_said
    assert more_calls_than_before(recent, 60, 6, 180) is is_said


def test_without_blanks_on_a_side_nothing_is_said():
    assert chance_of_so_many(0, 0, 5, 50) == 1
    assert chance_of_so_many(5, 50, 0, 0) == 1


def test_more_calls_than_blanks_are_refused():
    with pytest.raises(ValueError, match="between 0 and the number of blanks"):
        chance_of_so_many(5, 4, 0, 4)
