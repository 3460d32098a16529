"""Thurstonian links and yes/no detection against published numbers."""

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import ncfdtr
from scipy.stats import norm

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


@pytest.mark.parametrize(
    ("right", "distance"),
    [
        (0.40, 0.23), (0.50, 0.56), (0.60, 0.89), (0.70, 1.24), (0.75, 1.43), (0.80, 1.65),
        (0.90, 2.23), (0.95, 2.71),
    ],
)  # fmt: skip
def test_d_prime_of_three_alternatives_matches_hacker_and_ratcliff_1979(right, distance):
    """Perception & Psychophysics 26:168-170, column M = 3; from memory, two decimals.

    Recomputed by adaptive integration of phi(z - d') Phi(z)^2 (SciPy's quad) at the d' found.
    """
    found = float(d_prime_at("3afc", right))
    assert found == pytest.approx(distance, abs=5e-3)
    area = quad(lambda z: norm.pdf(z - found) * norm.cdf(z) ** 2, -10, 15)[0]
    assert area == pytest.approx(right, abs=1e-6)


@pytest.mark.parametrize(
    ("right", "distance"),
    [(0.40, 0.88), (0.50, 1.47), (0.60, 1.98), (0.70, 2.50), (0.80, 3.13), (0.90, 4.03)],
)
def test_d_prime_of_a_triangle_matches_the_tables_of_frijters_and_ennis(right, distance):
    """Frijters et al. (1980), Perception & Psychophysics 27:176-178; from memory, two decimals.

    Recomputed as the noncentral F probability of the test above.
    """
    found = float(d_prime_at("triangle", right))
    assert found == pytest.approx(distance, abs=5e-3)
    assert 1 - ncfdtr(1, 1, 2 * found**2 / 3, 3) == pytest.approx(right, abs=1e-6)


def test_d_prime_of_the_false_memory_example_matches_its_z_scores():
    """Macmillan & Creelman (2005), chapter 5, worked in open course notes (read).

    Said "old": .85 of the old, .30 of the new, .80 of the lures; z printed as 1.0364334, -0.5244005
    and 0.8416212. The notes add up 1.03 and .52 to 1.55, where the z scores give 1.5608; quoted
    here are the z scores.
    """
    assert d_prime(0.85, 0.30) == pytest.approx(1.0364334 + 0.5244005, abs=1e-7)
    assert d_prime(0.80, 0.30) == pytest.approx(0.8416212 + 0.5244005, abs=1e-7)
    assert d_prime(0.85, 0.80) == pytest.approx(0.19, abs=5e-3)
