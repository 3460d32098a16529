"""Bayes and likelihood ratios against published figures, through the weighing itself."""

import numpy as np
import pytest

from seatworthy.decide.said import LEVELS, Likelihoods
from seatworthy.decide.weighing import Prior, chances_after


def one_taster(if_there, if_clean):
    """Likelihoods of one word of one taster on one compound, whatever the level."""
    return Likelihoods(
        np.array([if_clean]), np.full((1, 1, len(LEVELS)), if_there), np.array([[if_clean]])
    )


SENSITIVITY, SPECIFICITY = 231 / 258, 54 / 86


def test_the_predictive_value_is_that_of_altman_and_bland():
    """Altman & Bland, BMJ 1994;309:102.

    Liver scans, sensitivity .90, specificity .63, at a prevalence of .75 a positive predictive value
    of .88 (231 of 263).
    """
    assert round(SENSITIVITY, 2) == 0.90
    assert round(SPECIFICITY, 2) == 0.63
    prevalence = 258 / 344
    found = chances_after(
        one_taster(SENSITIVITY, 1 - SPECIFICITY), Prior(np.array([prevalence]), 0.0)
    )
    assert found[1] == pytest.approx(0.88, abs=0.005)
    assert found[1] == pytest.approx(231 / 263)


def test_the_negative_predictive_value_is_that_of_the_same_table():
    """The same table: 54 of the 81 normal scans were of healthy livers; .67."""
    prevalence = 258 / 344
    found = chances_after(
        one_taster(1 - SENSITIVITY, SPECIFICITY), Prior(np.array([prevalence]), 0.0)
    )
    assert found[0] == pytest.approx(54 / 81)
    assert found[0] == pytest.approx(0.67, abs=0.005)


def test_the_likelihood_ratio_turns_prior_odds_into_posterior_odds():
    """LR+ 2.4 = sensitivity / (1 - specificity) (Altman & Bland 1994; from memory, recomputed)."""
    ratio = SENSITIVITY / (1 - SPECIFICITY)
    assert ratio == pytest.approx(2.4, abs=0.05)
    for prior in (0.01, 0.25, 0.75):
        found = chances_after(
            one_taster(SENSITIVITY, 1 - SPECIFICITY), Prior(np.array([prior]), 0.0)
        )
        assert found[1] / found[0] == pytest.approx(ratio * prior / (1 - prior))


def test_a_single_call_and_two_agreeing_ones_for_orientation():
    """Arithmetic: rate .8, false-call rate .05, 20 names used evenly.

    A ratio of .8 / (.05 / 20) = 320, which takes a prior of 0.15 % to 32 %; two who agree on their own
    to over 99 %.
    """
    one = one_taster(0.8, 0.05 / 20)
    prior = Prior(np.array([0.0015]), 0.0)
    assert chances_after(one, prior)[1] == pytest.approx(0.32, abs=0.005)
    two = Likelihoods(
        np.repeat(one.clean, 2), np.repeat(one.there, 2, 0), np.repeat(one.taint, 2, 0)
    )
    assert chances_after(two, prior)[1] > 0.99
