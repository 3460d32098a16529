"""Best-estimate thresholds against published exercises; rule of ASTM E679 and ISO 13301."""

import pytest

from seatworthy.stats.best_estimate import group_threshold, individual_threshold

SUCROSE = (0.5, 1, 2, 4, 8, 16)  # g/L
EXERCISE_22 = {
    "A1": ([0, 0, 1, 1, 1, 1], 1.4142),
    "A2": ([0, 1, 0, 1, 1, 1], 2.8284),
    "A3": ([0, 0, 0, 1, 1, 1], 2.8284),
    "A4": ([1, 1, 1, 1, 1, 1], 0.3536),
    "A5": ([0, 0, 1, 0, 0, 1], 11.3137),
    "A6": ([0, 0, 0, 0, 1, 1], 5.6569),
}


@pytest.mark.parametrize(("right", "threshold"), EXERCISE_22.values(), ids=EXERCISE_22)
def test_individual_thresholds_of_an_open_teaching_exercise(right, threshold):
    """senzorika.github.io/SaIT, exercise 22: patterns as published, results recomputed by hand.

    The end rule that A4 needs is from memory.
    """
    assert individual_threshold(SUCROSE, right) == pytest.approx(threshold, abs=5e-5)


def test_group_threshold_of_the_exercise_is_two_to_the_four_thirds():
    """As above; arithmetic: the exponents of 2 sum to 8 over six people."""
    mean, spread = group_threshold(SUCROSE, [right for right, _ in EXERCISE_22.values()])
    assert mean == pytest.approx(2.5198, abs=5e-5)
    assert mean == pytest.approx(2 ** (4 / 3), abs=1e-12)
    assert spread == pytest.approx(0.5185, abs=5e-5)


def test_odour_bag_threshold_lies_between_the_last_right_and_the_first_wrong_dilution():
    """Japanese triangle odour-bag rule, orea.or.jp/en/odor_index.html: 300 right, 1000 wrong: 2.74.

    A dilution is one over a level, so the ascending levels are 1/1000 and 1/300.
    """
    from math import log10

    threshold = individual_threshold([1 / 1000, 1 / 300], [0, 1])
    assert -log10(threshold) == pytest.approx(2.74, abs=5e-3)
