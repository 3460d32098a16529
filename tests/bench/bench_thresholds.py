"""Thresholds per cell by the UNDATED model, as ratios to programs that fit one cell after another.

10,000 cells of five levels with six 3-AFC glasses, from a logistic world, so that every program can
fit the same curve. Processor time of one thread, BLAS too; the best of three runs, in each of which
the reference and the undated model take turns. A reference fits the first 4, 12 or 200 cells, hard
ones too, and their mean counts. The time of the undated model includes both answers, own and
pooled, with their intervals; none of the references pools.

    python tests/bench/bench_thresholds.py
"""

import time
import warnings
from collections.abc import Callable
from functools import partial
from itertools import product

import numpy as np
import psignifit
from scipy.optimize import minimize
from scipy.special import expit
from statsmodels.api import GLM
from statsmodels.genmod.families import Binomial, links
from threadpoolctl import threadpool_limits

from seatworthy.stats.undated import SLOPES, UNDATED, Undated, estimate_undated
from seatworthy.stats.undated_curves import curves_of, slope_nodes
from seatworthy.stats.undated_peaks import Peaks, most_likely

RUNS = 3
CELLS, GLASSES = 10_000, 6
LEVELS = np.arange(-2.0, 3.0)  # log2
GUESS, LAPSE, SLOPE, SLOPE_LOG_SD = 1 / 3, 0.02, 1.6, 0.5
SPAN = 1 - GUESS - LAPSE
WIDTH = 2 * np.log(19)  # of a logistic curve with slope 1, from 5 to 95 %
PEAK_GRID = np.linspace(-6, 6, 49), np.geomspace(0.2, 12, 17)


def curve(apart, slope):
    """The chance of a right pick, the same for every program."""
    return GUESS + SPAN * expit(slope * apart)


CURVES = curves_of(
    curve,
    LEVELS,
    SLOPE * slope_nodes(SLOPES, SLOPE_LOG_SD)[0],
    slope_nodes(SLOPES, SLOPE_LOG_SD)[1],
    UNDATED,
)


def drawn_answers(people: int) -> tuple[np.ndarray, np.ndarray]:
    """Right answers and the compound of each cell, each compound tasted by so many people."""
    draw, compounds = np.random.default_rng(1), CELLS // people
    theta = draw.normal(0, 0.7, (compounds, 1)) + draw.normal(0, 0.8, (compounds, people))
    slope = SLOPE * np.exp(draw.normal(0, 0.25, (CELLS, 1)))
    right = draw.binomial(GLASSES, curve(LEVELS - theta.reshape(-1, 1), slope))
    return right, np.repeat(np.arange(compounds), people)


def in_turns(*works: Callable[[], object]) -> list[tuple[float, object]]:
    """Seconds in the fastest run of each, and what came out; a noisy spell meets all of them."""
    seconds, found = np.full((RUNS, len(works)), np.inf), [None] * len(works)
    for turn, (place, work) in product(range(RUNS), enumerate(works)):
        start = time.process_time()
        found[place] = work()
        seconds[turn, place] = time.process_time() - start
    return list(zip(seconds.min(axis=0), found, strict=True))


def undated(people: int) -> Callable[[], Undated]:
    """The model beside which everything is timed, on all cells."""
    right, compound = drawn_answers(people)
    total = np.full(right.shape, GLASSES)
    return lambda: estimate_undated(right, total, compound, CURVES)


OURS = undated(people=200), undated(people=8)


def by_psignifit(right: np.ndarray, **options: object) -> float:
    """Posterior mean of the threshold."""
    data = np.column_stack([LEVELS, right, np.full(LEVELS.size, GLASSES)])
    fit = psignifit.psignifit(
        data, sigmoid="logistic", experiment_type="3AFC", verbose=False, **options
    )
    return fit.parameter_estimate_mean["threshold"]


SAME_MODEL = {
    "stimulus_range": (-4, 4),
    "fixed_parameters": {"lambda": LAPSE, "eta": 0.0},
    "bounds": {"threshold": (-6, 6), "width": (WIDTH / SLOPE / 6, WIDTH / SLOPE * 6)},
    "priors": {
        "threshold": lambda theta: np.exp(-((theta / 2) ** 2) / 2),
        "width": lambda w: np.exp(-((np.log(w * SLOPE / WIDTH) / SLOPE_LOG_SD) ** 2) / 2) / w,
    },
}


