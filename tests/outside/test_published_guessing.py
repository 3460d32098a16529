"""Tests against guessing, compared with the tables of the standards."""

import pytest

from seatworthy.stats.guessing import assessors_needed, p_against_guessing, smallest_right

THIRD_ALPHAS = (0.10, 0.05, 0.01, 0.001)
THIRD = {
    5: (4, 4, 5, None),
    6: (5, 5, 6, None),
    8: (5, 6, 7, 8),
    10: (6, 7, 8, 9),
    12: (7, 8, 9, 10),
    15: (8, 9, 10, 12),
    18: (10, 10, 12, 13),
    20: (10, 11, 13, 14),
    24: (12, 13, 15, 16),
}
HALF_DUO_ALPHAS = (0.20, 0.10, 0.05, 0.01, 0.001)
HALF_DUO = {
    6: (5, 6, 6, None, None),
    8: (6, 7, 7, 8, None),
    10: (7, 8, 9, 10, 10),
    12: (8, 9, 10, 11, 12),
    16: (11, 12, 12, 14, 15),
    20: (13, 14, 15, 16, 18),
}
HALF_PAIR_ALPHAS = (0.20, 0.10, 0.05, 0.01, 0.001)
HALF_PAIR = {
    10: (7, 8, 9, 10, 10),
    12: (8, 9, 10, 11, 12),
    15: (10, 11, 12, 13, 14),
    19: (12, 13, 14, 15, 17),
    22: (14, 15, 16, 17, 19),
}


def smallest(trials, guess_rate, alphas):
    return tuple(smallest_right(trials, guess_rate, alpha) for alpha in alphas)


@pytest.mark.parametrize("trials", THIRD)
def test_smallest_number_right_of_three_matches_fao_v7180e(trials):
    """FAO document V7180E, Appendix A (triangle test; a 3-AFC guesses alike)."""
    assert smallest(trials, 1 / 3, THIRD_ALPHAS) == THIRD[trials]


@pytest.mark.parametrize("trials", HALF_DUO)
def test_smallest_number_right_in_a_duo_trio_matches_iso_10399(trials):
    """ISO 10399:2004, Table A.1, from a secondary copy that cites it."""
    assert smallest(trials, 1 / 2, HALF_DUO_ALPHAS) == HALF_DUO[trials]


@pytest.mark.parametrize("trials", HALF_PAIR)
def test_smallest_number_right_in_a_paired_comparison_matches_iso_5495(trials):
    """ISO 5495:2005, Table A.1 (one-sided), from a secondary copy that cites it."""
    assert smallest(trials, 1 / 2, HALF_PAIR_ALPHAS) == HALF_PAIR[trials]


def test_p_value_of_a_triangle_matches_r():
    """R: pbinom(14, 30, 1/3, lower.tail = FALSE), printed as 0.04348228."""
    assert p_against_guessing(15, 30, "triangle") == pytest.approx(0.04348228, abs=5e-9)


@pytest.mark.parametrize(
    ("discriminators", "beta", "assessors"),
    [(0.50, 0.20, 16), (0.50, 0.10, 20), (0.50, 0.05, 23), (0.30, 0.20, 40), (0.30, 0.05, 66)],
)
def test_assessors_needed_for_a_triangle_match_iso_4120(discriminators, beta, assessors):
    """ISO 4120 and ASTM E1885, alpha .05; numbers from memory."""
    assert assessors_needed(1 / 3, discriminators, 0.05, beta) == assessors
