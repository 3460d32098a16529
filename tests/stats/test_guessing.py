"""Edges of the tests against guessing; published values stand in tests/outside."""

from math import comb

import numpy as np
import pytest

from seatworthy.stats.guessing import (
    assessors_needed,
    binomial_tail,
    guess_rate,
    p_against_guessing,
    smallest_right,
)


def test_tail_is_the_sum_of_binomial_terms():
    terms = [comb(9, k) * (1 / 3) ** k * (2 / 3) ** (9 - k) for k in range(10)]
    for least in range(10):
        assert binomial_tail(least, 9, 1 / 3) == pytest.approx(sum(terms[least:]), abs=1e-12)


def test_none_right_is_no_evidence_and_no_trial_no_knowledge():
    p = p_against_guessing([0, 0, 5], [5, 0, 5], "triangle")
    assert p[0] == 1
    assert np.isnan(p[1])
    assert p[2] == pytest.approx(3.0**-5, abs=1e-12)


def test_smallest_number_lies_on_the_limit():
    assert smallest_right(2, 0.5, 0.25) == 2
    assert smallest_right(2, 0.5, 0.2499) is None
    assert smallest_right(0, 0.5, 0.05) is None


def test_one_assessor_less_is_too_few():
    needed = assessors_needed(1 / 3, 0.4, 0.05, 0.10)
    right_share = 0.4 + 0.6 / 3
    for number, is_enough in ((needed, True), (needed - 1, False)):
        power = binomial_tail(smallest_right(number, 1 / 3, 0.05), number, right_share)
        assert (power >= 0.90) == is_enough


@pytest.mark.parametrize("method", ["naming", "intensity", "4afc"])
def test_methods_without_a_guess_rate_are_refused(method):
    with pytest.raises(ValueError, match="no fixed guess rate"):
        guess_rate(method)


@pytest.mark.parametrize(("right", "trials"), [(-1, 3), (4, 3)])
def test_impossible_counts_are_refused(right, trials):
    with pytest.raises(ValueError, match="between 0 and the number of trials"):
        p_against_guessing(right, trials, "2afc")


def test_percentages_and_negative_trials_are_refused():
    with pytest.raises(ValueError, match="between 0 and 1 is needed, got 5"):
        smallest_right(10, 0.5, 5)
    with pytest.raises(ValueError, match="must not be negative, got -1"):
        smallest_right(-1, 0.5, 0.05)
    with pytest.raises(ValueError, match="between 0 and 1 is needed, got 0"):
        assessors_needed(1 / 3, 0, 0.05, 0.05)
