"""Expected information against brute force, and the choice of the next step against every choice."""

from itertools import combinations, product

import numpy as np
import pytest
from known_noses import noses_of

from seatworthy.decide.information import counted, expected_information, together
from seatworthy.decide.next_step import GLASS_COST, NEW, best_retaste, next_steps
from seatworthy.decide.said import NOTHING, likelihoods
from seatworthy.decide.states import said_again, states_after, triangle_right
from seatworthy.decide.weighing import Prior, chances_after

THRESHOLDS = np.array([[0.0, 0.5], [1.0, 0.0], [-0.5, 2.0], [0.5, -0.5], [5.0, 0.0]])
PRIOR = Prior(np.array([0.12, 0.05]), 0.02)
SAID = np.array([0, NOTHING, NOTHING])


def weighed(words=SAID):
    noses = noses_of(THRESHOLDS, calls=[0.03, 0.05, 0.1, 0.02, 0.05])
    likely = likelihoods(noses.of(list(range(len(words)))), words)
    return noses, states_after(chances_after(likely, PRIOR), likely, 0)


def brute_bits(chances, outcomes):
    """Sum over every pair of p(y, z) log2 of p(y, z) / (p(y) p(z)), in plain loops."""
    bits = 0.0
    for y in range(len(outcomes)):
        p_y = sum(outcomes[y][z] * chances[z] for z in range(len(chances)))
        for z in range(len(chances)):
            both = outcomes[y][z] * chances[z]
            if both > 0:
                bits += both * np.log2(both / (p_y * chances[z]))
    return bits


@pytest.mark.parametrize("seed", range(25))
def test_expected_information_is_that_of_brute_force(seed):
    rng = np.random.default_rng(seed)
    chances = rng.dirichlet(np.ones(rng.integers(2, 7)))
    outcomes = rng.dirichlet(np.full(rng.integers(2, 9), 0.4), size=len(chances)).T
    assert expected_information(chances, outcomes) == pytest.approx(brute_bits(chances, outcomes))


def test_a_certain_outcome_tells_nothing_and_a_certain_test_tells_all():
    assert expected_information(np.array([0.5, 0.5]), np.ones((1, 2))) == pytest.approx(0)
    assert expected_information(np.array([0.5, 0.5]), np.eye(2)) == pytest.approx(1)
    assert expected_information(np.array([1.0, 0.0]), np.eye(2)) == pytest.approx(0)


def test_counts_of_hits_are_those_of_every_pattern():
    hits = np.array([[0.2, 0.9], [0.5, 0.1], [0.7, 0.3]])
    found = counted(hits)
    expected = np.zeros((4, 2))
    for pattern in product((0, 1), repeat=3):
        chance = np.prod([np.where(s, hits[n], 1 - hits[n]) for n, s in enumerate(pattern)], axis=0)
        expected[sum(pattern)] += chance
    assert found == pytest.approx(expected)


def test_states_keep_the_chances_of_the_weighing():
    noses, states = weighed()
    likely = likelihoods(noses.of([0, 1, 2]), SAID)
    chances = chances_after(likely, PRIOR)
    for place in range(4):
        assert states.chance[states.kind == place].sum() == pytest.approx(chances[place], abs=1e-3)


def test_what_somebody_would_say_sums_to_one():
    noses, states = weighed()
    for words in (None, np.array([0, NOTHING, 1, -2, NOTHING])):
        again = said_again(noses, states, words)
        assert again.min() >= 0
        assert again.sum(axis=1) == pytest.approx(np.ones((5, len(states.chance))))


def test_the_best_retaste_is_the_best_of_every_choice():
    noses, states = weighed()
    again = said_again(noses, states, None)
    best = -np.inf
    for number in (1, 2, 3, 4):
        for people in combinations(range(5), number):
            outcomes = again[people[0]]
            for person in people[1:]:
                outcomes = together(outcomes, again[person])
            worth = brute_bits(*states.by_kind(outcomes)) - GLASS_COST * number
            best = max(best, worth)
    step = best_retaste(again, states)
    assert step.worth == pytest.approx(best)
    assert 4 not in step.people  # whoever doesn't perceive it tells nothing


