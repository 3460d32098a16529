from collections import Counter
from itertools import combinations

import pytest
from asked import unhurried
from hypothesis import given
from hypothesis import strategies as st

from seatworthy.sessions.blocks import Item, Taster, share_out
from seatworthy.sessions.designs import pair_counts
from seatworthy.sessions.draw import Draw
from seatworthy.sessions.plan import Past

NO_PAST = Past()


def items(count, places=1):
    return [Item(f"c{number}", places) for number in range(count)]


def tasters(count, refused=()):
    return [Taster(f"p{number}", frozenset(refused)) for number in range(count)]


def shared(things, people, size, past=NO_PAST, seed=3):
    return share_out(items(things), tasters(people), size, past, Draw(seed))


def spread(counts):
    return max(counts) - min(counts)


def pairs(blocks, things):
    found = pair_counts(blocks)
    return [found[pair] for pair in combinations(range(things), 2)]


@pytest.mark.parametrize(("things", "size", "people"), [(7, 3, 7), (9, 3, 12), (13, 4, 26), (6, 3, 10), (11, 5, 11)])  # fmt: skip
def test_a_panel_as_large_as_a_known_design_gets_it(things, size, people):
    assert spread(pairs(shared(things, people, size), things)) == 0


@pytest.mark.parametrize(("things", "size", "people"), [(12, 6, 12), (10, 5, 18), (10, 4, 15), (10, 3, 30), (10, 5, 12)])  # fmt: skip
def test_where_no_design_is_known_a_search_finds_pairs_even_within_one(things, size, people):
    assert spread(pairs(shared(things, people, size), things)) <= 1


@unhurried
@given(st.integers(1, 14), st.integers(2, 12), st.data(), st.integers(0, 2**31))
def test_each_item_comes_to_as_many_people_as_another_or_to_one_more(people, things, data, seed):
    size = data.draw(st.integers(1, things))
    blocks = shared(things, people, size, seed=seed)
    found = Counter(item for block in blocks for item in block)
    assert spread([found[item] for item in range(things)]) <= 1
    assert all(len(set(block)) == size for block in blocks)


@unhurried
@given(st.lists(st.sets(st.integers(0, 7)), min_size=1, max_size=9), st.integers(0, 2**31))
def test_nobody_gets_what_they_refuse_and_no_place_stays_empty_that_could_be_filled(refusals, seed):
    people = [
        Taster(f"p{number}", frozenset(f"c{item}" for item in refused))
        for number, refused in enumerate(refusals)
    ]
    blocks = share_out(items(8), people, 4, NO_PAST, Draw(seed))
    for block, refused in zip(blocks, refusals, strict=True):
        assert not refused & set(block)
        assert len(block) == min(4, 8 - len(refused))


@pytest.mark.parametrize("seed", range(20))
def test_what_one_person_refuses_comes_to_as_many_of_the_others(seed):
    """Four people, four items, two each: whoever refuses two of them takes the other two."""
    people = [*tasters(3), Taster("p3", frozenset({"c0", "c1"}))]
    blocks = share_out(items(4), people, 2, NO_PAST, Draw(seed))
    assert Counter(item for block in blocks for item in block) == dict.fromkeys(range(4), 2)


@unhurried
@given(st.lists(st.integers(1, 3), min_size=2, max_size=8), st.data(), st.integers(0, 2**31))
def test_items_of_several_places_fill_a_flight_as_full_as_they_can(places, data, seed):
    size = data.draw(st.integers(max(places), sum(places)))
    wanted = [Item(f"c{number}", place) for number, place in enumerate(places)]
    sums = {0}
    for place in places:
        sums |= {total + place for total in sums}
    for block in share_out(wanted, tasters(5), size, NO_PAST, Draw(seed)):
        assert sum(places[item] for item in block) == max(s for s in sums if s <= size)


def test_pairs_of_glasses_come_to_as_many_people_as_another_or_to_one_more():
    blocks = share_out(items(6, places=2), tasters(7), 4, NO_PAST, Draw(1))
    found = Counter(item for block in blocks for item in block)
    assert spread([found[item] for item in range(6)]) <= 1


def test_who_has_had_little_of_a_compound_gets_it():
    """Two people share four compounds; each has had two of them."""
    past = Past(served={("p0", "c0"): 3, ("p0", "c1"): 3, ("p1", "c2"): 3, ("p1", "c3"): 3})
    for seed in range(5):
        assert shared(4, 2, 2, past, seed) == ((2, 3), (0, 1))


def test_a_pair_somebody_has_had_together_is_parted():
    """Two people share four compounds, and each has had all pairs but those of one split."""
    had = [("c0", "c1"), ("c2", "c3"), ("c0", "c2"), ("c1", "c3")]
    past = Past(together={(person, *pair): 2 for person in ("p0", "p1") for pair in had})
    for seed in range(5):
        assert set(shared(4, 2, 2, past, seed)) == {(0, 3), (1, 2)}


def test_the_past_does_not_make_a_session_less_even():
    past = Past(served={(f"p{n}", f"c{i}"): n * i % 5 for n in range(7) for i in range(7)})
    assert spread(pairs(shared(7, 7, 3, past), 7)) == 0


def test_whole_blocks_change_hands_so_that_the_past_evens_out():
    served = {(f"p{n}", f"c{i}"): n * i % 5 for n in range(7) for i in range(7)}
    had = [
        sum(served[f"p{n}", f"c{i}"] for n, block in enumerate(blocks) for i in block)
        for blocks in (shared(7, 7, 3, Past(served=served)), shared(7, 7, 3))
    ]
    assert had[0] < had[1]


def test_the_same_seed_shares_out_the_same():
    assert shared(12, 9, 5, seed=4) == shared(12, 9, 5, seed=4)


def test_a_seed_shares_out_this_in_every_version():
    assert shared(5, 3, 2, seed=2026) == ((0, 3), (0, 1), (2, 4))


def test_one_person_alone_gets_a_flight():
    assert len(shared(5, 1, 3)[0]) == 3


def test_nobody_gets_nothing():
    assert shared(5, 0, 3) == ()
