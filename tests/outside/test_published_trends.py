"""Slopes and tests of trend against textbooks and other programs' output."""

import numpy as np
import pytest

from seatworthy.stats.straight_line import kendall_trend, middle_slope

LIGHTNESS = [44.4, 45.9, 41.9, 53.3, 44.7, 44.1, 50.7, 45.2, 60.1]
SCORE = [2.6, 3.1, 2.5, 5.0, 3.6, 4.0, 5.2, 2.8, 3.8]
SEN_X, SEN_Y = [1, 2, 3, 4, 10, 12, 18], [9, 15, 19, 20, 45, 55, 78]

# Kendall, Rank Correlation Methods, appendix table 1: chance of at least this score.
UPPER_TAILS = [
    (4, 6, 0.042), (5, 8, 0.042), (5, 10, 0.0083), (6, 11, 0.028), (6, 13, 0.0083),
    (7, 13, 0.035), (7, 15, 0.015), (8, 16, 0.031), (8, 18, 0.016), (9, 18, 0.038),
    (9, 20, 0.022), (10, 21, 0.036), (10, 23, 0.023),
]  # fmt: skip


def order_with(number, score):
    """An order of `number` values in which rising pairs exceed falling ones by `score`."""
    falling, order = (number * (number - 1) // 2 - score) // 2, []
    for value in range(number):
        back = min(falling, value)
        order.insert(value - back, value)
        falling -= back
    return order


def test_cloud_seeding_matches_hollander_wolfe_and_chicken():
    """Nonparametric Statistical Methods, Example 9.1: S -6, one-sided P .117, slope -.056.

    Data read; the three results from memory, recomputed.
    """
    years, ratio = [1, 2, 3, 4, 5], [1.26, 1.27, 1.12, 1.16, 1.03]
    found = kendall_trend(years, ratio)
    assert found.score == -6
    assert found.p_falling == pytest.approx(0.117, abs=5e-4)
    assert middle_slope(years, ratio).per_time == pytest.approx(-0.056, abs=5e-4)


def test_canned_tuna_matches_the_printed_output_of_r():
    """Hollander & Wolfe (1973), p. 187, in R's help on cor.test: tau .4444444, p .05972; read.

    SciPy's tests hold R's answers to more digits: greater, less and two-sided.
    """
    found = kendall_trend(LIGHTNESS, SCORE)
    assert found.tau == pytest.approx(0.4444444, abs=5e-8)
    assert found.p_rising == pytest.approx(0.05972, abs=5e-6)
    assert found.p_rising == pytest.approx(0.0597194664903, abs=5e-13)
    assert found.p_falling == pytest.approx(0.9624118165785, abs=5e-13)
    assert found.p_either == pytest.approx(0.1194389329806, abs=5e-13)


def test_score_of_canned_tuna_matches_rs_statistic():
    """R prints T = 26, the number of rising pairs, of 36; read in output of cor.test."""
    assert (kendall_trend(LIGHTNESS, SCORE).score + 36) / 2 == 26


@pytest.mark.parametrize(("number", "score", "chance"), UPPER_TAILS)
def test_upper_tails_match_kendalls_table(number, score, chance):
    """From memory, recomputed by counting; tolerance half the last digit of each entry."""
    found = kendall_trend(np.arange(number), order_with(number, score))
    assert found.score == score
    assert found.p_rising == pytest.approx(chance, abs=5e-5 if chance < 0.01 else 5e-4)


def test_slope_matches_the_example_of_sen_1968():
    """Sen (1968), J. Am. Stat. Assoc. 63:1379: slope 4; read in SciPy's tests."""
    assert middle_slope(SEN_X, SEN_Y).per_time == pytest.approx(4, abs=5e-3)


def test_limits_of_sens_example_are_those_of_a_wider_interval():
    """Printed with that example, at a level of 93 %: 3.71 and 4.38; read in SciPy's tests.

    They are the fourth slopes from either end. Counted over all orders of seven values these
    hold 96.98 %; the fifth, 3.75 and 4.18, hold 93.10 % already, so they are ours at 93 %.
    """
    wide, narrow = (middle_slope(SEN_X, SEN_Y, level).interval for level in (0.969, 0.93))
    assert (wide.low, wide.high) == pytest.approx((3.71, 4.38), abs=5e-3)
    assert (narrow.low, narrow.high) == pytest.approx((3.75, 4.18), abs=5e-3)
    assert middle_slope(SEN_X, SEN_Y, 0.9699).interval.low < 3.7
