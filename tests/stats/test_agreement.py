import numpy as np
import pytest
from scipy.stats import binom

from seatworthy.stats.agreement import (
    agreed_share,
    agreement_table,
    chance_of_so_few,
    expected_agreement,
    kappa,
)


@pytest.mark.parametrize("agreed", range(9))
def test_equal_chances_give_the_binomial_distribution(agreed):
    """scipy.stats.binom as the independent reference."""
    expected = binom.cdf(agreed, 8, 0.7)
    assert chance_of_so_few(agreed, np.full(8, 0.7)) == pytest.approx(expected)


def test_two_pairs_by_hand():
    """One pair at .5 and one at .8: neither agrees with chance .5 x .2."""
    assert chance_of_so_few(0, [0.5, 0.8]) == pytest.approx(0.1)
    assert chance_of_so_few(1, [0.5, 0.8]) == pytest.approx(0.6)


def test_no_pairs_make_nothing_improbable():
    assert chance_of_so_few(0, []) == 1.0


@pytest.mark.parametrize("agreed", [-1, 3])
def test_impossible_counts_are_a_slip(agreed):
    with pytest.raises(ValueError, match="agreed must lie between 0 and 2"):
        chance_of_so_few(agreed, [0.5, 0.5])


@pytest.mark.parametrize(("rate", "expected"), [(0.0, 1.0), (0.5, 0.5), (1.0, 1.0), (0.8, 0.68)])
def test_agreement_from_a_rate(rate, expected):
    assert expected_agreement([rate])[0] == pytest.approx(expected)


def test_share_of_agreeing_pairs():
    assert agreed_share([0, 1, 2, 2], [0, 1, 2, 0]) == 0.75


def test_no_pairs_are_no_share():
    assert np.isnan(agreed_share([], []))


def test_table_counts_every_pair_of_codes():
    table = agreement_table([0, 0, 1, 2, 0], [0, 2, 1, 2, 2], 3)
    assert table.tolist() == [[1, 0, 2], [0, 1, 0], [0, 0, 1]]


def test_a_code_that_nobody_used_keeps_its_row_and_column():
    assert agreement_table([0, 0], [0, 0], 3).shape == (3, 3)


def test_no_pairs_are_an_empty_table():
    assert agreement_table([], [], 2).tolist() == [[0, 0], [0, 0]]


@pytest.mark.parametrize("codes", [[0, 3], [0, -1]])
def test_codes_beyond_the_table_are_a_slip(codes):
    with pytest.raises(ValueError, match="codes must lie between 0 and 2"):
        agreement_table([0, 0], codes, 3)


@pytest.mark.parametrize(
    ("first", "second"), [([0, 1], [0]), ([[0, 1]], [[0, 1]])], ids=["length", "dimension"]
)
def test_unequal_rows_are_a_slip(first, second):
    with pytest.raises(ValueError, match="two rows of equal length"):
        agreed_share(first, second)


@pytest.mark.parametrize("code", [0.5, np.nan])
def test_codes_that_are_no_whole_numbers_are_a_slip(code):
    with pytest.raises(ValueError, match="codes must be whole numbers"):
        agreement_table([code], [0], 2)


@pytest.mark.parametrize("weights", ["none", "linear"])
def test_full_agreement_is_one_without_error(weights):
    assert kappa(np.diag([3, 4, 5]), weights) == pytest.approx((1.0, 0.0), abs=1e-12)


@pytest.mark.parametrize("weights", ["none", "linear"])
def test_agreement_as_by_chance_is_zero(weights):
    assert kappa(np.outer([4, 2, 2], [1, 2, 1]), weights).value == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize("weights", ["none", "linear"])
@pytest.mark.parametrize("table", [[[7, 0], [0, 0]], [[0, 0], [0, 9]], [[5]], np.zeros((3, 3))])
def test_one_category_only_says_nothing(table, weights):
    assert np.isnan(kappa(table, weights)).all()


def test_a_second_category_is_enough_to_say_something():
    assert kappa([[7, 1], [0, 0]]).value == pytest.approx(0, abs=1e-12)


def test_two_categories_weigh_alike_either_way():
    table = [[5, 2], [1, 4]]
    assert kappa(table, "linear") == pytest.approx(kappa(table))


def test_turning_the_table_changes_nothing():
    table = np.array([[5, 2, 0], [1, 4, 3], [1, 0, 2]])
    assert kappa(table.T, "linear") == pytest.approx(kappa(table, "linear"))


def test_standard_error_is_the_spread_of_simulated_kappas():
    """2,000 tables of 400 pairs; the large-sample formula, so 5 % is allowed."""
    shares = np.array([[0.3, 0.1, 0.0], [0.05, 0.25, 0.05], [0.05, 0.0, 0.2]])
    draws = np.random.default_rng(3).multinomial(400, shares.ravel(), 2000).reshape(-1, 3, 3)
    values = [kappa(draw).value for draw in draws]
    assert kappa(400 * shares).standard_error == pytest.approx(np.std(values), rel=0.05)


@pytest.mark.parametrize("table", [[[1, 2, 3]], [1, 2]])
def test_a_table_that_is_not_square_is_a_slip(table):
    with pytest.raises(ValueError, match="a square table is needed"):
        kappa(table)


@pytest.mark.parametrize("count", [-1, np.nan, np.inf])
def test_impossible_counts_in_a_table_are_a_slip(count):
    with pytest.raises(ValueError, match="finite and not negative"):
        kappa([[1, count], [1, 1]])


def test_unknown_weights_are_a_slip():
    with pytest.raises(ValueError, match="weights must be one of none, linear, got 'square'"):
        kappa([[1, 0], [0, 1]], "square")
