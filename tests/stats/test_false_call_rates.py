"""How sure one may be of few false calls."""

import numpy as np
import pytest
from scipy.stats import beta

from seatworthy.stats.false_calls import chance_false_calls_within, false_call_rate


def test_chance_is_that_of_the_beta_distribution():
    chance = chance_false_calls_within([0, 1, 3], [10, 12, 10], 0.20)
    expected = beta.cdf(0.20, [0.5, 1.5, 3.5], [10.5, 11.5, 7.5])
    assert chance == pytest.approx(expected, abs=1e-12)


def test_quiet_blanks_reassure_and_calls_do_not():
    quiet = chance_false_calls_within(0, np.arange(31))
    assert np.all(np.diff(quiet) > 0)
    assert np.all(np.diff(chance_false_calls_within(np.arange(11), 10)) < 0)


def test_no_blanks_are_no_rate():
    mean, interval = false_call_rate([0, 0], [0, 8])
    assert np.isnan(mean[0])
    assert np.isnan(interval.low[0])
    assert mean[1] == pytest.approx(0.5 / 9)
    assert interval.high[1] == pytest.approx(beta.ppf(0.95, 0.5, 8.5), abs=1e-12)


def test_impossible_counts_and_fractions_are_refused():
    with pytest.raises(ValueError, match="between 0 and the number of blanks"):
        chance_false_calls_within(3, 2)
    with pytest.raises(ValueError, match="ceiling is a fraction"):
        chance_false_calls_within(1, 2, 20)
    with pytest.raises(ValueError, match="Confidence is a fraction"):
        false_call_rate(1, 2, 90)
