"""Slopes and their chances, counted over all orders; published values stand in tests/outside."""

from itertools import permutations

import numpy as np
import pytest
from scipy.stats import kendalltau, theilslopes

from seatworthy.stats.straight_line import kendall_trend, middle_slope

SIDES = {"two-sided": "p_either", "greater": "p_rising", "less": "p_falling"}


def any_points(number, seed=1):
    draw = np.random.default_rng(seed)
    return draw.permutation(number).astype(float), draw.normal(size=number)


def scores_of_all_orders(times, values):
    pairs = [(one, other) for other in range(len(times)) for one in range(other)]
    return np.array(
        [
            sum(np.sign((times[j] - times[i]) * (order[j] - order[i])) for i, j in pairs)
            for order in permutations(values)
        ]
    )


@pytest.mark.parametrize("number", [3, 8, 15, 60])
@pytest.mark.parametrize("side", SIDES)
def test_chances_without_ties_agree_with_scipy(number, side):
    """By scipy.stats.kendalltau(method="exact")."""
    times, values = any_points(number)
    expected = kendalltau(times, values, alternative=side, method="exact")
    assert getattr(kendall_trend(times, values), SIDES[side]) == pytest.approx(expected.pvalue)


@pytest.mark.parametrize("number", [5, 61])
def test_tau_agrees_with_scipy_also_with_ties(number):
    """By scipy.stats.kendalltau, which gives tau-b."""
    times, values = np.arange(number) // 2, np.round(any_points(number)[1])
    assert kendall_trend(times, values).tau == pytest.approx(kendalltau(times, values).statistic)


@pytest.mark.parametrize(
    ("times", "values"),
    [
        ([1, 1, 2, 3, 3, 3], [4, 1, 2, 6, 5, 3]),
        ([1, 2, 3, 4, 5, 6], [1, 2, 2, 2, 0, 2]),
        ([1, 1, 1, 2, 2, 3], [1, 2, 2, 3, 0, 3]),
        ([1, 1, 2, 2], [7, 7, 7, 7]),
    ],
    ids=["tied times", "tied values", "both tied", "one value"],
)
def test_chances_with_ties_are_those_of_all_orders(times, values):
    scores = scores_of_all_orders(times, values)
    found = kendall_trend(times, values)
    assert found.p_rising == pytest.approx(np.mean(scores >= found.score))
    assert found.p_falling == pytest.approx(np.mean(scores <= found.score))


def test_approximation_with_ties_lies_near_the_count_of_many_orders():
    """12 points tied in both; 40,000 orders drawn."""
    times, values = np.repeat([1, 2, 3, 4], 3), np.array([1, 0, 1, 2, 1, 1, 0, 2, 3, 2, 2, 1])
    draw = np.random.default_rng(5)
    orders = draw.permuted(np.tile(values, (40_000, 1)), axis=1)
    one, other = np.triu_indices(12, 1)
    rises = np.sign(times[other] - times[one]) * np.sign(orders[:, other] - orders[:, one])
    found = kendall_trend(times, values)
    assert found.p_rising == pytest.approx(np.mean(rises.sum(axis=1) >= found.score), abs=0.01)


def test_approximation_takes_over_where_counting_ends():
    """61 points, counted by scipy and approximated here; half a step is corrected for."""
    times, values = any_points(61, seed=3)
    expected = kendalltau(times, values, alternative="greater", method="exact").pvalue
    assert kendall_trend(times, values).p_rising == pytest.approx(expected, abs=1e-3)


def test_many_points_of_one_value_show_no_trend():
    found = kendall_trend(np.arange(70), np.ones(70))
    assert (found.p_rising, found.p_falling, found.p_either) == (1, 1, 1)


def test_values_that_are_all_the_same_show_no_trend():
    found = kendall_trend([1, 2, 3], [4, 4, 4])
    assert (found.score, found.p_rising, found.p_falling, found.p_either) == (0, 1, 1, 1)
    assert np.isnan(found.tau)