class GuessingLogit(links.Link):
    """The logit of the share of right answers above guessing, lapses taken off."""

    def __call__(self, right):
        """Place on the line."""
        share = np.clip((np.asarray(right) - GUESS) / SPAN, 1e-10, 1 - 1e-10)
        return np.log(share / (1 - share))

    def inverse(self, z):
        """Share of right answers."""
        return GUESS + SPAN * expit(z)

    def deriv(self, right):
        """Slope of the link."""
        share = np.clip((np.asarray(right) - GUESS) / SPAN, 1e-10, 1 - 1e-10)
        return 1 / (share * (1 - share) * SPAN)


def by_statsmodels(right: np.ndarray) -> tuple[float, float]:
    """Most likely threshold and slope."""
    answers = np.column_stack([right, GLASSES - right])
    design = np.column_stack([np.ones_like(LEVELS), LEVELS])
    family = Binomial(link=GuessingLogit(), check_link=False)
    fit = GLM(answers, design, family=family).fit(start_params=[0.0, 1.0])
    return -fit.params[0] / fit.params[1], fit.params[1]


def by_scipy(right: np.ndarray, method: str) -> tuple[float, float]:
    """Most likely threshold and slope."""

    def height(place: np.ndarray) -> float:
        chance = curve(LEVELS - place[0], np.exp(min(place[1], 20.0)))
        return -(right @ np.log(chance) + (GLASSES - right) @ np.log1p(-chance))

    found = minimize(height, [0.0, np.log(SLOPE)], method=method).x
    return found[0], np.exp(found[1])


def beside(name: str, floor: int, cells: int, work: Callable[[], object]) -> object:
    """Time a reference in turns with ours, print the ratios, return its answers."""
    (large, _), (small, _), (theirs, found) = in_turns(*OURS, work)
    ratios = [theirs / cells / (ours / CELLS) for ours in (large, small)]
    print(
        f"{name:34}{theirs / cells * 1e3:10.2f} ms"
        f"{large / CELLS * 1e6:7.1f} us{ratios[0]:8,.0f} x"
        f"{small / CELLS * 1e6:7.1f} us{ratios[1]:8,.0f} x"
        f"   >= {floor:5,}: {'yes' if min(ratios) >= floor else 'NO'}"
    )
    return found


def against_psignifit(right: np.ndarray) -> None:
    """Posterior means of the threshold, own answers alone."""
    own = OURS[0]().own.mean
    for name, cells, options, words in (
        ("psignifit 4, its defaults", 4, {}, "another model, other priors"),
        ("psignifit 4, our curve and priors", 12, SAME_MODEL, "the same answer"),
    ):
        fit = partial(by_psignifit, **options)
        means = beside(name, 1_000, cells, lambda fit=fit, n=cells: [fit(r) for r in right[:n]])
        apart = np.abs(own[:cells] - means)
        print(f"    {words}: own means of {cells} cells within {apart.max():.4f} log2")


def against_peaks(right: np.ndarray, cells: int = 200) -> None:
    """Most likely thresholds; the answer that is the same is found from the same likelihood."""
    peaks = peaks_of(right[:cells])
    has_peak = np.isfinite(peaks.threshold)
    for name, fit in (
        ("statsmodels GLM with guess rate", by_statsmodels),
        ("scipy L-BFGS-B", partial(by_scipy, method="L-BFGS-B")),
        ("scipy BFGS", partial(by_scipy, method="BFGS")),
        ("scipy Nelder-Mead", partial(by_scipy, method="Nelder-Mead")),
    ):
        found = beside(name, 100, cells, lambda fit=fit: [fit(r) for r in right[:cells]])
        apart = np.abs(np.array(found)[:, 0] - peaks.threshold)[has_peak]
        print(
            f"    most likely thresholds, {has_peak.sum()} of {cells} cells have one: median"
            f" {np.median(apart):.0e} log2 apart, {(apart < 1e-3).mean():.0%} within .001"
        )


def peaks_of(right: np.ndarray) -> Peaks:
    """Most likely thresholds and slopes by our likelihood."""
    return most_likely(right, np.full(right.shape, GLASSES), LEVELS, curve, *PEAK_GRID)


def main() -> None:
    """Print the figures."""
    warnings.simplefilter("ignore")  # of the references, about cells that fix no slope
    right, _ = drawn_answers(people=200)
    print("UNDATED model: no dates enter; own and pooled thresholds with intervals. Per cell:")
    print(f"{'':34}{'reference':>13}{'in panels of 200':>20}{'in panels of 8':>20}   floor")
    with threadpool_limits(limits=1):
        against_psignifit(right)
        against_peaks(right)
        [(seconds, _)] = in_turns(lambda: peaks_of(right))
    print(f"Our most likely threshold and slope, no pooling: {seconds / CELLS * 1e6:.1f} us")


if __name__ == "__main__":
    main()
