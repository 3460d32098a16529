"""Intervals for a proportion against published tables and another program."""

import numpy as np
import pytest

from seatworthy.stats.proportions import exact_interval, jeffreys_interval, wilson_interval


@pytest.mark.parametrize(
    ("hits", "trials", "low", "high"), [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605)]
)
def test_wilson_interval_matches_newcombe_1998_table_1(hits, trials, low, high):
    """Newcombe (1998), Stat. Med. 17:857-872, Table I, method 3; from a secondary copy."""
    assert wilson_interval(hits, trials) == pytest.approx((low, high), abs=5e-5)


@pytest.mark.parametrize(
    ("hits", "low", "high"), [(0, 0, 0.292), (1, 0.016, 0.501), (2, 0.065, 0.648)]
)
def test_jeffreys_interval_matches_brown_cai_dasgupta_2001_table_5(hits, low, high):
    """Brown, Cai & DasGupta (2001), Stat. Sci. 16:101-133, Table 5, n = 7; from memory."""
    assert jeffreys_interval(hits, 7) == pytest.approx((low, high), abs=5e-4)


@pytest.mark.parametrize(
    ("interval", "method"),
    [(wilson_interval, "wilson"), (jeffreys_interval, "jeffreys"), (exact_interval, "beta")],
)
def test_intervals_agree_with_statsmodels(interval, method):
    """By statsmodels 0.15, proportion_confint(hits, trials, alpha, method), none and all left out.

    It leaves the Jeffreys interval open there, where Brown, Cai & DasGupta close it.
    """
    from statsmodels.stats.proportion import proportion_confint

    trials = np.repeat([4, 12, 60], 3)
    hits = np.array([1, 2, 3, 1, 6, 11, 3, 30, 59])
    for confidence in (0.90, 0.95):
        expected = proportion_confint(hits, trials, 1 - confidence, method)
        found = interval(hits, trials, confidence)
        assert found.low == pytest.approx(expected[0], abs=1e-10)
        assert found.high == pytest.approx(expected[1], abs=1e-10)


def test_intervals_agree_with_scipy():
    """SciPy 1.15+, binomtest(hits, trials).proportion_ci(confidence, method)."""
    from scipy.stats import binomtest

    for hits in (0, 1, 5, 9):
        for interval, method in ((wilson_interval, "wilson"), (exact_interval, "exact")):
            expected = binomtest(hits, 9).proportion_ci(0.95, method)
            assert interval(hits, 9) == pytest.approx(tuple(expected), abs=1e-10)
