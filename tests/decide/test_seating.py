"""Who should sit: found exactly, equal to trying every panel."""

from itertools import combinations

import numpy as np
import pytest

from seatworthy.decide import seating, seating_search
from seatworthy.decide.covering import smallest_cover
from seatworthy.decide.seating import (
    Candidates,
    Needs,
    best_panel,
    missed_by,
    smallest_panel,
)


def one_by_one(candidates, needs, size, limit=1.0):
    """The best panel of a size, every one tried; None for none."""
    asked = np.minimum(needs.people_per_item, candidates.meets.sum(axis=0))
    found = []
    for panel in combinations(range(len(candidates.is_other)), size):
        own = list(panel)
        if candidates.is_other[own].sum() < needs.from_others:
            continue
        if (candidates.meets[own].sum(axis=0) < asked).any():
            continue
        missed = missed_by(candidates, own, needs.callers).round(12)
        if (missed <= limit).all():
            found.append((missed.max(initial=0.0), missed.sum().round(10), panel))
    return min(found)[2] if found else None


def smallest_one_by_one(candidates, needs):
    if (candidates.meets.sum(axis=0) < needs.people_per_item).any():
        return None
    for size in range(max(needs.quorum, 1), len(candidates.is_other) + 1):
        found = one_by_one(candidates, needs, size, needs.limit)
        if found is not None:
            return found
    return None


def invented(seed):
    """A random case, some with a group, some with many alike, some that nobody is counted on for."""
    rng = np.random.default_rng(seed)
    people, compounds = rng.integers(2, 11), rng.integers(1, 7)
    named = rng.beta(1.5, 1, (people, compounds)).round(rng.choice([1, 3]))
    named *= rng.random(named.shape) < 0.85
    items = [(k,) for k in range(compounds)]
    if compounds > 2:
        items = [(0, 1), *items[2:]]
    meets = np.array([[row[list(item)].max() > 0.6 for item in items] for row in named])
    needs = Needs(
        callers=int(rng.integers(1, 4)),
        quorum=int(rng.integers(1, 5)),
        from_others=int(rng.integers(0, 3)),
        people_per_item=int(rng.integers(0, 3)),
        limit=float(rng.choice([0.1, 0.3, 0.6, 1.0])),
    )
    candidates = Candidates(named, tuple(items), meets, rng.random(people) < 0.7)
    return candidates, needs, int(rng.integers(1, people + 1))


@pytest.mark.parametrize("block", range(10))
def test_the_optimum_equals_brute_force_on_200_random_cases(block):
    for seed in range(20 * block, 20 * block + 20):
        candidates, needs, size = invented(seed)
        best, smallest = best_panel(candidates, needs, size), smallest_panel(candidates, needs)
        assert (best.people if best else None) == one_by_one(candidates, needs, size), seed
        expected = smallest_one_by_one(candidates, needs)
        assert (smallest.people if smallest else None) == expected, seed
        assert all(found.is_proved for found in (best, smallest) if found)


def test_without_a_good_start_the_same_panels_are_found(monkeypatch):
    """The start only saves time; and where one item is out of reach the sum of the others decides."""
    cases = [invented(seed) for seed in range(300, 340)]
    for candidates, _, _ in cases[::2]:
        candidates.named[:, candidates.items[-1]] = 0.0
    started = [best_panel(*case) for case in cases]
    monkeypatch.setattr(seating, "_tried", lambda *_: iter(()))
    monkeypatch.setattr(seating_search, "_BLOCK", 2)  # else all of a small case is one block
    for case, found in zip(cases, started, strict=True):
        again = best_panel(*case)
        assert (again.people if again else None) == (found.people if found else None)
        assert (again.people if again else None) == one_by_one(*case)


def test_the_random_cases_are_of_all_kinds():
    found = [
        (best_panel(*invented(seed)), smallest_panel(*invented(seed)[:2])) for seed in range(60)
    ]
    assert {best is None for best, _ in found} == {True, False}
    assert {smallest is None for _, smallest in found} == {True, False}
    assert len({len(smallest.people) for _, smallest in found if smallest}) > 2


@pytest.mark.parametrize("seed", range(40))
def test_the_integer_programme_finds_the_smallest_cover(seed):
    candidates, needs, _ = invented(1000 + seed)
    asked = {
        "people_per_item": needs.people_per_item,
        "quorum": needs.quorum,
        "from_others": needs.from_others,
    }
    people = range(len(candidates.is_other))
    sizes = [
        size
        for size in range(len(people) + 1)
        for panel in combinations(people, size)
        if size >= needs.quorum
        and candidates.is_other[list(panel)].sum() >= needs.from_others
        and (candidates.meets[list(panel)].sum(axis=0) >= needs.people_per_item).all()
    ]
    found = smallest_cover(candidates.meets, candidates.is_other, **asked)
    assert found == min(sizes, default=None)


def alike(people=6, chance=0.8):
    named = np.full((people, 2), chance)
    return Candidates(named, ((0,), (1,)), named > 0, np.ones(people, bool))


def test_of_people_alike_the_first_sit():
    assert best_panel(alike(), Needs(2), 3).people == (0, 1, 2)


def test_the_smallest_panel_is_no_larger_than_it_must_be():
    # Five at .8 under a rule of two miss .00672, four .0272.
    assert len(smallest_panel(alike(), Needs(2, limit=0.0067)).people) == 6
    assert len(smallest_panel(alike(), Needs(2, limit=0.0068)).people) == 5
    assert len(smallest_panel(alike(), Needs(2, limit=0.0273)).people) == 4


def test_a_limit_that_all_together_miss_is_out_of_reach():
    assert smallest_panel(alike(), Needs(2, limit=0.0001)) is None


def test_a_quorum_nobody_can_fill_is_out_of_reach():
    assert smallest_panel(alike(3), Needs(1, quorum=4)) is None
    assert best_panel(alike(3), Needs(1), 4) is None


def test_independence_goes_before_the_better_nose():
    named = np.array([[0.95], [0.95], [0.5], [0.5]])
    crew = np.array([False, False, True, True])
    candidates = Candidates(named, ((0,),), named > 0, crew)
    assert best_panel(candidates, Needs(1, from_others=0), 2).people == (0, 1)
    assert best_panel(candidates, Needs(1, from_others=2), 2).people == (2, 3)
    assert best_panel(candidates, Needs(1, from_others=3), 3) is None


def test_without_critical_compounds_the_quorum_alone_counts():
    candidates = Candidates(np.ones((4, 1)), (), np.ones((4, 0), bool), np.ones(4, bool))
    assert smallest_panel(candidates, Needs(2, quorum=3)).people == (0, 1, 2)
    assert best_panel(candidates, Needs(2), 2).worst == 0


def test_nobody_makes_no_panel():
    nobody = Candidates(np.ones((0, 1)), ((0,),), np.ones((0, 1), bool), np.ones(0, bool))
    assert smallest_panel(nobody, Needs(1)) is None
    assert best_panel(nobody, Needs(1), 1) is None


def test_a_search_that_is_ended_says_so():
    rng = np.random.default_rng(1)
    named = rng.random((14, 5))
    candidates = Candidates(named, tuple((k,) for k in range(5)), named > 0.5, named[:, 0] > 0)
    found = best_panel(candidates, Needs(2), 6, most=20)
    assert found.is_proved is False
    assert len(found.people) == 6
    assert best_panel(candidates, Needs(2), 6).worst <= found.worst
