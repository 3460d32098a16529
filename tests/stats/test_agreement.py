import numpy as np
import pytest
from scipy.stats import binom

from seatworthy.stats.agreement import chance_of_so_few, expected_agreement


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
