"""The weighing by hand, by brute force, and what it may not do."""

from itertools import product

import numpy as np
import pytest
from known_noses import noses_of

from seatworthy.decide.noses import perceived_mean
from seatworthy.decide.said import (
    LEVEL_SHARES,
    LEVELS,
    NOTHING,
    SOMETHING,
    TAINT_NOTICED,
    TAINT_UNNAMED,
    guess_chance,
    likelihoods,
)
from seatworthy.decide.weighing import Prior, chances_after, power_after_talk, weigh

THRESHOLDS = np.array([[0.0, 1.0, -0.5], [0.5, 0.0, 3.5], [-1.0, 0.5, 0.0], [1.5, 0.0, 0.0]])
PRIOR = Prior(np.array([0.05, 0.02, 0.01]), 0.02)


def words(*said):
    return np.array(said, dtype=np.intp)


def every_word(compounds):
    return [NOTHING, SOMETHING, *range(compounds)]


def test_the_words_somebody_may_say_sum_to_one_in_every_state():
    noses = noses_of(THRESHOLDS)
    parts = [likelihoods(noses, np.full(4, word)) for word in every_word(3)]
    assert sum(part.clean for part in parts) == pytest.approx(1)
    assert sum(part.there for part in parts) == pytest.approx(np.ones((4, 3, len(LEVELS))))
    assert sum(part.taint for part in parts) == pytest.approx(np.ones((4, 3)))


def brute_chances(noses, said, prior):
    """State by state with plain loops, in the words of the module's own description."""
    perceived, named = perceived_mean(noses, LEVELS)
    at_three, _ = perceived_mean(noses, [3.0])
    clean = guess_chance(noses, said, noses.calls)
    people, compounds = len(said), len(noses.compounds)
    weight = [prior.nothing * np.prod(clean)]
    for k in range(compounds):
        total = 0.0
        for x in range(len(LEVELS)):
            each = 1.0
            for t in range(people):
                missed, wrong = 1 - perceived[t, k, x], perceived[t, k, x] - named[t, k, x]
                if said[t] == k:
                    chance = named[t, k, x]
                elif said[t] == SOMETHING:
                    chance = 0.25 * wrong
                elif said[t] == NOTHING:
                    chance = 0.0
                else:
                    chance = 0.75 * wrong * noses.misnamed[t, k, said[t]]
                each *= chance + missed * clean[t]
            total += LEVEL_SHARES[x] * each
        weight.append(prior.shares[k] * total)
    taint = 0.0
    for j in range(compounds):
        each = 1.0
        for t in range(people):
            noticed = TAINT_NOTICED * at_three[t, j, 0]
            says = {j: 1 - TAINT_UNNAMED, SOMETHING: TAINT_UNNAMED}.get(int(said[t]), 0.0)
            each *= noticed * says + (1 - noticed) * clean[t]
        taint += each / compounds
    weight.append(prior.unlisted * taint)
    return np.array(weight) / sum(weight)


@pytest.mark.parametrize("said", list(product((NOTHING, SOMETHING, 0, 2), repeat=4))[::17])
def test_the_chances_are_those_of_plain_loops(said):
    noses = noses_of(THRESHOLDS, calls=[0.02, 0.1, 0.05, 0.2])
    found = chances_after(likelihoods(noses, words(*said)), PRIOR)
    assert found == pytest.approx(brute_chances(noses, words(*said), PRIOR), abs=1e-12)
    assert found.sum() == pytest.approx(1)


def test_the_level_is_integrated_outside_the_product():
    """A call says that the level is high, where silences are rare: taken one by one they clash less."""
    noses = noses_of(np.full((3, 1), 0.5))
    prior = Prior(np.array([0.3]), 0.0)
    likely = likelihoods(noses, words(0, NOTHING, NOTHING))
    apart = np.prod((likely.there[:, 0] * LEVEL_SHARES).sum(axis=1))
    naive = 0.3 * apart / (0.3 * apart + 0.7 * likely.clean.prod())
    together = chances_after(likely, prior)[1]
    assert together < naive - 0.02


def test_who_never_had_a_glass_of_it_moves_nothing():
    tested = np.ones((4, 3), bool)
    tested[3] = False
    noses = noses_of(THRESHOLDS, tested=tested)
    for word in (NOTHING, 0):
        likely = likelihoods(noses, words(0, NOTHING, 0, word))
        with_it, without = chances_after(likely, PRIOR), chances_after(likely.of([0, 1, 2]), PRIOR)
        assert with_it == pytest.approx(without, abs=1e-12)


def test_the_order_of_tasters_means_nothing():
    noses = noses_of(THRESHOLDS)
    said = words(0, NOTHING, 1, SOMETHING)
    turned = [2, 0, 3, 1]
    first = weigh(noses, said, PRIOR).chances
    assert weigh(noses.of(turned), said[turned], PRIOR).chances == pytest.approx(first, abs=1e-12)


def test_the_range_holds_the_chance_and_widens_with_what_we_do_not_know():
    said = words(0, NOTHING, 0, NOTHING)
    sure = weigh(noses_of(THRESHOLDS, spread=0.05), said, PRIOR)
    unsure = weigh(noses_of(THRESHOLDS, spread=1.5), said, PRIOR)
    for found in (sure, unsure):
        low, high = found.limits([1])
        assert low <= found.chances[1] <= high
    assert np.subtract(*unsure.limits([1])[::-1]) > np.subtract(*sure.limits([1])[::-1])


def test_the_mean_of_the_draws_is_the_chance_itself():
    """Draws weigh as well as they explain the words, so that their mean is no other answer."""
    noses = noses_of(THRESHOLDS, spread=0.4, draws=60_000)
    found = weigh(noses, words(0, NOTHING, 0, NOTHING), PRIOR, draws=60_000)
    assert found.weights @ found.draws[:, 1] == pytest.approx(found.chances[1], abs=0.01)


def test_talk_takes_from_every_word():
    assert power_after_talk(1) == 1
    assert power_after_talk(5) == pytest.approx(1 / 1.4)
    noses, said = noses_of(THRESHOLDS), words(0, 0, 0, NOTHING)
    blind = weigh(noses, said, PRIOR).chances[1]
    talked = weigh(noses, said, PRIOR, power_after_talk(4)).chances[1]
    assert PRIOR.shares[0] < talked < blind


def test_callers_who_contradict_one_another_leave_both_open():
    noses = noses_of(np.full((2, 3), -0.5))
    found = weigh(noses, words(0, 1), Prior(np.full(3, 0.05), 0.02)).chances
    assert found[1] == pytest.approx(found[2], rel=1e-9)
    assert found[1] < 0.6


@pytest.mark.parametrize(
    ("shares", "unlisted"), [([0.6, 0.5], 0.0), ([0.1, -0.1], 0.0), ([0.5, 0.4], 0.1)]
)
def test_shares_that_leave_nothing_for_a_sound_beer_are_refused(shares, unlisted):
    with pytest.raises(ValueError, match="sum to less than 1"):
        Prior(np.array(shares), unlisted)
