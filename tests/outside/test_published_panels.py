"""A panel's risk, compared with an independent library, the binomial, and the trade's own figures."""

import numpy as np
import pytest
from scipy.stats import binom, poisson_binom

from seatworthy.decide.missing import call_counts, fewer_than


@pytest.mark.parametrize("seed", range(12))
def test_fewer_than_is_the_poisson_binomial_of_scipy(seed):
    """scipy.stats.poisson_binom (SciPy 1.17): `poisson_binom(p).cdf(n - 1)` and `.pmf`."""
    rng = np.random.default_rng(seed)
    chances = rng.random(rng.integers(1, 13))
    ours = [float(fewer_than(chances, n)) for n in range(1, len(chances) + 1)]
    theirs = poisson_binom.cdf(np.arange(len(chances)), chances)
    assert ours == pytest.approx(theirs.tolist(), abs=1e-12)
    pmf = poisson_binom.pmf(np.arange(len(chances) + 1), chances)
    assert call_counts(chances) == pytest.approx(pmf, abs=1e-12)


@pytest.mark.parametrize("people", [1, 2, 5, 12, 30])
@pytest.mark.parametrize("chance", [0.0, 0.1, 0.6, 0.95, 1.0])
def test_a_rule_of_n_among_equals_is_the_binomial(people, chance):
    """scipy.stats.binom (SciPy 1.17)."""
    for callers in range(1, people + 1):
        ours = float(fewer_than(np.full(people, chance), callers))
        assert ours == pytest.approx(binom.cdf(callers - 1, people, chance), abs=1e-12)


@pytest.mark.parametrize(
    ("tasters", "callers", "percent"),
    [(4, 2, 5), (6, 2, 11), (8, 2, 19), (4, 1, 34), (6, 1, 47), (8, 1, 57)],
)
def test_false_alarms_at_ten_percent_false_calls(tasters, callers, percent):
    """Common practice, no source: the figures by which the trade argues for two callers."""
    alarm = 1 - float(fewer_than(np.full(tasters, 0.10), callers))
    assert 100 * alarm == pytest.approx(percent, abs=0.5)


@pytest.mark.parametrize(
    ("tasters", "hits", "percent"), [(4, 0.60, 82), (5, 0.60, 91), (3, 0.80, 90)]
)
def test_a_real_fault_is_caught_by_two(tasters, hits, percent):
    """Common practice, no source: the same argument from the other side."""
    caught = 1 - float(fewer_than(np.full(tasters, hits), 2))
    assert 100 * caught == pytest.approx(percent, abs=0.5)
