"""What is handed on to the decisions must be what the model says of everybody today."""

import numpy as np
import pytest

from seatworthy.stats.ability.abilities import perceived_at, read_abilities
from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.glasses import Outcome
from seatworthy.stats.ability.settings import DEFAULT


def read(panel, **more):
    return read_abilities(panel.glasses, panel.blanks, panel.shape, panel.today, 0, **more)


@pytest.mark.parametrize("pooled", [False, True])
def test_rates_read_off_are_those_of_the_model(pooled, invent_panel):
    panel = invent_panel(sessions=12)
    found = read(panel, pooled=pooled)
    today = follow(panel.glasses, panel.blanks, panel.shape, panel.today).today
    expected = today.rate_mean_pooled if pooled else today.rate_mean
    grid = np.linspace(-6, 6, found.threshold.shape[-1])
    seen = perceived_at(np.array([DEFAULT.reference_level]), grid)[:, 0]
    named = (found.threshold * found.accuracy) @ seen
    assert np.allclose(named, expected[:, :, 0], atol=0.02)  # less what is guessed right


def test_draws_spread_as_the_posterior_does(invent_panel):
    panel = invent_panel(sessions=12)
    found = read(panel, draws=2000)
    grid = np.linspace(-6, 6, found.threshold.shape[-1])
    mean = found.threshold @ grid
    spread = np.sqrt(found.threshold @ grid**2 - mean**2)
    assert np.allclose(found.threshold_draws.mean(axis=0), mean, atol=0.03)
    assert np.allclose(found.threshold_draws.std(axis=0), spread, atol=0.08)
    named = np.einsum("pkg,pkg->pk", found.threshold, found.accuracy)
    assert np.allclose(found.accuracy_draws.mean(axis=0), named, atol=0.02)


def test_threshold_and_name_are_drawn_together(name_glasses, pour_blanks):
    """Noticed and never named right: whoever smells it in a draw misnames it there."""
    glasses = name_glasses([(19_000 + 7 * i, 3.0, Outcome.WRONG) for i in range(8)])
    found = read_abilities(glasses, pour_blanks([]), (1, 1, 1), 19_100, 0, draws=4000)
    sharp = found.threshold_draws[:, 0, 0] < 1
    assert sharp.mean() > 0.9
    assert found.accuracy_draws[sharp, 0, 0].mean() < 0.3


def test_false_calls_are_drawn_from_own_blanks(name_glasses, pour_blanks):
    blanks = pour_blanks([(19_000, 0, i < 3) for i in range(11)])
    found = read_abilities(name_glasses([]), blanks, (1, 1, 1), 19_100, 0, draws=2000)
    assert found.calls == pytest.approx([4 / 21])
    assert found.call_draws.mean() == pytest.approx(4 / 21, abs=0.003)


def test_only_own_glasses_make_somebody_tested(invent_panel):
    panel = invent_panel()
    late = panel.glasses.where(panel.glasses.person != 0)
    found = read_abilities(late, panel.blanks, panel.shape, panel.today, 0)
    assert not found.has_glasses[0].any()
    assert found.has_glasses[1:].any()


def test_answers_of_later_days_change_nothing(invent_panel):
    panel = invent_panel()
    day = int(np.unique(panel.glasses.day)[-2])
    early = panel.glasses.where(panel.glasses.day <= day)
    at_hand = read_abilities(panel.glasses, panel.blanks, panel.shape, day, 0)
    alone = read_abilities(early, panel.blanks, panel.shape, day, 0)
    assert np.array_equal(at_hand.threshold, alone.threshold)


def test_the_same_seed_draws_the_same(invent_panel):
    panel = invent_panel()
    assert np.array_equal(read(panel).threshold_draws, read(panel).threshold_draws)
