"""Curves, likelihoods and peaks that the undated thresholds are made of."""

import numpy as np
import pytest
from scipy.special import expit

from seatworthy.stats.ability.grid import build_grid
from seatworthy.stats.undated import UNDATED
from seatworthy.stats.undated_curves import (
    Curves,
    GlassKinds,
    curves_of,
    log_likelihood,
    slope_nodes,
    thurstone_curves,
)
from seatworthy.stats.undated_peaks import most_likely
from seatworthy.stats.undated_pooling import build_fine_panels, build_panels

LEVELS = np.arange(-3.0, 4.0)
THRESHOLDS, SLOPES = np.linspace(-5, 5, 41), np.geomspace(0.3, 10, 15)
ONE = np.ones(1)


def guessing_logistic(apart, slope):
    return 1 / 3 + (1 - 1 / 3 - 0.02) * expit(slope * apart)


def peaks(right, total, thresholds=THRESHOLDS, slopes=SLOPES):
    return most_likely(right, total, LEVELS, guessing_logistic, thresholds, slopes)


def test_slopes_spread_as_asked():
    slope, weight = slope_nodes(7, 0.25)
    log = np.log(slope)
    assert weight.sum() == pytest.approx(1, abs=1e-12)
    assert [weight @ log, weight @ log**2] == pytest.approx([0, 0.0625], abs=1e-12)


def test_one_slope_is_held_at_one():
    assert slope_nodes(1, 0.25)[0].tolist() == [1.0]


def test_no_slope_is_refused():
    with pytest.raises(ValueError, match="At least one slope is needed, got 0"):
        slope_nodes(0, 0.25)


def test_any_curve_stands_on_the_thresholds_of_the_model():
    curves = curves_of(guessing_logistic, LEVELS, np.array([1.0, 2.0]), np.array([3, 1]), UNDATED)
    place = np.searchsorted(build_grid(UNDATED).theta, 1.5)
    expected = 1 / 3 + (2 / 3 - 0.02) / (1 + np.exp(-2 * (LEVELS - 1.5)))
    assert curves.chance[1, :, place] == pytest.approx(expected, abs=1e-12)
    assert curves.slope_weight.tolist() == [0.75, 0.25]


def test_a_log_likelihood_is_the_sum_over_answers():
    chance = np.array([[[0.5, 0.9], [0.8, 0.2]]])
    found = log_likelihood(np.array([[2, 1]]), np.array([[3, 1]]), chance)
    expected = [np.log(0.5**2 * 0.5 * 0.8), np.log(0.9**2 * 0.1 * 0.2)]
    assert found[0, 0] == pytest.approx(expected, abs=1e-12)


def test_what_cannot_happen_and_did_is_all_but_impossible():
    certain = np.array([[[1.0, 0.0]]])
    found = log_likelihood(np.array([[1]]), np.array([[2]]), certain)
    assert found[0, 0] == pytest.approx(np.log(1e-300), abs=1e-9)


def test_what_must_happen_and_did_costs_nothing():
    assert log_likelihood(np.array([[2]]), np.array([[2]]), np.ones((1, 1, 1)))[0, 0, 0] == 0


def test_every_panel_spreads_all_of_its_people():
    assert build_panels(UNDATED).sum(axis=0) == pytest.approx(1, abs=1e-12)


@pytest.mark.parametrize("finer", [1, 2, 4])
def test_finer_panels_pass_through_the_coarse_ones(finer):
    fine = build_fine_panels(UNDATED, finer)
    assert fine.means[::finer] == pytest.approx(np.eye(41), abs=1e-12)
    assert fine.spreads[::finer] == pytest.approx(np.eye(11), abs=1e-12)
    assert np.exp(fine.log_prior).sum() == pytest.approx(1, abs=1e-12)


def test_a_peak_is_found_between_the_places_of_the_grid():
    """Counts in just the proportions of a threshold of .37 and a slope of 1.3."""
    total = np.full((1, LEVELS.size), 1000.0)
    found = peaks(total * guessing_logistic(LEVELS - 0.37, 1.3), total)
    assert [found.threshold[0], found.slope[0]] == pytest.approx([0.37, 1.3], abs=1e-6)


