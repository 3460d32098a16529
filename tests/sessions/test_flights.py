from collections import Counter
from dataclasses import replace

import pytest
from asked import (
    PEOPLE,
    blank,
    codes_of,
    faults_of,
    in_sets,
    laid_out,
    marks_of,
    only_fault_of,
    orders_of,
    people_with,
    roomy,
    seats_of,
    shelf_with,
    sitting,
    spiked,
    unhurried,
)
from hypothesis import given
from hypothesis import strategies as st

from seatworthy.sessions.draw import Draw
from seatworthy.sessions.flight_orders import even_orders
from seatworthy.sessions.orders import serving_orders, together
from seatworthy.sessions.plan import Past

KINDS = [(c, level) for c in ("diacetyl", "dms", "acetaldehyde") for level in ("2", "3", "4")]
NINE = tuple(spiked(*kind) for kind in KINDS)


def flights_of(samples, flight, **facts):
    return marks_of(laid_out(roomy(samples=samples, flight=flight), **facts))


def test_everybody_tastes_as_much_as_a_flight_holds():
    plan = laid_out(roomy(samples=(*NINE, blank(2)), flight=5))
    assert {len(order) for order in orders_of(plan)} == {5}


def test_each_spiked_sample_comes_to_as_many_people_as_another():
    """Six people with four of nine samples beside a blank: 24 glasses, two or three each."""
    found = Counter(mark for marks in flights_of((*NINE, blank()), 5).values() for mark in marks)
    assert sorted({count for mark, count in found.items() if mark != "J"}) == [2, 3]
    assert found["J"] == 6


@pytest.mark.parametrize(("flight", "blanks"), [(3, 1), (5, 1), (7, 2), (11, 3)])
def test_a_flight_holds_its_share_of_the_blanks_and_at_least_one(flight, blanks):
    """Three of twelve glasses are blank."""
    for marks in flights_of((*NINE, blank(2), blank()), flight).values():
        assert sum(mark in "JK" for mark in marks) == blanks


def test_two_blanks_take_turns_where_a_flight_holds_one():
    found = Counter(m for marks in flights_of((*NINE, blank(), blank()), 5).values() for m in marks)
    assert (found["J"], found["K"]) == (3, 3)


def test_duplicates_stay_pairs():
    samples = tuple(spiked(*kind, glasses=2) for kind in KINDS)
    for marks in flights_of((*samples, blank()), 5).values():
        counts = Counter(mark for mark in marks if mark != "J")
        assert list(counts.values()) == [2, 2]


def test_a_blank_fills_the_place_that_no_pair_fits_in():
    samples = tuple(spiked(*kind, glasses=2) for kind in KINDS)
    for marks in flights_of((*samples, blank(2)), 6).values():
        assert Counter(marks)["J"] == 2


def test_who_is_not_to_be_served_something_gets_a_full_flight_without_it():
    plan = laid_out(roomy(samples=(*NINE, blank()), flight=5), people_with(bo={"dms"}))
    bo = marks_of(plan)["bo"]
    assert len(bo) == 5
    assert not set("DEF") & set(bo)
    assert plan.left_out == ("Bo Marsh gets no DMS and tastes 5 glasses.",)


@pytest.mark.parametrize(("leaves_out", "faults"), [(False, 1), (True, 0)])
def test_a_flight_that_would_stay_short_is_refused_unless_glasses_may_be_left_out(
    leaves_out, faults
):
    asked = roomy(samples=(*NINE, blank()), flight=8, leaves_out=leaves_out)
    assert len(faults_of(asked, people=people_with(bo={"dms"}))) == faults


def test_a_flight_of_everything_is_no_flight():
    samples = (*NINE, blank())
    assert laid_out(roomy(samples=samples, flight=10)) == laid_out(roomy(samples=samples))


@pytest.mark.parametrize(
    ("flight", "words"), [(1, "1 glass"), (0, "0 glasses"), (11, "11 glasses")]
)
def test_a_flight_holds_two_glasses_and_at_most_everything(flight, words):
    assert only_fault_of(roomy(samples=(*NINE, blank()), flight=flight)) == (
        f"A flight of {words} was asked for: choose 2 to 10, or let everybody taste everything."
    )


def test_a_flight_too_short_for_a_pair_and_a_blank_is_refused():
    samples = (spiked("dms", glasses=2), spiked("diacetyl", glasses=2), blank())
    assert only_fault_of(roomy(samples=samples, flight=2)) == (
        "A flight of 2 glasses is too short for what stays together, a pair or a series, and a "
        "blank: choose at least 3, or let everybody taste everything."
    )


def test_a_flight_too_short_for_a_series_is_refused():
    samples = (*(in_sets("dms", level) for level in "1234"), spiked("diacetyl"), blank())
    assert "choose at least 5" in only_fault_of(roomy(samples=samples, flight=4))


def test_a_series_is_shared_out_whole():
    steps = [in_sets(c, level) for c in ("dms", "diacetyl", "acetaldehyde") for level in "123"]
    for marks in flights_of((*steps, blank(0)), 6).values():
        assert all(run in "".join(marks) for run in ("ABC", "DEF", "GHI") if run[0] in marks)
        assert len(marks) == 6