@pytest.mark.parametrize("kind", ["retaste", "triangle", "laboratory"])
def test_the_outcomes_of_a_step_average_to_the_chance_it_started_from(kind):
    noses, states = weighed()
    words = np.array([0, NOTHING, NOTHING, NEW, NEW])
    step = next(step for step in next_steps(noses, states, words) if step.kind == kind)
    assert sum(o.chance for o in step.outcomes) == pytest.approx(1)
    before = states.chance[states.is_asked].sum()
    assert sum(o.chance * o.after for o in step.outcomes) == pytest.approx(before)
    hits = [o.hits for o in step.outcomes]
    assert hits == sorted(hits, reverse=True)


def test_the_same_nose_tells_less_the_second_time():
    """Whoever missed it is likelier to miss it again than a like nose that has not tasted yet."""
    noses = noses_of(np.array([[0.5], [0.5]]), spread=1.5)
    prior = Prior(np.array([0.3]), 0.02)
    said = np.array([NOTHING])
    likely = likelihoods(noses.of([0]), said)
    states = states_after(chances_after(likely, prior), likely, 0)
    again = said_again(noses.of([0]), states, said)[0]
    fresh = said_again(noses.of([1]), states, None)[0]
    there = states.kind == 1
    assert again[0, there] @ states.chance[there] < fresh[0, there] @ states.chance[there]
    assert expected_information(*states.by_kind(again)) < expected_information(
        *states.by_kind(fresh)
    )


def test_nothing_is_worth_doing_once_it_is_settled():
    noses = noses_of(np.full((4, 1), -2.0), calls=0.01)
    likely = likelihoods(noses, np.full(4, NOTHING))
    states = states_after(chances_after(likely, Prior(np.array([0.01]), 0.001)), likely, 0)
    assert next_steps(noses, states, np.full(4, NOTHING))[0].kind == "nothing"


def test_a_laboratory_is_left_where_nobody_can_tell():
    noses = noses_of(np.full((3, 1), 5.9), tested=np.zeros((3, 1), bool))
    states = states_after(np.array([0.5, 0.5, 0.0]), likelihoods(noses, np.full(3, NOTHING)), 0)
    steps = next_steps(noses, states, np.full(3, NOTHING))
    assert steps[0].kind == "laboratory"
    assert next(s for s in steps if s.kind == "retaste").bits == pytest.approx(0, abs=1e-9)


def test_a_triangle_of_the_untested_is_guessing():
    noses = noses_of(np.zeros((2, 1)), tested=np.zeros((2, 1), bool))
    states = states_after(np.array([0.5, 0.4, 0.1]), likelihoods(noses, np.full(2, NOTHING)), 0)
    assert triangle_right(noses, states) == pytest.approx(1 / 3)


@pytest.mark.parametrize("is_any_fault", [True, False])
@pytest.mark.parametrize("said", [NOTHING, 0])
def test_what_a_step_may_show_averages_to_the_chance_before_it(is_any_fault, said):
    """Also where forty compounds are hardly possible each, and together are most of what may be wrong."""
    noses = noses_of(np.full((3, 40), 0.5), calls=0.05)
    words = np.array([said, NOTHING, NOTHING])
    likely = likelihoods(noses, words)
    chances = chances_after(likely, Prior(np.full(40, 0.002), 0.01))
    states = states_after(chances, likely, 0, is_any_fault=is_any_fault)
    before = 1 - chances[0] if is_any_fault else chances[1]
    for step in next_steps(noses, states, words):
        if step.outcomes:
            assert sum(one.chance for one in step.outcomes) == pytest.approx(1)
            after = sum(one.chance * one.after for one in step.outcomes)
            assert after == pytest.approx(before, rel=1e-9)
