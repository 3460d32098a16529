"""Edges and shapes of the intervals; published values stand in tests/outside."""

import numpy as np
import pytest

from seatworthy.stats.proportions import exact_interval, jeffreys_interval, wilson_interval

INTERVALS = (wilson_interval, jeffreys_interval, exact_interval)
each = pytest.mark.parametrize("interval", INTERVALS)


@each
def test_no_trials_are_no_knowledge(interval):
    low, high = interval([0, 1], [0, 2])
    assert np.isnan(low[0])
    assert np.isnan(high[0])
    assert 0 <= low[1] < high[1] <= 1


@each
@pytest.mark.parametrize("trials", [1, 7, 200])
def test_none_and_all_right_touch_the_ends(interval, trials):
    assert interval(0, trials).low == 0
    assert interval(trials, trials).high == 1
    assert interval(0, trials).high < 1
    assert interval(trials, trials).low > 0


@each
def test_hits_and_misses_mirror_each_other(interval):
    hits = np.arange(13)
    low, high = interval(hits, 12)
    assert low == pytest.approx(1 - high[::-1], abs=1e-12)


@each
def test_shape_follows_the_hits(interval):
    assert interval(np.ones((2, 3)), 5).low.shape == (2, 3)


@each
def test_more_confidence_is_wider(interval):
    narrow, wide = interval(3, 9, 0.8), interval(3, 9, 0.99)
    assert wide.low < narrow.low < narrow.high < wide.high


@each
@pytest.mark.parametrize(("hits", "trials"), [(-1, 5), (6, 5)])
def test_impossible_counts_are_refused(interval, hits, trials):
    with pytest.raises(ValueError, match="between 0 and the number of trials"):
        interval(hits, trials)


@each
@pytest.mark.parametrize("confidence", [0.0, 1.0, 95])
def test_a_percentage_is_no_confidence(interval, confidence):
    with pytest.raises(ValueError, match="fraction between 0 and 1"):
        interval(1, 5, confidence)


@each
def test_intervals_cover_a_simulated_rate(interval):
    hits = np.random.default_rng(4).binomial(20, 0.7, 4000)
    low, high = interval(hits, 20)
    assert np.mean((low <= 0.7) & (high >= 0.7)) > 0.92
