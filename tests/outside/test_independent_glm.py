"""The most likely threshold and slope beside generalised linear models and published fits."""

import warnings

import numpy as np
import pytest
from scipy.optimize import minimize_scalar
from scipy.special import expit, ndtr, xlogy
from statsmodels.api import GLM
from statsmodels.genmod.families import Binomial, links
from statsmodels.tools.sm_exceptions import DomainWarning

from seatworthy.stats.undated_curves import chances_on, log_likelihood
from seatworthy.stats.undated_peaks import most_likely

GUESS, LAPSE = 1 / 3, 0.02
LEVELS = np.arange(-2.5, 3.0)  # log2
GLASSES, CELLS = 20, 200


def guessing_logistic(apart, slope):
    return GUESS + (1 - GUESS - LAPSE) * expit(slope * apart)


class GuessingLogit(links.Link):
    """The logit of the share of right answers above guessing, lapses taken off."""

    span = 1 - GUESS - LAPSE

    def share(self, right):
        """Position between guessing and the most that lapses allow, kept off the ends."""
        return np.clip((np.asarray(right) - GUESS) / self.span, 1e-10, 1 - 1e-10)

    def __call__(self, right):
        """Place on the line."""
        share = self.share(right)
        return np.log(share / (1 - share))

    def inverse(self, z):
        """Share of right answers."""
        return GUESS + self.span * expit(z)

    def deriv(self, right):
        """Slope of the link."""
        share = self.share(right)
        return 1 / (share * (1 - share) * self.span)


def is_well_behaved(right):
    """Said of the counts before any fit: guessing below, all but certain above, neither between.

    At most half right at the two lowest levels, at least 85 % at the two highest, and two levels
    or more with 50 to 85 %, so that a slope can be seen.
    """
    share = right / GLASSES
    low, high = share[:, :2].mean(axis=1), share[:, -2:].mean(axis=1)
    between = ((share >= 0.5) & (share <= 0.85)).sum(axis=1)
    return (low <= 0.5) & (high >= 0.85) & (between >= 2)


@pytest.fixture(name="counts", scope="module")
def _counts():
    """Cells with thresholds about 1 and slopes about 1.6, in 3-AFC."""
    draw = np.random.default_rng(4)
    theta = draw.normal(0, 0.8, (CELLS, 1))
    slope = 1.6 * np.exp(draw.normal(0, 0.25, (CELLS, 1)))
    right = draw.binomial(GLASSES, guessing_logistic(LEVELS - theta, slope))
    return right[is_well_behaved(right)]


@pytest.fixture(name="peaks", scope="module")
def _peaks(counts):
    grid = np.linspace(-6, 6, 97), np.geomspace(0.2, 12, 25)
    return most_likely(counts, np.full(counts.shape, GLASSES), LEVELS, guessing_logistic, *grid)


