"""Thresholds beside those of an independent program, and beside a grid as fine as memory allows."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.special import expit, ndtr

from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.settings import DEFAULT
from seatworthy.stats.undated import SLOPES, UNDATED, estimate_undated
from seatworthy.stats.undated_curves import GlassKinds, curves_of, slope_nodes, thurstone_curves

LEVELS = np.array([0.25, 0.5, 1, 2, 4, 8, 16])
RIGHT = np.array([15, 17, 20, 26, 36, 39, 39])  # of 40 each, 3-AFC
TRIALS = 40


def own_threshold():
    """Mean and 90 % interval, log2; no error of dose and no other slopes, as the other has none."""
    settings = replace(DEFAULT, dose_sd=0.0, slope_log_sd=0.0, own_sd=4.0)
    level = np.repeat(LEVELS, TRIALS)
    outcome = np.concatenate([np.arange(TRIALS) >= right for right in RIGHT]).astype(int)
    zero = np.zeros(level.size, dtype=int)
    method = np.full(level.size, "3afc")
    glasses = Glasses(zero, zero, zero, zero, method, level, 0 * level, outcome)
    nothing = np.empty(0, dtype=int)
    blanks = Blanks(nothing, nothing, nothing.astype(bool))
    today = follow(glasses, blanks, (1, 1, 1), 0, settings).today
    ends = today.threshold_low_own, today.threshold_mean_own, today.threshold_high_own
    return [float(end[0, 0, 0]) for end in ends]


@pytest.mark.parametrize("sigmoid", ["logistic", "norm", "weibull"])
def test_a_3afc_threshold_agrees_with_psignifit(sigmoid):
    """By psignifit 4: guess rate 1/3, the same lapse and no overdispersion held; width left free.

    Both give the level half way between guessing and certainty. The curves are not of one family
    and ours has its slope held, so a quarter of a doubling is allowed for that.
    """
    import psignifit

    data = np.column_stack([np.log2(LEVELS), RIGHT, np.full(LEVELS.size, TRIALS)])
    fit = psignifit.psignifit(
        data,
        experiment_type="nAFC",
        experiment_choices=3,
        sigmoid=sigmoid,
        fixed_parameters={"lambda": DEFAULT.lapse * 2 / 3, "eta": 1e-10},
    )
    low, mean, high = own_threshold()
    assert mean == pytest.approx(fit.parameter_estimate["threshold"], abs=0.25)
    assert low < fit.parameter_estimate["threshold"] < high


def test_the_threshold_is_the_one_that_the_answers_were_made_for():
    """The counts are 40 times the Thurstonian 3-AFC chances at a threshold of 2 (log2: 1)."""
    assert own_threshold()[1] == pytest.approx(1.0, abs=0.05)


GUESS, LAPSE, SLOPE, SLOPE_LOG_SD = 1 / 3, 0.02, 1.6, 0.5
AROUND = np.arange(-2.0, 3.0)  # levels, log2
LOGISTIC_WIDTH = 2 * np.log(19)  # from 5 to 95 % at slope 1


def guessing_logistic(apart, slope):
    return GUESS + (1 - GUESS - LAPSE) * expit(slope * apart)


def cells_of_a_logistic_world(cells, each, seed):
    draw = np.random.default_rng(seed)
    theta = draw.normal(0, 1.2, (cells, 1))
    slope = SLOPE * np.exp(draw.normal(0, 0.25, (cells, 1)))
    return draw.binomial(each, guessing_logistic(AROUND - theta, slope))


def threshold_by_psignifit(right, each):
    """Posterior mean by psignifit 4, given the very priors of the model beside it."""
    import psignifit

    fit = psignifit.psignifit(
        np.column_stack([AROUND, right, np.full(AROUND.size, each)]),
        experiment_type="3AFC",
        sigmoid="logistic",
        stimulus_range=(-4, 4),
        fixed_parameters={"lambda": LAPSE, "eta": 0.0},
        bounds={
            "threshold": (-6, 6),
            "width": (LOGISTIC_WIDTH / SLOPE / 6, LOGISTIC_WIDTH / SLOPE * 6),
        },
        priors={
            "threshold": lambda theta: np.exp(-((theta / 2) ** 2) / 2),
            "width": lambda width: (
                np.exp(-((np.log(width * SLOPE / LOGISTIC_WIDTH) / SLOPE_LOG_SD) ** 2) / 2) / width
            ),
        },
        verbose=False,
    )
    return fit.parameter_estimate_mean["threshold"]


def test_undated_thresholds_are_those_of_psignifit_given_the_same_curve_and_priors():
    """Twelve cells of five levels with six glasses; threshold and slope free, in log2."""
    right = cells_of_a_logistic_world(cells=12, each=6, seed=20)
    slope, weight = slope_nodes(15, SLOPE_LOG_SD)
    curves = curves_of(guessing_logistic, AROUND, SLOPE * slope, weight, UNDATED)
    here = estimate_undated(right, np.full(right.shape, 6), np.zeros(12), curves).own.mean
    there = [threshold_by_psignifit(one, 6) for one in right]
    assert here == pytest.approx(there, abs=0.01)


class FineGrid:
    """The undated model of 3-AFC glasses by brute force: no link, grid or pooling of ours.

    Thresholds in steps of 1/32, 33 slopes, 193 mean thresholds of a panel, 61 spreads.
    """

    def __init__(self):
        self.theta = -6.0625 + (np.arange(388) + 0.5) / 32  # the whole width of our bins
        mean, log_spread = np.linspace(-6, 6, 193), np.linspace(-2.2, 2.2, 61)
        mean, log_spread = (axis.ravel() for axis in np.meshgrid(mean, log_spread))
        spread = 0.8 * np.exp(log_spread)
        self.people = 0.92 * self.bell(mean, spread) + 0.08 * self.bell(mean + 4, 1.5)
        self.prior = np.exp(-(mean**2 + (log_spread / 0.5) ** 2) / 2)
        self.prior /= self.prior.sum()

    def bell(self, mean, sd):
        """Normal distributions on the thresholds, one a column."""
        density = np.exp(-(((self.theta[:, None] - mean) / sd) ** 2) / 2)
        return density / density.sum(axis=0)

    def likelihood(self, right, total, level):
        """P(answers | threshold), slopes averaged out; shape (people, 388)."""
        z = np.linspace(-8, 16, 1201)
        places = np.linspace(0, 8, 1601)
        density = np.exp(-((z - places[:, None]) ** 2) / 2) / np.sqrt(2 * np.pi)
        picked = np.trapezoid(density * ndtr(z) ** 2, z, axis=1)
        unit = np.interp(2 / 3, picked, places)
        likelihood = 0
        for log_slope in np.linspace(-4, 4, 33):
            slope = np.exp(0.25 * log_slope)
            clear = unit * 2 ** (slope * (level[:, None] - self.theta))
            chance = 0.02 / 3 + 0.98 * np.interp(clear, places, picked)
            log = right @ np.log(chance) + (total - right) @ np.log(1 - chance)
            likelihood += np.exp(log - log_slope**2 / 2)
        return likelihood / np.exp(-(np.linspace(-4, 4, 33) ** 2) / 2).sum()

    def pooled(self, likelihood):
        """Mean thresholds, and the log probability of all answers."""
        fit = likelihood @ self.people
        log_weight = np.log(fit).sum(axis=0) + np.log(self.prior)
        weight = np.exp(log_weight - log_weight.max())
        posterior = likelihood * ((weight / weight.sum() / fit) @ self.people.T)
        evidence = np.log(weight.sum()) + log_weight.max()
        return posterior @ self.theta / posterior.sum(axis=1), evidence


@pytest.fixture(name="fine_grid", scope="module")
def _fine_grid():
    return FineGrid()


@pytest.mark.parametrize(
    ("people", "each", "panel_mean"),
    [
        (3, 1, 0.0),
        (3, 20, 2.0),
        (8, 1, 2.0),
        (8, 4, 0.0),
        (20, 4, 2.0),
        (20, 20, 0.0),
        (60, 4, 0.0),
    ],
)
def test_pooled_thresholds_are_those_of_a_much_finer_grid(fine_grid, people, each, panel_mean):
    """Panels with a non-taster, six levels with 1, 4 or 20 glasses; to .005 log2."""
    draw = np.random.default_rng(people + each)
    level = np.arange(-2.0, 4.0)
    exact = replace(UNDATED, dose_sd=0.0, slope_log_sd=0.25)
    kinds = GlassKinds(np.full(6, "3afc"), np.exp2(level), np.zeros(6))
    curves = thurstone_curves(kinds, exact, SLOPES)
    theta = draw.normal(panel_mean, 0.8, people) + 4 * (np.arange(people) == 1)
    place = np.clip(np.rint((theta + 6) * 8), 0, 96).astype(int)
    slope = draw.integers(1, SLOPES - 1, people)
    total = np.full((people, 6), each)
    right = draw.binomial(total, curves.chance[slope, :, place])
    mean, evidence = fine_grid.pooled(fine_grid.likelihood(right, total, level))
    here = estimate_undated(right, total, np.zeros(people), curves, exact)
    assert here.pooled.mean == pytest.approx(mean, abs=0.005)
    assert here.pooled_evidence[0] == pytest.approx(evidence, abs=0.005)