def test_the_height_of_a_peak_is_its_log_likelihood():
    right, total = np.array([[7, 8, 7, 12, 17, 19, 20]]), np.full((1, 7), 20)
    found = peaks(right, total)
    chance = guessing_logistic(LEVELS - found.threshold, found.slope)
    expected = (right * np.log(chance) + (total - right) * np.log(1 - chance)).sum()
    assert found.log_likelihood[0] == pytest.approx(expected, abs=1e-9)


def test_many_cells_come_to_the_same_as_one():
    right, total = np.array([[7, 8, 7, 12, 17, 19, 20]]), np.full((1, 7), 20)
    many = peaks(np.repeat(right, 600, axis=0), np.repeat(total, 600, axis=0))
    assert many.threshold == pytest.approx(peaks(right, total).threshold[0], abs=1e-12)


@pytest.mark.parametrize(
    "right", [[9, 9, 9, 9, 9, 9, 9], [3, 3, 3, 3, 3, 3, 3], [3, 3, 3, 3, 9, 9, 9]]
)
def test_answers_that_fix_no_slope_have_no_peak(right):
    """All right, all guessed, and a step from guessing to certainty between two levels."""
    found = peaks([right], [[9] * 7])
    assert np.isnan([found.threshold, found.slope, found.log_likelihood]).all()


@pytest.mark.parametrize(("lowest", "is_found"), [(0.4, True), (0.6, False)])
def test_a_peak_outside_the_grid_is_none(lowest, is_found):
    total = np.full((1, LEVELS.size), 1000.0)
    right = total * guessing_logistic(LEVELS - 0.5, 1.3)
    found = peaks(right, total, thresholds=np.arange(lowest, 4, 0.25))
    assert np.isfinite(found.threshold[0]) == is_found


@pytest.mark.parametrize(
    ("thresholds", "slopes"),
    [(THRESHOLDS[:2], SLOPES), (THRESHOLDS, SLOPES[:2]), (THRESHOLDS, SLOPES - 0.3)],
)
def test_a_grid_that_can_hold_no_peak_is_refused(thresholds, slopes):
    with pytest.raises(ValueError, match="3 thresholds and 3 slopes above 0 are needed"):
        peaks(np.ones((1, 7)), np.ones((1, 7)), thresholds, slopes)


def test_the_smallest_grid_is_enough():
    total = np.full((1, LEVELS.size), 1000.0)
    right = total * guessing_logistic(LEVELS - 0.1, 1.3)
    found = peaks(right, total, np.array([-1.0, 0, 1]), np.array([0.5, 1, 2]))
    assert found.threshold[0] == pytest.approx(0.1, abs=1e-3)


@pytest.mark.parametrize(
    ("method", "level", "background", "words"),
    [
        (["3afc"], [1.0, 2.0], [0.0], "one-dimensional and equally long"),
        (["a_not_a"], [1.0], [0.0], "must be one of naming, .*got 'a_not_a'"),
        (["3afc"], [0.0], [0.0], "above 0 and a background from 0"),
        (["3afc"], [np.nan], [0.0], "above 0 and a background from 0"),
        (["3afc"], [1.0], [1.1], "above 0 and a background from 0"),
        (["3afc"], [1.0], [-0.1], "above 0 and a background from 0"),
    ],
)
def test_impossible_kinds_of_glasses_are_refused(method, level, background, words):
    with pytest.raises(ValueError, match=words):
        GlassKinds(np.array(method), np.array(level), np.array(background))


def test_a_level_may_be_all_background():
    kinds = GlassKinds(np.array(["naming"]), np.array([1.0]), np.array([1.0]))
    assert thurstone_curves(kinds, UNDATED, 1).chance.shape == (1, 1, 97)


@pytest.mark.parametrize(
    ("chance", "weight", "words"),
    [
        (np.ones((1, 2)), ONE, r"got \(1, 2\) and \(1,\)"),
        (np.ones((2, 1, 3)), ONE, r"got \(2, 1, 3\) and \(1,\)"),
        (np.full((1, 1, 1), 1.01), ONE, "between 0 and 1"),
        (np.full((1, 1, 1), -0.01), ONE, "between 0 and 1"),
        (np.full((1, 1, 1), np.nan), ONE, "between 0 and 1"),
    ],
)
def test_impossible_curves_are_refused(chance, weight, words):
    with pytest.raises(ValueError, match=words):
        Curves(chance, weight)
