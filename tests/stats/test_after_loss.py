"""Estimates of somebody who may have lost sensitivity."""

from dataclasses import replace

import numpy as np
import pytest

from seatworthy.stats.ability.after_loss import likelihood_after_loss
from seatworthy.stats.ability.alarm import find_loss
from seatworthy.stats.ability.both_ways import call_node_of
from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.glasses import Outcome
from seatworthy.stats.ability.grid import build_grid
from seatworthy.stats.ability.reading import chance_met, posterior, read_thresholds
from seatworthy.stats.ability.settings import DEFAULT

COMPOUNDS, TURN, FIRST = 8, 20, 19_000
SHAPE = (1, COMPOUNDS, 1)


def own_posteriors(likelihoods):
    """Posteriors by own answers of all cells; shape (K * B, C, G)."""
    flat = likelihoods.reshape(-1, *likelihoods.shape[2:])
    return posterior(flat, build_grid(DEFAULT).own_prior, DEFAULT)


@pytest.fixture
def taste(pour_glasses):
    """Glasses of a person who names nine in ten, and one in ten of the lost since a turn."""

    def run(lost, weeks, silent=(), seed=1):
        draw, rows = np.random.default_rng(seed), []
        for week in range(weeks):
            for compound in draw.permutation(COMPOUNDS)[:6].tolist():
                rate = 0.1 if week >= TURN and compound in lost else 0.9
                outcome = Outcome.RIGHT if draw.random() < rate else Outcome.NONE
                if week < TURN or compound not in silent:
                    rows.append((FIRST + 7 * week, 0, compound, 0, "naming", 3.0, 0.0, outcome))
        return pour_glasses(rows)

    return run


@pytest.fixture
def read(pour_blanks):
    """Chance met of every compound after a loss, by `follow` alone, and both thresholds."""

    def run(glasses):
        blanks, today = pour_blanks([]), int(glasses.day.max())
        loss = find_loss(glasses, blanks, SHAPE, 0, today)
        told = likelihood_after_loss(glasses, blanks, SHAPE, 0, today, loss)
        joint, plain = own_posteriors(told), follow(glasses, blanks, SHAPE, today).today
        node = np.full(COMPOUNDS, call_node_of(0, blanks, today, DEFAULT))
        return loss, chance_met(joint, node, DEFAULT), joint, plain

    return run


def test_without_any_chance_of_a_loss_all_is_as_followed(invent_panel):
    panel = invent_panel(seed=2)
    glasses, blanks, shape, today = panel.glasses, panel.blanks, panel.shape, panel.today
    followed = follow(glasses, blanks, shape, today).today
    for person in range(shape[0]):
        loss = find_loss(glasses, blanks, shape, person, today)
        none = replace(loss, shares=0 * loss.shares)
        told = likelihood_after_loss(glasses, blanks, shape, person, today, none)
        joint = own_posteriors(told)
        node = np.full(len(joint), call_node_of(person, blanks, today, DEFAULT))
        expected = followed.chance_met_own[person].ravel()
        assert chance_met(joint, node, DEFAULT) == pytest.approx(expected, abs=1e-9)


def test_lost_compounds_are_doubted_sooner(taste, read):
    loss, chance, _, plain = read(taste(lost=range(COMPOUNDS), weeks=TURN + 3))
    assert loss.is_alarm
    before = plain.chance_met_own[0, :, 0]
    assert np.all(chance < before)
    assert np.median(chance) < np.median(before) / 3


def test_compounds_that_kept_their_word_stay_trusted(taste, read):
    loss, chance, _, plain = read(taste(lost=range(4), weeks=TURN + 12))
    assert loss.is_alarm
    assert chance[4:] == pytest.approx(plain.chance_met_own[0, 4:, 0], abs=0.1)


def test_intervals_reach_the_lost_threshold_where_the_walk_alone_does_not(taste, read):
    """One right name in ten of a glass at 3x: a threshold of about 3.3 log2 by the naming link."""
    _, _, joint, plain = read(taste(lost=range(COMPOUNDS), weeks=TURN + 3))
    after = read_thresholds(joint.sum(axis=1), DEFAULT)
    reached = (after.high >= 3.3).sum()
    assert reached > (plain.threshold_high_own[0, :, 0] >= 3.3).sum()
    assert reached >= COMPOUNDS - 2


def test_a_compound_not_poured_since_becomes_less_sure(taste, read):
    loss, chance, joint, plain = read(taste(range(COMPOUNDS), TURN + 4, silent=[0]))
    assert loss.is_alarm
    assert np.isnan(loss.by_compound[0])
    assert chance[0] < plain.chance_met_own[0, 0, 0] - 0.2
    after = read_thresholds(joint.sum(axis=1), DEFAULT)
    assert after.high[0] > plain.threshold_high_own[0, 0, 0] + 1


def test_likelihoods_have_the_shape_of_all_cells(invent_panel):
    panel = invent_panel(families=3)
    about = panel.glasses, panel.blanks, panel.shape
    loss = find_loss(*about, 1, panel.today)
    told = likelihood_after_loss(*about, 1, panel.today, loss)
    assert told.shape == (*panel.shape[1:], DEFAULT.naming_bins, build_grid(DEFAULT).theta.size)
    assert np.all(told > 0)


def test_without_glasses_all_thresholds_are_alike(pour_glasses, pour_blanks):
    glasses, blanks = pour_glasses([]), pour_blanks([])
    loss = find_loss(glasses, blanks, (1, 2, 1), 0, 20_000)
    assert np.all(likelihood_after_loss(glasses, blanks, (1, 2, 1), 0, 20_000, loss) == 1)


def test_a_loss_of_another_number_of_compounds_is_refused(taste, pour_blanks):
    glasses, blanks = taste(lost=(), weeks=4), pour_blanks([])
    loss = find_loss(glasses, blanks, (1, COMPOUNDS + 1, 1), 0, 20_000)
    with pytest.raises(ValueError, match="A loss in 8 compounds was expected, got one in 9"):
        likelihood_after_loss(glasses, blanks, SHAPE, 0, 20_000, loss)
