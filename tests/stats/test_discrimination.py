"""Edges of the one-way analysis and of the correlations; published values stand in tests/outside."""

import numpy as np
import pytest
from scipy.stats import f_oneway

from seatworthy.stats.discrimination import analyse_one_way, intraclass_correlations


@pytest.mark.parametrize("sizes", [(4, 4, 4), (2, 5, 3), (1, 6)])
def test_f_and_p_agree_with_scipy(sizes):
    """By scipy.stats.f_oneway, for equal and unequal numbers."""
    draw = np.random.default_rng(8)
    groups = [draw.normal(number, 1, size) for number, size in enumerate(sizes)]
    found = analyse_one_way(np.concatenate(groups), np.repeat(np.arange(len(sizes)), sizes))
    expected = f_oneway(*groups)
    assert found.ratio == pytest.approx(expected.statistic, rel=1e-10)
    assert found.p == pytest.approx(expected.pvalue, rel=1e-10)


def test_mean_squares_by_hand():
    """Means 2 and 6 of three ratings each, 4 apart: between 6 x 2^2 / 1, within (2 + 2) / 4."""
    found = analyse_one_way([1, 2, 3, 5, 6, 7], [0, 0, 0, 1, 1, 1])
    assert found.between == pytest.approx(24)
    assert found.within == pytest.approx(1)
    assert (found.between_freedom, found.within_freedom) == (1, 4)
    assert found.ratio == pytest.approx(24)


def test_average_size_of_unequal_groups():
    """(10 - (16 + 36) / 10) / 1, which is less than the mean size of 5."""
    assert analyse_one_way(np.arange(10), [0] * 4 + [1] * 6).group_size == pytest.approx(4.8)


def test_codes_may_be_any_and_in_any_order():
    ratings, group = np.array([1, 2, 3, 5, 6, 7]), np.array(["b", "a", "b", "a", "b", "a"])
    turned = analyse_one_way(ratings[::-1], group[::-1])
    assert turned == pytest.approx(analyse_one_way(ratings, (group == "b") + 40))


def test_a_rating_that_was_not_given_is_left_out():
    found = analyse_one_way([1, 2, np.nan, 5, 6, np.nan], [0, 0, 0, 1, 1, 2])
    assert found == analyse_one_way([1, 2, 5, 6], [0, 0, 1, 1])


def test_groups_that_differ_without_spread_are_told_apart_for_certain():
    found = analyse_one_way([0.1, 0.1, 0.1, 0.7, 0.7, 0.7], [0, 0, 0, 1, 1, 1])
    assert found.within == 0
    assert (found.ratio, found.p) == (np.inf, 0)


def test_ratings_that_are_all_the_same_say_nothing():
    found = analyse_one_way([0.1] * 7, [0, 0, 0, 1, 1, 2, 2])
    assert (found.between, found.within) == (0, 0)
    assert np.isnan([found.ratio, found.p]).all()


def test_equal_means_are_no_difference():
    found = analyse_one_way([1, 3, 0, 4], [0, 0, 1, 1])
    assert found.ratio == pytest.approx(0, abs=1e-12)
    assert found.p == pytest.approx(1)


def test_one_group_knows_only_its_spread():
    found = analyse_one_way([0.1, 0.2, 0.4], [3, 3, 3])
    assert found.within == pytest.approx(np.var([0.1, 0.2, 0.4], ddof=1))
    assert np.isnan([found.between, found.group_size, found.ratio, found.p]).all()


def test_single_ratings_know_only_their_differences():
    found = analyse_one_way([0.1, 0.2, 0.4], [0, 1, 2])
    assert found.between == pytest.approx(np.var([0.1, 0.2, 0.4], ddof=1))
    assert np.isnan([found.within, found.ratio, found.p]).all()


