"""Properties of the links; published values stand in tests/outside."""

import numpy as np
import pytest

from seatworthy.stats.guessing import guess_rate
from seatworthy.stats.thurstone import d_prime_at, proportion_right

METHODS = ("3afc", "triangle", "2afc", "duo_trio")
each = pytest.mark.parametrize("method", METHODS)


@each
def test_links_start_at_the_guess_rate_and_end_at_certainty(method):
    assert proportion_right(method, 0.0) == pytest.approx(guess_rate(method), abs=1e-12)
    assert proportion_right(method, 12.0) == pytest.approx(1.0, abs=1e-6)
    assert proportion_right(method, 50.0) == pytest.approx(1.0, abs=1e-6)


@each
def test_links_rise(method):
    assert np.all(np.diff(proportion_right(method, np.linspace(0, 6, 500))) > 0)


@each
def test_the_inverse_undoes_the_link(method):
    d_prime = np.array([0.5, 1.0, 2.5, 4.0])
    assert d_prime_at(method, proportion_right(method, d_prime)) == pytest.approx(d_prime, abs=1e-4)


@each
def test_edges_of_the_inverse(method):
    found = d_prime_at(method, [0.0, guess_rate(method), 1.0, np.nan])
    assert found[:3].tolist() == [0.0, 0.0, np.inf]
    assert np.isnan(found[3])


@each
def test_links_agree_with_simulated_tastings(method):
    """200,000 tastings at d' = 1.5, decided as the instruction of each method says."""
    draw, number, d_prime = np.random.default_rng(6), 200_000, 1.5
    spiked = draw.normal(d_prime, 1, number)
    plain, second = draw.normal(0, 1, (2, number))
    other_spiked = draw.normal(d_prime, 1, number)
    right = {
        "2afc": spiked > plain,
        "3afc": spiked > np.maximum(plain, second),
        "triangle": np.abs(plain - second)
        < np.minimum(np.abs(spiked - plain), np.abs(spiked - second)),
        "duo_trio": np.abs(other_spiked - spiked) < np.abs(other_spiked - plain),
    }[method]
    assert proportion_right(method, d_prime) == pytest.approx(right.mean(), abs=0.005)


def test_other_methods_and_impossible_values_are_refused():
    with pytest.raises(ValueError, match="No link for the method 'naming'"):
        proportion_right("naming", 1.0)
    with pytest.raises(ValueError, match="must not be negative"):
        proportion_right("3afc", -0.1)
    with pytest.raises(ValueError, match="between 0 and 1"):
        d_prime_at("3afc", 1.1)
