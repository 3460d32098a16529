"""Edges of d' and criterion; published values stand in tests/outside."""

import numpy as np
import pytest

from seatworthy.stats.yes_no import criterion, d_prime, log_linear_rates


def test_calling_everywhere_alike_is_no_detection():
    assert d_prime(0.3, 0.3) == 0
    assert criterion(0.5, 0.5) == 0


def test_readier_callers_have_a_lower_criterion():
    assert criterion(0.9, 0.4) < 0 < criterion(0.4, 0.1)


def test_uncorrected_certainty_is_infinite_and_corrected_is_not():
    assert d_prime(1.0, 0.0) == np.inf
    assert np.isfinite(d_prime(*log_linear_rates(6, 6, 0, 4)))


def test_no_glasses_are_no_rate():
    rates = log_linear_rates([3, 0], [4, 0], 0, [0, 5])
    assert np.isnan(rates.false_alarm[0])
    assert np.isnan(rates.hit[1])
    assert rates.hit[0] == pytest.approx(0.7)


def test_impossible_counts_and_rates_are_refused():
    with pytest.raises(ValueError, match="between 0 and the number of glasses"):
        log_linear_rates(5, 4, 0, 4)
    with pytest.raises(ValueError, match="between 0 and 1"):
        d_prime(80, 0.1)
