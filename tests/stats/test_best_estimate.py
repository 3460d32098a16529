"""The rule of the middle and its ends."""

import numpy as np
import pytest

from seatworthy.stats.best_estimate import group_threshold, individual_threshold


def test_threshold_lies_in_the_middle_of_the_last_miss_and_the_next_level():
    assert individual_threshold([1, 2, 4, 8], [0, 0, 1, 1]) == pytest.approx(np.sqrt(8))


def test_a_hit_below_a_later_miss_is_luck():
    assert individual_threshold([1, 2, 4, 8], [1, 0, 1, 1]) == pytest.approx(np.sqrt(8))
    assert individual_threshold([1, 2, 4, 8], [1, 1, 0, 1]) == pytest.approx(np.sqrt(32))


def test_all_right_ends_half_a_step_below():
    assert individual_threshold([1, 3, 6], [1, 1, 1]) == pytest.approx(1 / np.sqrt(3))


def test_a_miss_at_the_top_ends_half_a_step_above():
    assert individual_threshold([1, 3, 6], [1, 1, 0]) == pytest.approx(6 * np.sqrt(2))


def test_the_unit_carries_through():
    levels, right = np.array([1.0, 2, 5, 9]), [0, 1, 0, 1]
    assert individual_threshold(60 * levels, right) == pytest.approx(
        60 * individual_threshold(levels, right)
    )


def test_one_person_is_a_group_without_a_spread():
    mean, spread = group_threshold([1, 2, 4], [[0, 1, 1]])
    assert mean == pytest.approx(np.sqrt(2))
    assert np.isnan(spread)


@pytest.mark.parametrize("levels", [[4, 2, 1], [1, 1, 2], [0, 1, 2], [-1, 1, 2]])
def test_levels_that_do_not_ascend_are_refused(levels):
    with pytest.raises(ValueError, match="ascend from above 0"):
        individual_threshold(levels, [0, 1, 1])


@pytest.mark.parametrize(("levels", "right"), [([1], [1]), ([1, 2], [1]), ([[1, 2]], [[1, 1]])])
def test_odd_shapes_are_refused(levels, right):
    with pytest.raises(ValueError, match="at least two levels with one answer each"):
        individual_threshold(levels, right)


@pytest.mark.parametrize("right", [[0, 1, 1], np.empty((0, 3))])
def test_a_group_needs_rows(right):
    with pytest.raises(ValueError, match="One row a person is needed"):
        group_threshold([1, 2, 4], right)
