"""The interval that joins equal tails and the shortest one."""

import numpy as np
import pytest

from seatworthy.stats.ability.grid import build_grid
from seatworthy.stats.ability.pooling import build_panels, pool
from seatworthy.stats.ability.reading import interval, quantile
from seatworthy.stats.ability.settings import DEFAULT

EDGES = np.arange(100) / 100
MIDDLES = EDGES + 0.005


def histogram(density):
    return (density / density.sum())[None]


def held(mass, low, high):
    """What lies between two ends, straight within a bin."""
    return np.interp(high, np.append(EDGES, 1), np.append(0, np.cumsum(mass))) - np.interp(
        low, np.append(EDGES, 1), np.append(0, np.cumsum(mass))
    )


HISTOGRAMS = {
    "falls from the edge": histogram(np.exp(-10 * MIDDLES)),
    "leans to the right": histogram(MIDDLES**8 * (1 - MIDDLES)),
    "stands in the middle": histogram(np.exp(-(((MIDDLES - 0.5) / 0.1) ** 2) / 2)),
    "has two hills": histogram(
        np.exp(-(((MIDDLES - 0.1) / 0.05) ** 2)) + np.exp(-(((MIDDLES - 0.8) / 0.1) ** 2))
    ),
}


@pytest.mark.parametrize("name", HISTOGRAMS)
def test_neither_tail_is_larger_than_half_of_what_is_outside(name):
    mass = HISTOGRAMS[name]
    low, high = interval(mass, EDGES, 0.01, 0.9)
    assert low[0] <= quantile(mass, EDGES, 0.01, 0.05)[0]
    assert high[0] >= quantile(mass, EDGES, 0.01, 0.95)[0]


@pytest.mark.parametrize("name", HISTOGRAMS)
def test_it_holds_between_its_coverage_and_half_way_to_all(name):
    mass = HISTOGRAMS[name]
    low, high = interval(mass, EDGES, 0.01, 0.9)
    assert 0.9 - 1e-9 <= held(mass[0], low[0], high[0]) <= 0.95 + 1e-9


def test_it_reaches_the_edge_where_that_is_likeliest():
    low, high = interval(HISTOGRAMS["falls from the edge"], EDGES, 0.01, 0.9)
    assert low[0] == 0
    assert high[0] == pytest.approx(-np.log(0.05) / 10, abs=0.002)


def test_it_has_equal_tails_where_nothing_leans():
    mass = HISTOGRAMS["stands in the middle"]
    low, high = interval(mass, EDGES, 0.01, 0.9)
    assert low[0] == pytest.approx(0.5 - 1.645 * 0.1, abs=0.002)
    assert high[0] == pytest.approx(0.5 + 1.645 * 0.1, abs=0.002)


def test_each_histogram_has_an_interval_of_its_own():
    together = interval(np.concatenate(list(HISTOGRAMS.values())), EDGES, 0.01, 0.9)
    alone = [interval(mass, EDGES, 0.01, 0.9) for mass in HISTOGRAMS.values()]
    assert np.array_equal(np.stack(together), np.concatenate([np.stack(one) for one in alone], 1))


def test_half_of_a_persons_prior_does_not_listen_to_colleagues():
    grid = build_grid(DEFAULT)
    sharp = np.exp(-(((grid.theta - 3) / 0.3) ** 2))
    answers = np.stack([np.ones_like(sharp), sharp, sharp])[None]
    panels = build_panels(DEFAULT)
    unheard = panels.thresholds @ np.exp(panels.log_prior)
    prior = pool(answers, DEFAULT).prior[0, 0]
    assert prior.sum() == pytest.approx(1)
    assert np.all(prior >= DEFAULT.pooling_doubt * unheard)
