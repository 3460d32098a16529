"""The chance that two kinds of glass are told apart, against an integration of another kind."""

import numpy as np
import pytest
from scipy.integrate import dblquad
from scipy.stats import norm

from seatworthy.stats.yes_no import CRITERION_PRIOR, D_PRIME_PRIOR, chance_d_prime_at_least


@pytest.mark.parametrize("counts", [(7, 8, 2, 9), (6, 6, 0, 6), (3, 6, 3, 6)])
def test_the_chance_of_being_told_apart_against_adaptive_quadrature(counts):
    """The same posterior integrated by scipy's dblquad, which shares no grid with ours."""
    hits, spiked, alarms, blanks = counts

    def mass(reluctance, distance):
        prior = norm.pdf(distance, *D_PRIME_PRIOR) * norm.pdf(reluctance, *CRITERION_PRIOR)
        yes, false = norm.cdf(distance / 2 - reluctance), norm.cdf(-distance / 2 - reluctance)
        return (
            prior
            * yes**hits
            * (1 - yes) ** (spiked - hits)
            * false**alarms
            * (1 - false) ** (blanks - alarms)
        )

    above, _ = dblquad(mass, 1.0, 8.0, -4.0, 4.0, epsabs=1e-12)
    below, _ = dblquad(mass, -6.0, 1.0, -4.0, 4.0, epsabs=1e-12)
    found = float(chance_d_prime_at_least(1.0, *counts))
    assert found == pytest.approx(above / (above + below), abs=2e-3)


def test_the_chance_falls_with_the_distance_asked_for_and_takes_rows():
    chances = [chance_d_prime_at_least(apart, 7, 8, 2, 9) for apart in (-9, 0, 1, 2, 9)]
    assert np.all(np.diff(chances) < 0)
    assert chances[0] == pytest.approx(1, abs=1e-6)
    assert chance_d_prime_at_least(1.0, [7, 3], 8, 2, 9).shape == (2,)


def test_more_yes_than_glasses_is_refused():
    with pytest.raises(ValueError, match="between 0 and the number of glasses"):
        chance_d_prime_at_least(1.0, 9, 8, 0, 8)