def fit_by_statsmodels(counts, total, levels, link):
    """Threshold and slope by iteratively reweighted least squares, which has to converge."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DomainWarning)  # the link has no value below guessing
        family = Binomial(link=link, check_link=False)
        model = GLM(np.column_stack([counts, total - counts]), design(levels), family=family)
        fit = model.fit(start_params=model_start(link), tol=1e-13, maxiter=200)
    assert fit.converged
    return -fit.params[0] / fit.params[1], fit.params[1]


def design(levels):
    return np.column_stack([np.ones_like(levels), levels])


def model_start(link):
    return [0.0, 1.0] if isinstance(link, GuessingLogit) else None


def fit_with_guesses(right):
    return fit_by_statsmodels(right, GLASSES - 0 * right, LEVELS, GuessingLogit())


def test_105_of_200_cells_are_well_behaved(counts):
    assert len(counts) == 105


def test_peaks_are_those_of_a_generalised_linear_model_with_a_guess_rate(counts, peaks):
    """103 of the 105 cells; two have no peak, see below."""
    has_peak = np.isfinite(peaks.threshold)
    assert has_peak.sum() == 103
    found = np.column_stack([peaks.threshold, peaks.slope])[has_peak]
    expected = np.array([fit_with_guesses(right) for right in counts[has_peak]])
    assert found == pytest.approx(expected, abs=1e-3)


def test_cells_without_a_peak_are_likelier_with_a_slope_beyond_the_grid(counts, peaks):
    """There statsmodels ends in a lower peak, or its slope grows until the differences vanish."""
    right = counts[np.isnan(peaks.threshold)]
    heights = [
        log_likelihood(
            right,
            np.full(right.shape, GLASSES),
            chances_on(guessing_logistic, LEVELS, np.linspace(-3, 3, 1201), slopes),
        ).max(axis=(1, 2))
        for slopes in (np.geomspace(0.2, 12, 60), np.geomspace(12, 60, 30))
    ]
    assert np.all(heights[1] > heights[0])


# Bliss (1935), Ann. Appl. Biol. 22:134-167: beetles after five hours of carbon disulphide; log10
# of mg/l. The data were read in a copy; the coefficients, in Dobson's and Agresti's textbooks, are
# from memory and are computed again from the data by statsmodels.
DOSE = np.array([1.6907, 1.7242, 1.7552, 1.7842, 1.8113, 1.8369, 1.8610, 1.8839])
BEETLES = np.array([59, 60, 62, 56, 63, 59, 62, 60])
KILLED = np.array([6, 13, 18, 28, 52, 53, 61, 60])
BLISS = {
    "logit": (lambda apart, slope: expit(slope * apart), links.Logit(), -60.72, 34.27),
    "probit": (lambda apart, slope: ndtr(slope * apart), links.Probit(), -34.94, 19.73),
    "cloglog": (
        lambda apart, slope: -np.expm1(-np.exp(np.minimum(slope * apart, 700))),
        links.CLogLog(),
        -39.57,
        22.04,
    ),
}


def peak_of_beetles(curve):
    grid = np.linspace(1.6, 2.0, 41), np.geomspace(5, 100, 21)
    found = most_likely(KILLED[None], BEETLES[None], DOSE, curve, *grid)
    return found.threshold[0], found.slope[0]


@pytest.mark.parametrize("name", BLISS)
def test_peaks_of_the_beetles_are_the_published_ones(name):
    """Two decimals; with cloglog the threshold is where 1 - 1/e are killed."""
    curve, _, intercept, slope = BLISS[name]
    threshold, found = peak_of_beetles(curve)
    assert [-found * threshold, found] == pytest.approx([intercept, slope], abs=0.005)


@pytest.mark.parametrize("name", BLISS)
def test_peaks_of_the_beetles_are_those_of_statsmodels(name):
    curve, link, _, _ = BLISS[name]
    expected = fit_by_statsmodels(KILLED, BEETLES, DOSE, link)
    assert peak_of_beetles(curve) == pytest.approx(expected, rel=1e-6)


# 2-AFC of 50 trials a level, logistic 1 / (1 + exp(-(x - a) / b)) above a guess rate of .5, lapses
# free between 0 and .1: data and results read in the documentation of a general psychophysics
# library.
AT = np.arange(0.0, 11, 2)
PICKED = np.array([[26, 30, 38, 46, 50, 49]])
TRIALS = np.full((1, 6), 50)


def peak_with_lapses(lapse):
    return most_likely(
        PICKED,
        TRIALS,
        AT,
        lambda apart, slope: 0.5 + (0.5 - lapse) * expit(slope * apart),
        np.linspace(0, 10, 41),
        np.geomspace(0.1, 10, 25),
    )


def test_a_2afc_fit_with_free_lapses_is_the_published_one():
    """Tolerance of the published check: 2e-6."""
    search = minimize_scalar(
        lambda lapse: -peak_with_lapses(lapse).log_likelihood[0],
        bounds=(0, 0.1),
        method="bounded",
        options={"xatol": 1e-10},
    )
    best = peak_with_lapses(search.x)
    perfect = xlogy(PICKED, PICKED / TRIALS) + xlogy(TRIALS - PICKED, 1 - PICKED / TRIALS)
    deviance = 2 * (perfect.sum() - best.log_likelihood[0])
    found = [best.threshold[0], 1 / best.slope[0], search.x, deviance]
    published = [3.80593409, 1.09308994, 0.00935698, 2.5160989]
    assert found == pytest.approx(published, abs=2e-6)
