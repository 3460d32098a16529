"""Seats and panels against every combination counted by itself."""

from itertools import product

import numpy as np
import pytest
from scipy.stats import binom

from seatworthy.stats import seats
from seatworthy.stats.seats import chance_of_panel, items_met_and_not

MET, NOT_MET = np.array([0.6, 0.3, 0.8]), np.array([0.1, 0.4, 0.2])
TWO_MET_NONE_NOT = np.array([[m >= 2 and b <= 0 for b in range(4)] for m in range(4)])


def every_person():
    """All that may become of one person: items met, items not met, chance."""
    for fate in product("mno", repeat=MET.size):
        met = tuple(one == "m" for one in fate)
        chance = np.prod(
            [
                {"m": up, "n": down, "o": 1 - up - down}[one]
                for one, up, down in zip(fate, MET, NOT_MET, strict=True)
            ]
        )
        yield met, fate.count("n"), chance


def test_items_met_and_not_met_are_every_combination_summed():
    table = np.zeros((4, 4))
    for met, bad, chance in every_person():
        table[sum(met), bad] += chance
    assert np.allclose(items_met_and_not(MET, NOT_MET), table, rtol=0, atol=1e-12)


def panels_counted_one_by_one(people, quorum, each, others):
    found = 0.0
    fates = []
    for met, bad, chance in every_person():
        sits = bool(TWO_MET_NONE_NOT[sum(met), bad])
        fates += [(met, True, chance * others)] if sits else []
        fates.append((met, False, chance * (1 - others if sits else 1)))
    for panel in product(fates, repeat=people):
        seated = [met for met, sits, _ in panel if sits]
        enough = all(sum(met[item] for met in seated) >= each for item in range(MET.size))
        if len(seated) >= quorum and enough:
            found += np.prod([chance for _, _, chance in panel])
    return found


@pytest.mark.parametrize(("people", "quorum", "each"), [(3, 2, 1), (3, 3, 2), (2, 1, 0), (1, 2, 1)])
def test_a_panel_is_every_panel_counted_one_by_one(people, quorum, each):
    truth = panels_counted_one_by_one(people, quorum, each, 0.9)
    found = chance_of_panel(MET, NOT_MET, TWO_MET_NONE_NOT, 0.9, people, quorum, each)
    assert found.chance == pytest.approx(truth, abs=1e-12)
    assert found.is_exact


def test_without_items_a_panel_is_a_binomial_tail():
    always = np.ones((1, 1), dtype=bool)
    found = chance_of_panel([], [], always, 0.7, 9, 4, 2)
    assert found.chance == pytest.approx(binom.sf(3, 9, 0.7), abs=1e-12)


def test_a_simulated_panel_agrees_with_the_counted_one(monkeypatch):
    counted = chance_of_panel(MET, NOT_MET, TWO_MET_NONE_NOT, 0.9, 6, 3, 2)
    monkeypatch.setattr(seats, "MOST_EXACT", 0)
    drawn = chance_of_panel(MET, NOT_MET, TWO_MET_NONE_NOT, 0.9, 6, 3, 2)
    assert not drawn.is_exact
    assert 0.1 < counted.chance < 0.9
    assert abs(drawn.chance - counted.chance) < 5 * np.sqrt(0.25 / 20_000)


def test_chances_above_one_together_are_refused():
    with pytest.raises(ValueError, match="with a sum of at most 1"):
        items_met_and_not([0.7], [0.4])
