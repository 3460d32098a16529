"""What a panel would miss."""

from itertools import combinations, product

import numpy as np
import pytest
from known_noses import noses_of

from seatworthy.decide.clean_beer import agreeing, clean_beer
from seatworthy.decide.missing import (
    best_of_items,
    call_counts,
    fewer_than,
    panel_misses,
    with_one_more,
)
from seatworthy.decide.noses import named_draws, named_mean

LEVELS = (1.0, 2.0, 3.0, 5.0)
AT_3 = 2


def misses(noses, items=None, callers=2, counted=None):
    everything = noses.is_tested if counted is None else np.asarray(counted)
    items = items or [(k,) for k in range(len(noses.compounds))]
    return panel_misses(noses, everything, items, callers, LEVELS, AT_3)


def by_hand(chances, callers):
    """Every way in which people may call, added up."""
    return sum(
        np.prod([p if said else 1 - p for p, said in zip(chances, ways, strict=True)])
        for ways in product((0, 1), repeat=len(chances))
        if sum(ways) < callers
    )


@pytest.mark.parametrize("callers", [1, 2, 3, 4])
def test_fewer_than_adds_up_every_way_of_calling(callers):
    chances = [0.1, 0.55, 0.9, 0.72]
    assert fewer_than(chances, callers) == pytest.approx(by_hand(chances, callers), abs=1e-14)


def test_nobody_never_calls():
    assert fewer_than(np.empty((0, 3)), 1).tolist() == [1, 1, 1]


def test_fewer_people_than_callers_call_never():
    assert fewer_than([1.0, 1.0], 3) == 1.0


def test_sure_people_never_miss():
    assert fewer_than([1.0, 1.0, 0.3], 2) == 0.0


def test_counts_of_calls_add_up_to_one_and_to_their_mean():
    chances = np.array([0.2, 0.5, 0.9])
    counts = call_counts(chances)
    assert counts.sum() == pytest.approx(1, abs=1e-14)
    assert counts @ np.arange(4) == pytest.approx(chances.sum(), abs=1e-14)


def test_a_panel_of_equals_misses_as_the_closed_form_says():
    noses = noses_of(np.zeros((5, 1)), calls=0.0)
    p = named_mean(noses, 3)[0, 0, 0]
    expected = (1 - p) ** 5 + 5 * p * (1 - p) ** 4
    assert misses(noses).mean[0, AT_3] == pytest.approx(expected, abs=1e-12)


def test_stronger_beer_slips_past_less_often():
    found = misses(noses_of([[0.5, 1.0], [0.0, 2.0], [-1.0, 0.5]], spread=0.6))
    assert (np.diff(found.mean, axis=1) < 0).all()


def test_another_person_never_makes_it_worse():
    noses = noses_of([[0.5], [1.0], [2.5]], spread=0.5)
    two = misses(noses.of([0, 1])).mean
    assert (misses(noses).mean <= two + 1e-12).all()


def test_the_mean_is_that_of_the_draws_where_people_are_independent():
    """Linear in each person's chance: the mean over draws comes near the exact one."""
    rng = np.random.default_rng(3)
    noses = noses_of(rng.normal(0.8, 1, (4, 3)), spread=0.7, draws=4000, calls=0.0)
    drawn = fewer_than(np.moveaxis(named_draws(noses, LEVELS), 1, 0), 2).mean(axis=0)
    assert misses(noses).mean == pytest.approx(drawn, abs=0.02)


def test_the_range_holds_the_mean_and_closes_where_all_is_known():
    wide = misses(noses_of(np.full((3, 2), 1.2), spread=0.8))
    assert (wide.low <= wide.mean).all()
    assert (wide.mean <= wide.high).all()
    assert (wide.high - wide.low)[:, AT_3].min() > 0.1
    sure = misses(noses_of(np.full((3, 2), 1.2)))
    assert (sure.high - sure.low).max() < 0.02


def test_somebody_not_tested_is_not_counted_on():
    tested = [[True], [True], [False]]
    noses = noses_of(np.zeros((3, 1)), tested=tested)
    found = misses(noses)
    assert found.mean[0] == pytest.approx(misses(noses.of([0, 1])).mean[0])
    assert found.counted.tolist() == [2]


