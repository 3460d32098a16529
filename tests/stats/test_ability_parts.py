"""The parts of the ability model, each against arithmetic that can be redone."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import beta, norm

from seatworthy.stats.ability.call_nodes import CallNodes, nearest_node
from seatworthy.stats.ability.glasses import Outcome
from seatworthy.stats.ability.grid import build_grid
from seatworthy.stats.ability.messages import MessageStore, advance, build_walk, mix
from seatworthy.stats.ability.pooling import build_panels, pool
from seatworthy.stats.ability.reading import (
    build_readout,
    chance_rate_at_least,
    posterior,
    quantile,
    read_thresholds,
)
from seatworthy.stats.ability.settings import DEFAULT
from seatworthy.stats.ability.tables import answer_weights, clearness, glass_table, likelihood


def random_messages(cells=2, seed=1):
    grid = build_grid(DEFAULT)
    smooth = np.cumsum(np.random.default_rng(seed).random((3, cells, 12, grid.theta.size)), axis=-1)
    return smooth / smooth.max(axis=(2, 3), keepdims=True)


def test_two_short_gaps_equal_one_long_gap():
    walk, messages = build_walk(DEFAULT), random_messages()
    twice = advance(advance(messages, [30.0, 1.0], walk), [70.0, 9.0], walk)
    assert twice == pytest.approx(advance(messages, [100.0, 10.0], walk), abs=1e-13)


def test_no_time_changes_nothing():
    messages = random_messages()
    assert advance(messages, 0.0, build_walk(DEFAULT)) == pytest.approx(messages, abs=1e-13)


def test_an_empty_session_changes_nothing():
    one = np.array([0])
    answered = random_messages(cells=1)[0]
    plain, interrupted = MessageStore(1, DEFAULT), MessageStore(1, DEFAULT)
    for store in (plain, interrupted):
        store.add(one, 100, answered)
    interrupted.add(one, 150, np.ones_like(answered))
    after = [store.on(one, np.array([200]), one > 0) for store in (plain, interrupted)]
    true = [messages * np.exp(scale)[..., None, None] for messages, scale in after]
    assert true[0] == pytest.approx(true[1], abs=1e-13)


@pytest.mark.parametrize("is_gap", [False, True])
def test_mixing_waves_first_comes_to_the_same(is_gap):
    store, row = MessageStore(1, DEFAULT), np.array([0])
    for day, seed in ((100, 3), (150, 4)):
        store.add(row, day, random_messages(cells=1, seed=seed)[0])
    asked = row, np.array([300]), np.array([is_gap])
    expected = mix(*store.on(*asked), store.walk)
    assert store.mixed_on(*asked) == pytest.approx(expected, abs=1e-13)


def test_a_walk_spreads_by_its_own_variance():
    settings = replace(DEFAULT, drift_sd=(0.1, 0.5, 1.0), drift_jump=(0.0, 0.0, 0.0))
    grid, walk = build_grid(settings), build_walk(settings)
    point = np.zeros((3, 1, 1, grid.theta.size))
    point[..., grid.theta.size // 2] = 1
    for days in (365.25, 91.3125):
        spread = advance(point, days, walk)[:, 0, 0]
        variance = spread @ grid.theta**2
        assert variance == pytest.approx(np.array([0.01, 0.25, 1.0]) * days / 365.25, rel=1e-3)


def test_a_jump_goes_anywhere_alike():
    settings = replace(DEFAULT, drift_sd=(0.0, 0.0, 0.0), drift_jump=(0.1, 0.2, 0.3))
    walk = build_walk(settings)
    point = np.zeros((3, 1, 1, 49))
    point[..., 10] = 1
    gone = advance(point, 365.25, walk)[:, 0, 0, 40]
    assert gone == pytest.approx((1 - np.exp([-0.1, -0.2, -0.3])) / 49, rel=1e-9)


@pytest.mark.parametrize("background", [0.0, 1.0])
def test_chances_of_right_wrong_name_and_nothing_sum_to_one(background, pour_glasses):
    rows = [(1, 0, 0, 0, "naming", 3.0, background, outcome) for outcome in Outcome]
    glasses = pour_glasses(rows)
    table = glass_table(glasses, DEFAULT)
    weights = answer_weights(glasses, np.full(4, 3), DEFAULT)
    right, wrong, nothing, unnamed = likelihood(*weights, table.seen[table.kind])
    assert right + wrong + nothing == pytest.approx(np.ones_like(right), abs=1e-12)
    assert unnamed == pytest.approx(right + wrong, abs=1e-12)


def test_threshold_is_where_two_thirds_are_right_in_a_3afc(pour_glasses):
    settings = replace(DEFAULT, dose_sd=0.0, lapse=0.0)
    table = glass_table(pour_glasses([(1, 0, 0, 0, "3afc", 2.0, 0.0, 0)]), settings)
    at = np.flatnonzero(build_grid(settings).theta == 1)
    assert table.seen[0, at] == pytest.approx(2 / 3, abs=2e-6)


def test_clearness_doubles_with_the_level():
    theta = np.array([0.0, 1.0])
    assert clearness(np.array(4.0), theta) == pytest.approx(2 * clearness(np.array(2.0), theta))
    assert clearness(np.array(1.0), theta)[0] == pytest.approx(1.1159, abs=5e-5)


def test_a_reference_glass_with_all_of_it_leaves_only_guessing(pour_glasses):
    table = glass_table(pour_glasses([(1, 0, 0, 0, "2afc", 3.0, 3.0, 0)]), DEFAULT)
    assert table.seen == pytest.approx(np.full((1, 49), 0.5), abs=1e-12)


def test_glasses_alike_share_one_table(pour_glasses):
    rows = [(1, 0, 0, 0, m, x, 0.0, 0) for m in ("naming", "3afc") for x in (2.0, 3.0, 2.0)]
    table = glass_table(pour_glasses(rows), DEFAULT)
    assert len(table.seen) == 4
    assert table.kind[0] == table.kind[2] != table.kind[3]


@pytest.mark.parametrize(
    ("calls", "blanks", "rate"), [(0, 0, 0.10), (0, 10, 0.06), (5, 10, 0.30), (30, 40, 0.45)]
)
def test_false_call_node_is_nearest_to_the_shrunk_rate(calls, blanks, rate):
    assert DEFAULT.call_nodes[nearest_node(calls, blanks, DEFAULT)] == rate


def test_false_call_nodes_are_those_of_the_blanks_so_far(pour_blanks):
    blanks = pour_blanks([(105, 1, True)] * 10 + [(100, 0, False)] * 30 + [(100, 1, True)] * 2)
    nodes = CallNodes(blanks, DEFAULT)
    days = np.array([99, 100, 104, 105, 999])
    for person, calls, blank in (
        (0, [0, 0, 0, 0, 0], [0, 30, 30, 30, 30]),
        (1, [0, 2, 2, 12, 12], [0, 2, 2, 12, 12]),
        (2, [0] * 5, [0] * 5),
    ):
        expected = nearest_node(calls, blank, DEFAULT)
        assert nodes.on(np.full(5, person), days).tolist() == expected.tolist()


def test_pooling_one_person_gives_the_panel_prior():
    grid, panels = build_grid(DEFAULT), build_panels(DEFAULT)
    own = np.exp(-((grid.theta - 1) ** 2))[None, None]
    prior = panels.thresholds @ np.exp(panels.log_prior)
    assert pool(own, DEFAULT).prior[0, 0] == pytest.approx(prior, abs=1e-12)


def test_pooling_uses_nobodys_answers_twice():
    grid = build_grid(DEFAULT)
    likelihood_of_three = np.exp(-((grid.theta - np.array([[-1.0], [0.0], [2.0]])) ** 2))
    trusting = replace(DEFAULT, pooling_doubt=0.0)
    of_two = pool(likelihood_of_three[None, :2], trusting)
    of_three = pool(likelihood_of_three[None], trusting)
    assert of_three.prior[0, 2] == pytest.approx(of_two.newcomer[0], abs=1e-12)


def test_naming_bins_hold_the_whole_prior():
    grid = build_grid(DEFAULT)
    assert grid.naming_mass.sum() == pytest.approx(1, abs=1e-12)
    assert grid.naming_mass @ grid.naming_mean == pytest.approx(beta(3.5, 0.6).mean(), abs=1e-12)


def test_readout_rows_are_distributions():
    readout = build_readout(DEFAULT)
    assert readout.spread.sum(axis=2) == pytest.approx(1, abs=1e-12)
    assert readout.smear.sum(axis=1) == pytest.approx(1, abs=1e-12)


def test_mean_rate_is_that_of_the_histogram():
    readout = build_readout(DEFAULT)
    middle = (np.arange(100) + 0.5) / 100
    apart = readout.spread @ middle - readout.rate.reshape(readout.spread.shape[:2])
    assert np.abs(apart).max() < 0.005


def test_chance_of_a_rate_is_straight_within_a_bin():
    histogram = np.full(100, 0.01)
    assert chance_rate_at_least(histogram, 0.70) == pytest.approx(0.30, abs=1e-12)
    assert chance_rate_at_least(histogram, 0.705) == pytest.approx(0.295, abs=1e-12)
    assert chance_rate_at_least(histogram, 0.0) == pytest.approx(1.0, abs=1e-12)


def test_quantiles_of_an_even_histogram_are_even():
    even = np.full((1, 10), 0.1)
    for fraction in (0.0, 0.05, 0.5, 0.95, 1.0):
        found = quantile(even, np.arange(10) / 10, 0.1, fraction)
        assert found == pytest.approx(fraction, abs=1e-12)


def test_thresholds_of_a_normal_posterior_are_those_of_the_normal():
    settings = replace(DEFAULT, slope_log_sd=0.0)
    grid = build_grid(settings)
    mass = norm.pdf(grid.theta, 0.5, 1.0)[None] * settings.theta_step
    seen = read_thresholds(mass, settings)
    assert seen.mean == pytest.approx(0.5, abs=1e-3)
    assert seen.low == pytest.approx(norm.ppf(0.05, 0.5, 1.0), abs=0.02)
    assert seen.high == pytest.approx(norm.ppf(0.95, 0.5, 1.0), abs=0.02)
    assert seen.chance_insensitive == pytest.approx(norm.sf(np.log2(3), 0.5, 1.0), abs=0.005)


def test_slopes_that_differ_widen_a_threshold_and_leave_the_pivot():
    grid = build_grid(DEFAULT)
    mass = np.stack([norm.pdf(grid.theta, place, 0.4) for place in (-3.0, 1.33)])
    mass /= mass.sum(axis=1, keepdims=True)
    wide = read_thresholds(mass, DEFAULT)
    narrow = read_thresholds(mass, replace(DEFAULT, slope_log_sd=0.0))
    growth = (wide.high - wide.low) / (narrow.high - narrow.low)
    assert growth[0] > 1.5
    assert growth[1] < 1.2


def test_a_posterior_without_answers_is_the_prior():
    grid = build_grid(DEFAULT)
    joint = posterior(np.ones((1, 12, grid.theta.size)), grid.own_prior, DEFAULT)
    assert joint[0].sum(axis=0) == pytest.approx(grid.own_prior, abs=1e-12)
    assert joint[0].sum(axis=1) == pytest.approx(grid.naming_mass, abs=1e-12)
