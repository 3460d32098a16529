"""Edges of the moving average and its limits; published values stand in tests/outside."""

import numpy as np
import pytest

from seatworthy.stats.moving_average import control_limits, moving_average, settled_limits


def test_average_moves_part_of_the_way_to_each_value():
    assert moving_average([8, 0, 4], 4, 0.25).tolist() == [5, 3.75, 3.8125]


def test_a_series_that_stands_still_stays_where_it_started():
    assert moving_average([2.5] * 5, 2.5, 0.3) == pytest.approx([2.5] * 5)


def test_full_weight_gives_the_series_itself():
    assert moving_average([3, 1, 2], 9, 1).tolist() == [3, 1, 2]


def test_weights_of_past_values_fall_by_a_constant_part():
    values = np.random.default_rng(1).normal(size=12)
    weights = 0.3 * 0.7 ** np.arange(11, -1, -1)
    expected = weights @ values + 0.7**12 * 5
    assert moving_average(values, 5, 0.3)[-1] == pytest.approx(expected)


def test_an_unknown_value_leaves_the_average_where_it_was():
    found = moving_average([8, np.nan, 0], 4, 0.25)
    assert found.tolist() == [5, 5, 3.75]


def test_an_unknown_start_leaves_everything_unknown():
    assert np.isnan(moving_average([1, 2], np.nan, 0.3)).all()


def test_no_values_are_no_averages():
    assert moving_average([], 4, 0.3).shape == (0,)


@pytest.mark.parametrize("weight", [0, -0.1, 1.1, np.nan])
def test_impossible_weights_are_refused(weight):
    with pytest.raises(ValueError, match="above 0 and is at most 1"):
        moving_average([1, 2], 0, weight)
    with pytest.raises(ValueError, match="above 0 and is at most 1"):
        control_limits(1, 0, 1, weight)


@pytest.mark.parametrize("series", [3.0, [[1, 2], [3, 4]]])
def test_a_series_that_is_no_row_is_refused(series):
    with pytest.raises(ValueError, match="one row of values"):
        moving_average(series, 0, 0.3)


def test_limits_open_with_the_first_value_and_widen():
    low, high = control_limits(np.arange(6), 10, 2, 0.2)
    assert (low[0], high[0]) == (10, 10)
    assert (np.diff(low) < 0).all()
    assert (np.diff(high) > 0).all()


def test_limits_settle():
    found, settled = control_limits(200, 10, 2, 0.2), settled_limits(10, 2, 0.2)
    assert found.low == pytest.approx(settled.low, abs=1e-9)
    assert found.high == pytest.approx(settled.high, abs=1e-9)


def test_first_limits_are_those_of_one_weighted_value():
    low, high = control_limits(1, 10, 2, 0.2, width=2.5)
    assert (low, high) == pytest.approx((10 - 2.5 * 0.2 * 2, 10 + 2.5 * 0.2 * 2))


def test_full_weight_gives_the_limits_of_single_values():
    assert settled_limits(10, 2, 1) == pytest.approx((4, 16))


def test_a_series_without_spread_has_no_width():
    assert settled_limits(10, 0, 0.3) == (10, 10)


def test_limits_hold_a_series_that_stands_still():
    """20,000 series: at each place .0455 lie outside 2 standard deviations."""
    draw = np.random.default_rng(3).normal(10, 2, (20_000, 5))
    averages = np.array([moving_average(row, 10, 0.3) for row in draw])
    low, high = control_limits(np.arange(1, 6), 10, 2, 0.3, width=2)
    outside = np.mean((averages < low) | (averages > high), axis=0)
    assert outside == pytest.approx(np.full(5, 0.0455), abs=0.005)


@pytest.mark.parametrize(("sd", "width"), [(-1, 3), (np.nan, 3), (1, 0), (1, -2)])
def test_impossible_spreads_and_widths_are_refused(sd, width):
    with pytest.raises(ValueError, match="sd must not be negative and the width above 0"):
        settled_limits(10, sd, 0.3, width)


@pytest.mark.parametrize("number", [-1, np.nan])
def test_impossible_numbers_are_refused(number):
    with pytest.raises(ValueError, match="must be known and not negative"):
        control_limits([2, number], 10, 1, 0.3)
