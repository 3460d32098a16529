"""Thurstonian links and yes/no detection against published numbers."""

import numpy as np
import pytest
from scipy.special import ncfdtr

from seatworthy.stats.thurstone import d_prime_at, proportion_right
from seatworthy.stats.yes_no import criterion, d_prime, log_linear_rates


@pytest.mark.parametrize(
    ("method", "right"),
    [("2afc", 0.7602), ("duo_trio", 0.5825), ("3afc", 0.6337), ("triangle", 0.4180)],
)
def test_proportion_right_at_d_prime_one_matches_ennis_1993(method, right):
    """Frijters (1980); Ennis (1993), J. Sens. Stud. 8:353-370; from memory, recomputed."""
    assert proportion_right(method, 1.0) == pytest.approx(right, abs=5e-5)


def test_two_alternatives_follow_the_closed_form():
    """Arithmetic: d' = sqrt 2 z(Pc), Macmillan & Creelman (2005)."""
    assert d_prime_at("2afc", 0.75) == pytest.approx(0.9539, abs=5e-5)


def test_triangle_is_a_noncentral_f_probability():
    """Pc = P(F(1, 1, 2 d'^2 / 3) > 3); relation from memory, distribution SciPy's."""
    distance = np.array([0.3, 1.0, 2.0, 3.5])
    expected = 1 - ncfdtr(1, 1, 2 * distance**2 / 3, 3)
    assert proportion_right("triangle", distance) == pytest.approx(expected, abs=1e-5)


def test_d_prime_and_criterion_match_macmillan_and_creelman():
    """Detection Theory, 2nd ed. (2005), chapter 1: hits 20/25, false alarms 10/25; from memory."""
    assert d_prime(20 / 25, 10 / 25) == pytest.approx(1.095, abs=5e-4)
    assert criterion(20 / 25, 10 / 25) == pytest.approx(-0.294, abs=5e-4)


def test_d_prime_matches_schneiders_notes():
    """W. Schneider, short notes on signal detection theory: H .70, F .10.

    The z scores printed there are 0.52 and -1.282.
    """
    assert d_prime(0.70, 0.10) == pytest.approx(1.806, abs=5e-4)


def test_log_linear_correction_matches_arithmetic_after_hautus_1995():
    """Hautus (1995): .5 to the counts, 1 to the totals; 20/25 and 10/25 recomputed."""
    rates = log_linear_rates(20, 25, 10, 25)
    assert d_prime(*rates) == pytest.approx(1.04450, abs=5e-6)
    assert criterion(*rates) == pytest.approx(-0.27885, abs=5e-6)
