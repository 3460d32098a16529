"""What is lacking, of which kind, and what it costs."""

from dataclasses import replace

import numpy as np
import pytest
from panel_of_answers import NOTHING, RIGHT, WRONG, ground_of

from seatworthy.decide.gaps import DUE, OTHER, Kind, find_gaps


def answers(person, compound, right=0, wrong=0, nothing=0):
    return [
        (person, compound, outcome)
        for outcome, number in ((RIGHT, right), (WRONG, wrong), (NOTHING, nothing))
        for _ in range(number)
    ]


@pytest.mark.parametrize(
    ("own", "kind"),
    [
        (answers(0, 0, wrong=9), Kind.MISNAMES),
        (answers(0, 0, nothing=9), Kind.WEAK),
        (answers(0, 0, right=2, nothing=1), Kind.TOO_LITTLE),
        ([], Kind.UNTESTED),
    ],
)
def test_each_gap_is_told_apart_by_what_the_answers_were(own, kind):
    assert find_gaps(ground_of(own, 1, 1)).kind.item() == kind


def test_who_calls_things_in_plain_beer_guesses():
    ground = ground_of(answers(0, 0, right=3, nothing=1), 1, 1)
    assert find_gaps(ground).kind.item() == Kind.TOO_LITTLE
    assert find_gaps(replace(ground, guesses=np.array([0.9]))).kind.item() == Kind.GUESSES


@pytest.mark.parametrize(("misses", "kind"), [(3, Kind.TOO_LITTLE), (4, Kind.WEAK)])
def test_fewer_than_four_glasses_are_too_little_evidence_whatever_they_say(misses, kind):
    assert find_gaps(ground_of(answers(0, 0, nothing=misses), 1, 1)).kind.item() == kind


def test_the_insensitive_are_a_gap_that_no_glass_mends():
    ground = ground_of(answers(0, 0, nothing=9), 1, 1, is_insensitive=np.array([[True]]))
    gaps = find_gaps(ground)
    assert gaps.kind.item() == Kind.INSENSITIVE
    assert gaps.cost.item() > 0
    assert gaps.weight.item() == 0
    assert gaps.ranked.tolist() == [[0, 0]]


def test_what_somebody_is_not_served_weighs_nothing():
    ground = ground_of([], 1, 1, may_taste=np.array([[False]]))
    gaps = find_gaps(ground)
    assert gaps.kind.item() == Kind.NOT_SERVED
    assert gaps.weight.item() == 0


def test_a_met_that_is_due_soon_is_a_gap_and_one_that_stands_hardly():
    ground = ground_of(answers(0, 0, right=9), 1, 1, is_met=np.array([[True]]))
    due = replace(ground, days_left=np.array([[30.0]]))
    later = replace(ground, days_left=np.array([[31.0]]))
    assert find_gaps(due).cost.item() == pytest.approx(DUE * 1.5)  # one of two noses is missing
    assert find_gaps(later).cost.item() < 0.01


def test_critical_before_other_and_few_noses_before_many():
    ground = ground_of(answers(0, 0, right=1) + answers(0, 1, right=1), 1, 2)
    alike = find_gaps(ground).cost[0]
    assert alike[0] == pytest.approx(alike[1], rel=0.01)
    other = find_gaps(replace(ground, items=((0,),))).cost[0]
    assert other[1] == pytest.approx(
        OTHER * alike[1] / 2, rel=0.01
    )  # nobody covers the critical one: twice
    ground = ground_of(answers(2, 0, right=1) + answers(2, 1, right=1), 3, 2)
    is_met = np.array([[True, False], [True, False], [False, False]])
    cost = find_gaps(replace(ground, is_met=is_met)).cost[2]
    assert cost[1] == pytest.approx(2 * cost[0], rel=0.01)


def test_a_critical_compound_that_nobody_had_costs_most():
    ground = ground_of(answers(0, 0, right=1), 1, 2)
    cost = find_gaps(ground).cost[0]
    assert cost[1] > cost[0]


def test_a_group_of_which_one_is_met_asks_for_no_more():
    ground = ground_of([], 1, 2, items=((0, 1),))
    is_met = np.array([[True, False]])
    assert find_gaps(ground).cost[0, 1] > find_gaps(replace(ground, is_met=is_met)).cost[0, 1] * 5


def test_what_is_mixed_up_costs_more_either_way():
    ground = ground_of(answers(0, 0, right=2) + answers(0, 1, right=2), 1, 2)
    taken_for = np.zeros((1, 2, 2))
    taken_for[0, 0, 1] = 0.4
    plain, mixed = find_gaps(ground).cost, find_gaps(replace(ground, taken_for=taken_for)).cost
    assert np.all(mixed > plain)


def test_the_surer_the_cheaper():
    costs = [find_gaps(ground_of(answers(0, 0, right=n), 1, 1)).cost.item() for n in range(1, 8)]
    assert costs == sorted(costs, reverse=True)


def test_gaps_of_some_people_are_those_of_everybody_cut():
    ground = ground_of(answers(1, 0, right=3), 2, 1)
    gaps = find_gaps(ground)
    assert gaps.of(np.array([1])).cost.tolist() == gaps.cost[1:].tolist()


def test_nobody_has_no_gaps():
    assert find_gaps(ground_of([], 0, 2)).ranked.shape == (0, 2)
