"""Edges of d' and criterion; published values stand in tests/outside."""

import numpy as np
import pytest
from scipy.stats import binom, norm

from seatworthy.stats.yes_no import criterion, d_prime, detection, log_linear_rates


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


def covered(true, reluctance, spiked, blanks):
    """Chance that the interval holds a true d', summed over all outcomes; shape of `true`."""
    hits, calls = np.arange(spiked + 1)[:, None], np.arange(blanks + 1)
    low, high = detection(hits, spiked, calls, blanks).d_prime.interval
    true, reluctance = np.asarray(true)[:, None, None], np.asarray(reluctance)[:, None, None]
    chance = binom.pmf(hits, spiked, norm.cdf(true / 2 - reluctance))
    chance = chance * binom.pmf(calls, blanks, norm.cdf(-true / 2 - reluctance))
    return np.where((low <= true) & (true <= high), chance, 0).sum(axis=(1, 2))


@pytest.mark.parametrize("counts", [(6, 6, 0, 4), (3, 8, 2, 5)])
def test_posterior_agrees_with_weighted_draws_from_the_prior(counts):
    """400,000 draws weighted by the binomial chances of the answers: no grid at all."""
    hits, spiked, calls, blanks = counts
    draw = np.random.default_rng(12)
    distance, reluctance = draw.normal(1.5, 1.5, 400_000), draw.normal(0, 0.7, 400_000)
    weight = binom.pmf(hits, spiked, norm.cdf(distance / 2 - reluctance))
    weight *= binom.pmf(calls, blanks, norm.cdf(-distance / 2 - reluctance))
    found = detection(*counts)
    assert found.d_prime.mean == pytest.approx(np.average(distance, weights=weight), abs=0.02)
    assert found.criterion.mean == pytest.approx(np.average(reluctance, weights=weight), abs=0.01)
    below = np.average(distance < found.d_prime.interval.low, weights=weight)
    assert below == pytest.approx(0.05, abs=0.005)


def test_without_glasses_only_the_prior_is_left():
    found = detection(0, 0, 0, 0)
    assert found.d_prime.mean == pytest.approx(1.5)
    assert found.criterion.mean == pytest.approx(0, abs=1e-12)
    assert found.d_prime.interval == pytest.approx(1.5 + 1.5 * norm.ppf([0.05, 0.95]), abs=2e-3)
    assert found.criterion.interval == pytest.approx(0.7 * norm.ppf([0.05, 0.95]), abs=2e-3)


def test_blanks_alone_leave_more_open_than_both_kinds():
    alone, both = detection(0, 0, 1, 8).d_prime.interval, detection(7, 8, 1, 8).d_prime.interval
    assert both.high - both.low < alone.high - alone.low


def test_certainty_stays_finite():
    found = detection(24, 24, 0, 16)
    assert np.isfinite([found.d_prime.mean, *found.d_prime.interval]).all()


def test_many_glasses_give_the_plain_figures():
    found, rates = detection(800, 1000, 100, 1000), (0.8, 0.1)
    assert found.d_prime.mean == pytest.approx(d_prime(*rates), abs=0.01)
    assert found.criterion.mean == pytest.approx(criterion(*rates), abs=0.01)


def test_calling_more_in_both_lowers_the_criterion_and_leaves_d_prime():
    reluctant, ready = detection(4, 8, 0, 8), detection(8, 8, 4, 8)
    assert ready.d_prime.mean == pytest.approx(reluctant.d_prime.mean)
    assert ready.criterion.mean == pytest.approx(-reluctant.criterion.mean)


def test_shapes_of_counts_are_broadcast():
    found = detection(np.ones((2, 3)), 4, 0, [[1], [2]])
    assert found.d_prime.mean.shape == found.criterion.interval.high.shape == (2, 3)
    assert found.d_prime.mean[1, 2] == detection(1, 4, 0, 2).d_prime.mean


def test_no_people_are_no_figures():
    assert detection(np.zeros(0), 0, 0, 0).d_prime.interval.low.shape == (0,)


@pytest.mark.parametrize(("spiked", "blanks"), [(6, 4), (12, 8)])
def test_intervals_cover_as_claimed_over_the_people_presumed(spiked, blanks):
    """2,000 pairs of d' and criterion from the prior: .90 on average."""
    draw = np.random.default_rng(7)
    share = covered(draw.normal(1.5, 1.5, 2000), draw.normal(0, 0.7, 2000), spiked, blanks)
    assert share.mean() == pytest.approx(0.90, abs=0.01)


@pytest.mark.parametrize(("spiked", "blanks"), [(6, 4), (12, 8), (24, 16)])
def test_no_single_d_prime_is_covered_much_less(spiked, blanks):
    """True criterion -.3; few outcomes make coverage jump: .83 to .98 about the .90 claimed."""
    true = np.linspace(0.5, 3, 26)
    assert covered(true, np.full(26, -0.3), spiked, blanks).min() > 0.83


@pytest.mark.parametrize(
    "counts", [(5, 4, 0, 4), (-1, 4, 0, 4), (1, 4, 3, 2), (np.nan, 4, 0, 4), (1, np.inf, 0, 4)]
)
def test_impossible_counts_are_refused_by_the_posterior(counts):
    with pytest.raises(ValueError, match="between 0 and the number of glasses"):
        detection(*counts)


@pytest.mark.parametrize("confidence", [0, 1, 90])
def test_a_percentage_is_no_confidence(confidence):
    with pytest.raises(ValueError, match="Confidence is a fraction"):
        detection(1, 4, 0, 4, confidence)