def test_only_the_glasses_of_a_flight_count_towards_the_limits():
    """Five of ten glasses and the control: half of what everybody would taste, and one glass."""
    samples = (*NINE, blank())
    asked = roomy(samples=samples, flight=5)
    assert laid_out(asked).swallowed_g < laid_out(roomy(samples=samples)).swallowed_g
    assert faults_of(replace(asked, limits=replace(asked.limits, most_glasses=5))) == ()
    assert len(faults_of(replace(asked, limits=replace(asked.limits, most_glasses=4)))) == 1


def test_strong_and_lingering_glasses_come_late_in_a_flight_too():
    shelf = shelf_with(dms={"lingers": True})
    for marks in flights_of((*NINE, blank()), 6, shelf=shelf).values():
        late = [mark in "DEF" for mark in marks]
        assert late == sorted(late)


def test_how_evenly_a_session_is_shared_out_is_noted():
    notes = laid_out(roomy(samples=(*NINE, blank()), flight=4)).notes
    assert (
        "In flights of 4 of 10 glasses or sets each spiked sample comes to 2 of 6 people, and each "
        "two of them stand together in 0 or 1 orders."
    ) in notes


def test_who_has_had_none_of_a_compound_gets_it_first():
    """Two people share four samples; one has had the first compound, the other the second."""
    samples = (*(spiked(*kind) for kind in KINDS if kind[1] == "3"), spiked("dms", "2"), blank())
    past = Past(served={("ada", "dms"): 4, ("bo", "diacetyl"): 4, ("bo", "acetaldehyde"): 4})
    asked = roomy(samples=samples, flight=3, sittings=(sitting(people=("ada", "bo")),))
    found = marks_of(laid_out(asked, past=past))
    assert (set(found["ada"]), set(found["bo"])) == (set("ACE"), set("BDE"))


def no_past(*_):
    return 0


@pytest.mark.parametrize("seed", range(5))
def test_places_in_orders_of_different_things_are_about_as_even_as_in_a_square(seed):
    """Twelve people with five of ten things: 60 cells, of which each of 50 is filled once or twice."""
    blocks = ["".join(sorted(Draw(seed + n).shuffled("ABCDEFGHIJ")[:5])) for n in range(12)]
    orders = even_orders([[block] for block in blocks], no_past, Draw(seed))
    found = Counter(cell for order in orders for cell in enumerate(order))
    assert max(found.values()) <= 3


def test_orders_of_the_same_things_are_as_even_as_a_square_within_one():
    orders = even_orders([["ABCDEF"]] * 6, no_past, Draw(1))
    square = serving_orders(6, "ABCDEF", Draw(1))
    assert len(square) == len(orders)
    places = Counter(cell for order in orders for cell in enumerate(order))
    assert max(places.values()) <= 2


def test_duplicates_stand_apart_in_a_flight():
    orders = even_orders([["AABBC"]] * 8, no_past, Draw(2))
    assert [together(range(5), order) for order in orders] == [0] * 8


@st.composite
def shared_wishes(draw):
    """Nine spiked samples, some of them twice, some blanks, and a flight that holds them."""
    samples = [spiked(*kind, draw(st.integers(1, 2))) for kind in KINDS]
    samples += [blank(draw(st.integers(1, 2))) for _ in range(draw(st.integers(0, 2)))]
    people = draw(st.lists(st.sampled_from(tuple(PEOPLE)), unique=True, min_size=1))
    return roomy(
        samples=tuple(draw(st.permutations(samples))),
        flight=draw(st.integers(3, 9)),
        sittings=(sitting(people=people),),
        spares=draw(st.integers(0, 2)),
        seed=draw(st.integers(0, 2**31 - 1)),
        leaves_out=True,
    )


@unhurried
@given(shared_wishes(), st.sets(st.sampled_from(["diacetyl", "dms"])))
def test_a_flight_has_its_size_its_blank_and_nothing_its_person_refuses(asked, refused):
    plan = laid_out(asked, people_with(ada=refused))
    compounds = {sample.mark: sample.compound for sample in plan.samples}
    for who, glasses in seats_of(plan).items():
        given_compounds = [compounds[glass.mark] for glass in glasses]
        assert len(glasses) <= asked.flight
        assert not (who == "ada" and refused & set(given_compounds))
        assert None in given_compounds or None not in compounds.values()


@unhurried
@given(shared_wishes())
def test_a_pair_in_a_flight_is_whole_and_marked(asked):
    plan = laid_out(asked)
    twice = {s.mark for s in plan.samples if s.compound is not None and s.glasses == 2}
    for order in orders_of(plan):
        counts = Counter(glass.mark for glass in order)
        assert all(counts[mark] in (0, 2) for mark in twice)
        assert all((g.duplicate_mark is not None) == (counts[g.mark] == 2) for g in order)


@unhurried
@given(shared_wishes())
def test_no_code_comes_twice_where_a_session_is_shared_out(asked):
    plan = laid_out(asked)
    codes = codes_of(plan)
    assert len(set(codes)) == len(codes)
    assert plan == laid_out(asked)
