from collections import Counter
from decimal import Decimal

from asked import PEOPLE, blank, laid_out, orders_of, people_with, sitting, spiked, unhurried, wish
from hypothesis import given
from hypothesis import strategies as st

from seatworthy.sessions.codes import CODES

KEYS = tuple(PEOPLE)
LEVELS = st.sampled_from(["2", "2.5", "3", "4"])


@st.composite
def wishes(draw):
    """Anything sensible: up to eight glasses, one to three sittings, nought to four spares."""
    kinds = st.tuples(st.sampled_from(["diacetyl", "dms", "acetaldehyde"]), LEVELS)
    chosen = draw(st.lists(kinds, unique=True, max_size=3))
    samples = [spiked(*kind, draw(st.integers(1, 2))) for kind in chosen]
    samples.append(blank(draw(st.integers(1, 2))))
    people = draw(st.lists(st.sampled_from(KEYS), unique=True, min_size=1))
    groups = draw(st.integers(1, min(3, len(people))))
    sittings = [sitting(f"Group {n}", people[n::groups], 9 + n) for n in range(groups)]
    return wish(
        samples=tuple(draw(st.permutations(samples))),
        sittings=tuple(sittings),
        spares=draw(st.integers(0, 4)),
        seed=draw(st.integers(0, 2**31 - 1)),
        volume_ml=Decimal(draw(st.integers(5, 40))),
        leaves_out=True,
    )


@unhurried
@given(wishes())
def test_everybody_gets_every_sample_the_right_number_of_times(asked):
    plan = laid_out(asked)
    wanted = {sample.mark: sample.glasses for sample in plan.samples}
    for order in orders_of(plan):
        assert Counter(glass.mark for glass in order) == wanted


@unhurried
@given(wishes())
def test_everybody_who_comes_has_one_seat(asked):
    seated = [seat.person_id for sitting in laid_out(asked).sittings for seat in sitting.seats]
    assert seated == [person for sitting in asked.sittings for person in sitting.people]


@unhurried
@given(wishes(), st.sets(st.sampled_from(CODES), max_size=500))
def test_codes_are_unique_over_the_whole_plan_and_none_is_taken(asked, taken):
    codes = [glass.code for order in orders_of(laid_out(asked, taken=taken)) for glass in order]
    assert len(set(codes) - taken) == len(codes)


@unhurried
@given(wishes(), st.sets(st.sampled_from(["diacetyl", "dms"])))
def test_places_are_numbered_from_one_also_where_glasses_are_left_out(asked, refused):
    for order in orders_of(laid_out(asked, people_with(ada=refused))):
        assert [glass.position for glass in order] == list(range(1, len(order) + 1))


@unhurried
@given(wishes(), st.sets(st.sampled_from(["diacetyl", "dms"]), min_size=1))
def test_nobody_gets_what_they_are_not_to_be_served(asked, refused):
    plan = laid_out(asked, people_with(**dict.fromkeys(KEYS, refused)))
    gone = {sample.mark for sample in plan.samples if sample.compound in refused}
    seats = [seat for sitting in plan.sittings for seat in sitting.seats]
    assert not any(glass.mark in gone for seat in seats for glass in seat.glasses)


@unhurried
@given(wishes())
def test_the_same_seed_gives_the_same_plan(asked):
    assert laid_out(asked) == laid_out(asked)


@unhurried
@given(st.integers(0, 2**31 - 1), st.integers(0, 2**31 - 1))
def test_another_seed_gives_another_plan(one, other):
    plans = [laid_out(wish(seed=seed)).sittings for seed in (one, other)]
    assert (plans[0] == plans[1]) == (one == other)


@unhurried
@given(wishes())
def test_a_spat_plan_never_counts_more_alcohol_than_it_holds(asked):
    plan = laid_out(asked)
    assert plan.alcohol_g <= plan.swallowed_g