def test_turning_time_round_turns_the_trend_round():
    times, values = any_points(9)
    forth, back = kendall_trend(times, values), kendall_trend(-times, values)
    assert (back.score, back.p_rising) == pytest.approx((-forth.score, forth.p_falling))


def test_only_the_order_matters_to_the_test():
    times, values = any_points(9)
    assert kendall_trend(np.exp(times), values**3) == kendall_trend(times, values)


def test_slope_of_a_line_with_one_wild_point():
    values = 2.0 * np.arange(9) + 1
    values[4] = 500
    assert middle_slope(np.arange(9), values).per_time == pytest.approx(2)


@pytest.mark.parametrize("number", [4, 7, 30, 75])
def test_slope_agrees_with_scipy(number):
    """By scipy.stats.theilslopes."""
    times, values = any_points(number)
    assert middle_slope(times, values).per_time == pytest.approx(theilslopes(values, times).slope)


@pytest.mark.parametrize("number", [25, 61, 90])
def test_interval_of_many_points_agrees_with_scipy(number):
    """By scipy.stats.theilslopes, always approximate; its limits are at most one slope away."""
    times, values = any_points(number)
    interval, expected = middle_slope(times, values, 0.95).interval, theilslopes(values, times)
    assert interval.low == pytest.approx(expected.low_slope, abs=0.002)
    assert interval.high == pytest.approx(expected.high_slope, abs=0.002)


@pytest.mark.parametrize("times", [[0, 1, 2, 3, 4, 5], [0, 0, 1, 1, 2, 3]])
@pytest.mark.parametrize("confidence", [0.5, 0.9])
def test_interval_covers_as_often_as_asked_and_hardly_more(times, confidence):
    """All 720 orders of six different errors about a line without slope."""
    errors = np.array([-3.1, -1.7, -0.4, 0.9, 2.3, 4.4])
    found = [middle_slope(times, order, confidence).interval for order in permutations(errors)]
    covered = np.mean([low < 0 < high for low, high in found])
    assert confidence <= covered < 1 - (1 - confidence) / 4


def test_too_few_points_for_an_end_have_none():
    """Three points rise or fall throughout in 2 of 6 orders: enough for .60 and not for .90."""
    times, values = [0, 1, 2], [1, 2, 4]
    assert middle_slope(times, values, 0.90).interval == (-np.inf, np.inf)
    assert middle_slope(times, values, 0.60).interval == (1, 2)


def test_two_points_have_a_slope_without_an_interval():
    found = middle_slope([1, 3], [5, 9])
    assert found.per_time == 2
    assert found.interval == (-np.inf, np.inf)


def test_points_of_one_time_are_not_compared():
    assert middle_slope([0, 0, 1], [5, 9, 8]).per_time == pytest.approx(1)


@pytest.mark.parametrize("times", [[], [3], [3, 3, 3], [3, np.nan]])
def test_fewer_than_two_times_say_nothing(times):
    values = np.arange(len(times))
    slope = middle_slope(times, values)
    assert np.isnan([slope.per_time, *slope.interval]).all()
    assert np.isnan(kendall_trend(times, values)).all()


def test_unknown_points_are_left_out():
    times, values = [0, 1, np.nan, 2, 3], [1, np.nan, 7, 2, 4]
    assert middle_slope(times, values) == middle_slope([0, 2, 3], [1, 2, 4])
    assert kendall_trend(times, values) == kendall_trend([0, 2, 3], [1, 2, 4])


@pytest.mark.parametrize("give", [middle_slope, kendall_trend])
def test_impossible_points_are_refused(give):
    with pytest.raises(ValueError, match="Two rows of equal length"):
        give([1, 2], [1, 2, 3])
    with pytest.raises(ValueError, match="Two rows of equal length"):
        give([[1, 2]], [[1, 2]])
    with pytest.raises(ValueError, match="must be finite, or nan"):
        give([1, np.inf], [1, 2])


@pytest.mark.parametrize("confidence", [0, 1, 90])
def test_a_percentage_is_no_confidence(confidence):
    with pytest.raises(ValueError, match="Confidence is a fraction"):
        middle_slope([1, 2], [1, 2], confidence)