@pytest.mark.parametrize("ratings", [[], [np.nan, np.nan]])
def test_no_ratings_say_nothing(ratings):
    found = analyse_one_way(ratings, np.zeros(len(ratings)))
    assert (found.between_freedom, found.within_freedom) == (0, 0)
    assert np.isnan([found.between, found.within, found.group_size, found.ratio, found.p]).all()


@pytest.mark.parametrize(("ratings", "group"), [([1, 2], [0]), ([[1, 2]], [[0, 1]])])
def test_unequal_rows_are_refused(ratings, group):
    with pytest.raises(ValueError, match="Two rows of equal length"):
        analyse_one_way(ratings, group)


def test_an_infinite_rating_is_refused():
    with pytest.raises(ValueError, match="must be finite, or nan"):
        analyse_one_way([1, np.inf], [0, 1])


def test_p_is_even_where_groups_do_not_differ():
    """2,000 panels without a difference: a tenth of the p below .1."""
    draw = np.random.default_rng(2).normal(size=(2000, 9))
    p = [analyse_one_way(row, [0, 0, 1, 1, 1, 2, 2, 2, 2]).p for row in draw]
    assert np.mean(np.array(p) < 0.1) == pytest.approx(0.1, abs=0.02)


def test_judges_who_agree_fully_correlate_fully():
    found = intraclass_correlations([[1, 1, 1], [4, 4, 4], [6, 6, 6]])
    assert found == pytest.approx([1] * 6)


def test_a_constant_shift_between_judges_hurts_only_where_it_counts():
    found = intraclass_correlations([[1, 3], [4, 6], [6, 8]])
    assert found.fixed_single == pytest.approx(1)
    assert found.random_single < 0.95


def test_means_of_judges_are_as_spearman_and_brown_say():
    """K r / (1 + (k - 1) r) of the single form, in all three."""
    table = np.random.default_rng(4).normal(size=(8, 3)) + np.arange(8)[:, None]
    found = np.array(intraclass_correlations(table))
    assert found[3:] == pytest.approx(3 * found[:3] / (1 + 2 * found[:3]))


def test_true_shares_of_variance_are_found():
    """4,000 targets, variances 4 (targets), 1 (judges), 2 (rest): 4 / 7 and 4 / 6 by definition."""
    draw = np.random.default_rng(5)
    judges = np.array([1.0, -1.0, 0.5, -0.5]) * np.sqrt(6 / 5)
    target, rest = draw.normal(0, 2, (4000, 1)), draw.normal(0, np.sqrt(2), (4000, 4))
    found = intraclass_correlations(target + judges + rest)
    assert found.random_single == pytest.approx(4 / 7, abs=0.02)
    assert found.fixed_single == pytest.approx(4 / 6, abs=0.02)


@pytest.mark.parametrize("shape", [(1, 4), (5, 1), (0, 3), (0, 0)])
def test_one_target_or_one_judge_is_too_little(shape):
    assert np.isnan(intraclass_correlations(np.ones(shape))).all()


@pytest.mark.parametrize("rating", [0.1, 7.3, 0.0])
def test_ratings_without_any_difference_correlate_with_nothing(rating):
    assert np.isnan(intraclass_correlations(np.full((4, 3), rating))).all()


def test_targets_that_do_not_differ_have_no_mean_forms():
    found = intraclass_correlations([[0.1, 0.3], [0.1, 0.3], [0.1, 0.3]])
    assert np.isnan([found.one_way_mean, found.fixed_single, found.fixed_mean]).all()
    assert found.random_single == 0


@pytest.mark.parametrize("table", [[1, 2, 3], [[1, np.nan], [2, 3]], [[1, np.inf], [2, 3]]])
def test_a_table_with_gaps_is_refused(table):
    with pytest.raises(ValueError, match="A full table of targets by judges"):
        intraclass_correlations(table)


def test_no_table_gives_more_than_one():
    tables = np.random.default_rng(6).integers(0, 3, (500, 3, 3))
    found = np.array([intraclass_correlations(table) for table in tables])
    assert np.nanmax(found) <= 1 + 1e-12
