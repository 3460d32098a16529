"""Repeatability of pairs, people and panels against certified and printed values."""

import numpy as np
import pytest

from seatworthy.stats.repeatability import moderated_sd, precision, within_variance

SIRSTV = """
196.3052 196.1240 196.1890 196.2569 196.3403
196.3042 196.3825 196.1669 196.3257 196.0422
196.1303 196.2005 196.2889 196.0343 196.1811
196.2795 196.1748 196.1494 196.1485 195.9885
196.2119 196.1051 196.1850 196.0052 196.2090
"""
# Bland & Altman (1986), Lancet i:307-310, Table 1: peak flow, l/min, two readings by each meter.
LARGE_METER = (
    [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427],
    [490, 397, 512, 401, 470, 611, 415, 431, 638, 429, 420, 633, 275, 492, 165, 372, 421],
)
MINI_METER = (
    [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451],
    [525, 415, 508, 444, 500, 625, 460, 390, 642, 432, 420, 605, 227, 467, 268, 370, 443],
)
# ISO 5725-2:1994, B.1, level 1: sulfur in coal, %, by eight laboratories.
COAL = (
    (0.71, 0.71, 0.70, 0.71),
    (0.69, 0.67, 0.68),
    (0.66, 0.65, 0.69),
    (0.67, 0.65, 0.66),
    (0.70, 0.69, 0.66, 0.71, 0.69),
    (0.73, 0.74, 0.73),
    (0.71, 0.71, 0.69),
    (0.70, 0.65, 0.68),
)


def test_residual_spread_of_silicon_matches_the_certified_value():
    """NIST StRD, one-way ANOVA, SiRstv, residual standard deviation; read (ships with SciPy)."""
    found = precision(np.array(SIRSTV.split(), float), np.repeat(np.arange(5), 5))
    assert found.repeatability_sd == pytest.approx(1.04076068334656e-1, rel=1e-12)


def test_reproducibility_of_silicon_matches_the_formulas_of_iso_5725_2():
    """The same data by the formulas of ISO 5725-2, recomputed from NIST's mean squares."""
    found = precision(np.array(SIRSTV.split(), float), np.repeat(np.arange(5), 5))
    assert found.repeatability_sd == pytest.approx(0.1040760683, abs=5e-11)
    assert found.reproducibility_sd == pytest.approx(0.1059376018, abs=5e-11)


def test_sulfur_in_coal_matches_the_example_of_iso_5725_2():
    """ISO 5725-2:1994, B.1, level 1, unequal numbers: m .690, s_r .015, s_R .026.

    Data and results from memory, the results recomputed from the data; so are the eight cell means
    and spreads that the standard prints between them.
    """
    laboratory = np.repeat(np.arange(8), [len(cell) for cell in COAL])
    found = precision(np.concatenate(COAL), laboratory)
    assert found.mean == pytest.approx(0.690, abs=5e-4)
    assert found.repeatability_sd == pytest.approx(0.015, abs=5e-4)
    assert found.reproducibility_sd == pytest.approx(0.026, abs=5e-4)
    means = (0.708, 0.680, 0.667, 0.660, 0.690, 0.733, 0.703, 0.677)
    spreads = (0.005, 0.010, 0.021, 0.010, 0.019, 0.006, 0.012, 0.025)
    assert [np.mean(cell) for cell in COAL] == pytest.approx(means, abs=5.01e-4)
    assert [np.std(cell, ddof=1) for cell in COAL] == pytest.approx(spreads, abs=5e-4)


@pytest.mark.parametrize(
    ("readings", "spread_of_differences"), [(LARGE_METER, 21.6), (MINI_METER, 28.2)]
)
def test_duplicates_of_peak_flow_match_bland_and_altman_1986(readings, spread_of_differences):
    """Spread of the differences between repeats, sqrt(2 v), with mean difference taken as 0.

    Readings read on J. M. Bland's page on repeated measures; 21.6 and 28.2 from memory.
    """
    first, second = np.array(readings)
    variance = within_variance(first - second)
    assert np.sqrt(2 * variance) == pytest.approx(spread_of_differences, abs=0.05)


@pytest.mark.parametrize(
    ("confidence", "rows"),
    [
        (0.90, {5: (0.6493, 2.3724), 10: (0.7293, 1.6452), 30: (0.8255, 1.2797)}),
        (0.95, {5: (0.5991, 2.8736), 10: (0.6878, 1.8256), 30: (0.7964, 1.3443)}),
        (0.99, {5: (0.5188, 4.3960), 10: (0.6177, 2.2776), 30: (0.7444, 1.4867)}),
    ],
)
def test_interval_matches_boosts_table_of_limits(confidence, rows):
    """Boost.Math, example chi_square_std_dev_test, limits for a standard deviation of 1; read.

    n observations have n - 1 degrees of freedom; here 4 come from the panel and the rest from
    pairs, all with variance 1.
    """
    for observations, limits in rows.items():
        found = moderated_sd(1.0, observations - 1 - 4, 1.0, confidence).interval
        assert (found.low, found.high) == pytest.approx(limits, abs=5e-5)
