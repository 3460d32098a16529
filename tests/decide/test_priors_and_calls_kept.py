import numpy as np
import pytest

from seatworthy.decide.calls_kept import LEAST_CALLS, bands_of
from seatworthy.decide.priors import (
    DEFAULT_WEIGHS,
    UNLISTED_SHARE,
    History,
    adds_up,
    shares_from_history,
)

USUAL = np.array([0.01, 0.002])


def test_without_a_history_the_default_holds():
    shares, unlisted = shares_from_history(History(0, np.zeros(2), 0), USUAL)
    assert shares == pytest.approx(USUAL)
    assert unlisted == pytest.approx(UNLISTED_SHARE)


def test_the_brewerys_own_beers_take_over():
    shares, unlisted = shares_from_history(History(10_000, np.array([500, 0]), 100), USUAL)
    assert shares[0] == pytest.approx(0.05, abs=0.001)
    assert shares[1] < 0.0001
    assert unlisted == pytest.approx(0.01, abs=0.001)


def test_a_few_beers_hardly_move_the_default():
    shares, _ = shares_from_history(History(2, np.array([1, 0]), 0), USUAL)
    assert shares[0] == pytest.approx((1 + DEFAULT_WEIGHS * 0.01) / (2 + DEFAULT_WEIGHS))


@pytest.mark.parametrize(
    ("shares", "unlisted", "expected"), [([0.5, 0.45], 0.0, True), ([0.5, 0.45], 0.01, False)]
)
def test_faults_must_leave_room_for_a_sound_beer(shares, unlisted, expected):
    assert adds_up(np.array(shares), unlisted) is expected


def test_calls_are_counted_by_the_chance_they_were_given():
    given = np.array([0.05, 0.2, 0.8, 0.8, 0.85, 0.9, 1.0])
    bands = bands_of(given, np.array([False, True, True, True, False, True, True]))
    assert [band.calls for band in bands] == [1, 1, 0, 0, 5]
    assert bands[4].confirmed == 4
    assert bands[4].given == pytest.approx(0.87)
    assert np.isnan(bands[2].given)


@pytest.mark.parametrize("calls", [LEAST_CALLS - 1, LEAST_CALLS])
def test_fewer_than_a_handful_make_no_percentage(calls):
    band = bands_of(np.full(calls, 0.5), np.ones(calls, bool))[2]
    assert (band.limits is None) is (calls < LEAST_CALLS)


def test_the_limits_are_those_of_jeffreys():
    """Beta(18.5, 5.5), 5 and 95 % points; scipy's beta distribution, another routine than ours."""
    from scipy.stats import beta

    band = bands_of(np.full(23, 0.75), np.arange(23) < 18)[3]
    assert band.limits == pytest.approx(beta(18.5, 5.5).ppf([0.05, 0.95]))
