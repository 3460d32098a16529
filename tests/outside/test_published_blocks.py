"""Balanced incomplete blocks and ascending series, compared with what is printed of them."""

import sys
from collections import Counter
from decimal import Decimal
from itertools import combinations, pairwise
from pathlib import Path

import pytest

from seatworthy.sessions.blocks import Item, Taster, share_out
from seatworthy.sessions.designs import balanced_blocks, pair_counts
from seatworthy.sessions.draw import Draw
from seatworthy.sessions.plan import Past
from seatworthy.sessions.series import ascending

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "sessions"))
from asked import blank, laid_out, roomy, seats_of

# Things v, size k, blocks b, how often each thing stands r, how often each pair lambda; the index
# of plans in Cochran and Cox, Experimental Designs, chapter 11, from memory.
PRINTED = [
    (4, 2, 6, 3, 1),
    (5, 2, 10, 4, 1),
    (6, 3, 10, 5, 2),
    (6, 4, 15, 10, 6),
    (7, 3, 7, 3, 1),
    (7, 4, 7, 4, 2),
    (8, 4, 14, 7, 3),
    (9, 3, 12, 4, 1),
    (9, 6, 12, 8, 5),
    (11, 5, 11, 5, 2),
    (11, 6, 11, 6, 3),
    (13, 3, 26, 6, 1),
    (13, 4, 13, 4, 1),
    (15, 7, 15, 7, 3),
    (19, 9, 19, 9, 4),
    (21, 5, 21, 5, 1),
    (25, 5, 30, 6, 1),
]


@pytest.mark.parametrize(("v", "k", "b", "r", "together"), PRINTED)
def test_the_printed_counts_obey_the_two_equations_of_every_balanced_design(v, k, b, r, together):
    """Both b k = v r and lambda (v - 1) = r (k - 1), and Fisher's b of at least v; arithmetic."""
    assert (b * k, together * (v - 1)) == (v * r, r * (k - 1))
    assert b >= v


@pytest.mark.parametrize(("v", "k", "b", "r", "together"), PRINTED)
def test_blocks_have_the_printed_counts(v, k, b, r, together):
    blocks = balanced_blocks(v, k)
    assert len(blocks) == b
    assert set(Counter(thing for block in blocks for thing in block).values()) == {r}
    found = pair_counts(blocks)
    assert {found[pair] for pair in combinations(range(v), 2)} == {together}


@pytest.mark.parametrize(("v", "k", "b", "r", "together"), PRINTED)
def test_a_panel_of_as_many_people_as_blocks_is_served_the_printed_counts(v, k, b, r, together):
    people = [Taster(f"p{number}") for number in range(b)]
    blocks = share_out([Item(f"c{n}") for n in range(v)], people, k, Past(), Draw(1))
    found = pair_counts(blocks)
    assert set(Counter(thing for block in blocks for thing in block).values()) == {r}
    assert {found[pair] for pair in combinations(range(v), 2)} == {together}


@pytest.mark.parametrize(("v", "k", "meet"), [(7, 3, 1), (7, 4, 2), (11, 5, 2), (13, 4, 1), (21, 5, 1)])  # fmt: skip
def test_two_blocks_of_a_symmetric_design_meet_in_lambda_things(v, k, meet):
    """With as many blocks as things any two blocks meet in lambda things; Bose (1939), from memory."""
    pairs = combinations(balanced_blocks(v, k), 2)
    assert {len({*one} & {*other}) for one, other in pairs} == {meet}


@pytest.mark.parametrize(("v", "k", "b", "people"), [(10, 4, 15, 15), (10, 5, 18, 18), (10, 3, 30, 30)])  # fmt: skip
def test_the_search_finds_a_printed_design_that_is_not_built_in(v, k, b, people):
    """Cochran and Cox print 10 things in 15, 18 and 30 blocks, with lambda 2, 4 and 2; memory."""
    assert balanced_blocks(v, k) == ()
    tasters = [Taster(f"p{number}") for number in range(people)]
    blocks = share_out([Item(f"c{n}") for n in range(v)], tasters, k, Past(), Draw(3))
    found = pair_counts(blocks)
    assert {found[pair] for pair in combinations(range(v), 2)} == {b * k * (k - 1) // (v * (v - 1))}


def test_an_ascending_series_is_served_as_in_astm_e679():
    """Six sets of three, one glass spiked, each step stronger by one ratio; from memory."""
    samples = (*ascending("dms", Decimal("0.25"), Decimal(2), 6, "3afc"), blank(0))
    plan = laid_out(roomy(samples=samples))
    level = {sample.mark: sample.level for sample in plan.samples}
    for sets in seats_of(plan).values():
        assert [sum(one.mark != "G" for one in glass.glasses) for glass in sets] == [1] * 6
        assert [len(glass.glasses) for glass in sets] == [3] * 6
        assert {level[b.mark] / level[a.mark] for a, b in pairwise(sets)} == {Decimal(2)}