def test_somebody_who_does_not_smell_it_is_not_counted_on():
    noses = noses_of(np.zeros((3, 1)))
    found = misses(noses, counted=[[True], [True], [False]])
    assert found.mean[0] == pytest.approx(misses(noses.of([0, 1])).mean[0])


def test_where_nobody_smells_it_everything_slips_past():
    found = misses(noses_of(np.zeros((3, 1))), counted=np.zeros((3, 1), bool))
    assert found.mean[0].tolist() == [1, 1, 1, 1]
    assert found.away.tolist() == [-1]


def test_of_a_compound_nobody_was_tested_on_nothing_is_said():
    noses = noses_of(np.zeros((3, 2)), tested=[[True, False]] * 3)
    found = misses(noses)
    assert np.isnan(found.mean[1]).all()
    assert np.isnan(found.low[1]).all()
    assert np.isnan(found.without[1])
    assert not np.isnan(found.mean[0]).any()


def test_of_a_group_the_compound_that_is_missed_least_counts():
    noses = noses_of([[3.0, 0.0], [3.0, 0.0]])
    found = misses(noses, items=[(0, 1)])
    assert found.member.tolist() == [1]
    assert found.mean[0] == pytest.approx(misses(noses).mean[1])


def test_of_a_group_an_untested_compound_does_not_count():
    noses = noses_of([[0.0, 3.0], [0.0, 3.0]], tested=[[False, True]] * 2)
    assert misses(noses, items=[(0, 1)]).member.tolist() == [1]


def test_the_strongest_nose_is_the_one_whose_absence_costs_most():
    found = misses(noses_of([[2.0], [-2.0], [1.0]]))
    assert found.away.tolist() == [1]
    assert found.without[0] == pytest.approx(misses(noses_of([[2.0], [1.0]])).mean[0, AT_3])


def test_one_more_person_is_counted_as_if_they_sat():
    noses = noses_of([[2.0, 1.0], [1.0, 2.0], [0.0, 0.0], [3.0, 1.0]])
    named = named_mean(noses, 3)[..., 0]
    found = with_one_more(named[:2], named[2:], [(0,), (1,)], 2)
    for row, more in enumerate((2, 3)):
        assert found[row] == pytest.approx(fewer_than(named[[0, 1, more]], 2))


def test_nobody_more_changes_nothing():
    assert with_one_more(np.ones((2, 1)), np.empty((0, 1)), [(0,)], 2).shape == (0, 1)


def test_the_best_of_an_item_is_its_least():
    assert best_of_items(np.array([0.3, 0.1, 0.7]), [(0, 1), (2,)]).tolist() == [0.1, 0.7]


def test_false_calls_of_a_group_agree_as_counted_by_hand():
    shares = np.array([0.5, 0.3, 0.2])
    for m in range(5):
        apart = sum(
            np.prod([shares[name] for name in ways])
            for ways in product(range(3), repeat=m)
            if max((ways.count(name) for name in range(3)), default=0) < 2
        )
        assert agreeing(shares, 2, 4)[m] == pytest.approx(1 - apart, abs=1e-12)


def test_with_a_rule_of_one_any_call_is_a_fault():
    assert agreeing([0.6, 0.4], 1, 3).tolist() == pytest.approx([0, 1, 1, 1])


def test_a_clean_beer_is_called_by_the_rates_alone():
    noses = noses_of(np.zeros((4, 2)), calls=[0.1, 0.2, 0.05, 0.3])
    found = clean_beer(noses, 2)
    rates = noses.calls
    assert found.anything.mean == pytest.approx(1 - by_hand(rates, 2), abs=1e-12)
    shares = np.append(noses.guessed, np.full(10, (1 - noses.guessed.sum()) / 10))
    same = sum(rates[i] * rates[j] * (shares**2).sum() for i, j in combinations(range(4), 2))
    assert found.same.mean == pytest.approx(same, rel=0.05)  # pairs alone; three calls are rare
    assert found.same.low <= found.same.mean <= found.same.high


def test_people_who_never_call_find_a_clean_beer_clean():
    found = clean_beer(noses_of(np.zeros((4, 2)), calls=0.0), 2)
    assert (found.same.high, found.anything.high) == (0, 0)
