from collections import Counter
from decimal import Decimal

import pytest
from asked import (
    PEOPLE,
    blank,
    faults_of,
    in_sets,
    laid_out,
    marks_of,
    only_fault_of,
    orders_of,
    people_with,
    roomy,
    shelf_with,
    sitting,
    spiked,
)

from seatworthy.sessions.over_sessions import given_out
from seatworthy.sessions.plan import Past

LINGERING = shelf_with(dms={"lingers": True})
FOUR = (spiked("diacetyl"), spiked("dms"), spiked("acetaldehyde"), blank())


def orders(samples, **facts):
    strong_late = facts.pop("strong_late", True)
    return marks_of(laid_out(roomy(samples=samples, strong_late=strong_late), **facts))


@pytest.mark.parametrize(("level", "last"), [("5", False), ("5.1", True)])
def test_a_level_above_five_comes_last(level, last):
    samples = (spiked("dms", level), spiked("diacetyl"), blank(2))
    found = {marks[-1] for marks in orders(samples).values()}
    assert (found == {"A"}) == last


def test_a_compound_that_lingers_comes_last_at_any_level():
    assert {marks[-1] for marks in orders(FOUR, shelf=LINGERING).values()} == {"B"}


def test_strong_and_lingering_glasses_may_be_served_anywhere_if_the_leader_says_so():
    found = orders((*FOUR, spiked("diacetyl", "9")), shelf=LINGERING, strong_late=False)
    assert len({marks[-1] for marks in found.values()}) > 1


def test_places_are_balanced_among_the_early_and_among_the_late_glasses():
    """Six people; two early and three late glasses, whose rows fill whole squares."""
    late = tuple(spiked("dms", level) for level in ("6", "7", "8"))
    found = orders((spiked("diacetyl"), blank(), *late)).values()
    places = Counter((mark, place) for marks in found for place, mark in enumerate(marks))
    assert {places[mark, place] for mark in "AB" for place in (0, 1)} == {3}
    assert {places[mark, place] for mark in "CDE" for place in (2, 3, 4)} == {2}


def test_series_of_a_compound_that_lingers_come_after_the_others():
    samples = (in_sets("dms"), in_sets("diacetyl"), blank(0))
    assert set(map(tuple, orders(samples, shelf=LINGERING).values())) == {("B", "A")}


def test_everybody_rests_before_what_comes_late():
    plan = laid_out(roomy(samples=FOUR), shelf=LINGERING)
    assert plan.rests == ("Rest two minutes before glass 4: the strong and lingering ones follow.",)


def test_everybody_rests_before_the_sets():
    plan = laid_out(roomy(samples=(in_sets("dms"), spiked("diacetyl"), blank(2))))
    assert plan.rests == ("Rest two minutes before set 4: the sets follow.",)


def test_who_has_fewer_glasses_rests_earlier():
    asked = roomy(samples=FOUR, leaves_out=True)
    plan = laid_out(asked, people_with(bo={"diacetyl"}, esi={"acetaldehyde"}), shelf=LINGERING)
    assert plan.rests[1:] == (
        "Bo Marsh and Esi Tarn rest before glass 3 instead: the strong and lingering ones follow.",
    )


@pytest.mark.parametrize("samples", [FOUR, (spiked("dms", "6"), spiked("diacetyl", "6"))])
def test_nobody_rests_where_nothing_is_late_or_everything_is(samples):
    assert laid_out(roomy(samples=samples)).rests == ()


def test_a_level_at_its_ceiling_can_be_poured():
    shelf = shelf_with(diacetyl={"ceiling": Decimal(10)})
    assert faults_of(roomy(samples=(spiked("diacetyl", "10"), blank())), shelf=shelf) == ()


def test_a_level_above_its_ceiling_is_refused():
    shelf = shelf_with(diacetyl={"ceiling": Decimal(10)})
    assert only_fault_of(roomy(samples=(spiked("diacetyl", "12"), blank())), shelf=shelf) == (
        "Diacetyl at 12× is above its ceiling of 10×: lower it, or raise the ceiling on the bench."
    )


def alone(past, seed=7):
    """What one person tastes after a past."""
    asked = roomy(samples=FOUR, sittings=(sitting(people=("ada",)),), spares=0, seed=seed)
    return marks_of(laid_out(asked, past=past))["ada"]


@pytest.mark.parametrize("seed", range(8))
def test_what_somebody_had_first_they_do_not_have_first_again(seed):
    first = {("ada", key, 1): 3 for key in ("diacetyl", "dms", "")}
    assert alone(Past(places=first), seed)[0] == "C"


def test_over_sessions_places_even_out_for_one_person():
    """Four glasses, four sessions: each has stood once in each place."""
    compounds = {"A": "diacetyl", "B": "dms", "C": "acetaldehyde", "D": ""}
    had = Counter({("ada", "nothing", 1): 1})
    for seed in range(4):
        marks = alone(Past(places=dict(had)), seed)
        had.update(("ada", compounds[m], place) for place, m in enumerate(marks, start=1))
    assert [had["ada", key, place] for key in compounds.values() for place in range(1, 5)] == [
        1
    ] * 16


def test_with_a_past_the_panel_stays_as_balanced_as_without():
    past = Past(places={("bo", "dms", 2): 3, ("ada", "", 1): 1})
    for place in zip(*(marks_of(laid_out(roomy(samples=FOUR), past=past))).values(), strict=True):
        counts = [place.count(mark) for mark in "ABCD"]
        assert max(counts) - min(counts) <= 1


@pytest.mark.parametrize("seed", range(8))
def test_with_a_past_duplicates_still_stand_apart_while_they_can(seed):
    """The past asks for the pair in places 1 and 2."""
    past = Past(places={("ada", "diacetyl", place): 9 for place in (3, 4)})
    samples = (spiked("diacetyl", glasses=2), spiked("dms"), blank())
    asked = roomy(samples=samples, sittings=(sitting(people=("ada",)),), spares=0, seed=seed)
    assert "AA" not in "".join(marks_of(laid_out(asked, past=past))["ada"])


@pytest.mark.parametrize("seed", range(8))
def test_places_of_late_glasses_are_counted_from_the_start_of_the_order(seed):
    """Two early glasses; of the three late ones DMS at 6× and 7× avoid the third place."""
    past = Past(places={("ada", "dms", 3): 2, ("ada", "diacetyl", 1): 5})
    late = (spiked("dms", "6"), spiked("dms", "7"), spiked("diacetyl", "8"))
    samples = (spiked("acetaldehyde"), blank(), *late)
    asked = roomy(samples=samples, sittings=(sitting(people=("ada",)),), spares=0, seed=seed)
    assert marks_of(laid_out(asked, past=past))["ada"][2] == "E"


def test_an_empty_past_changes_nothing():
    assert laid_out(past=Past()) == laid_out()


def test_with_a_past_the_note_of_too_few_people_says_what_is_made_up_for():
    asked = roomy(samples=FOUR, sittings=(sitting(),))
    assert laid_out(asked, past=Past(places={("ada", "dms", 1): 1})).notes[-1] == (
        "3 people for 4 balanced orders: what stands first or after what evens out over several "
        "sessions, and these orders make up for earlier ones."
    )


def test_with_a_past_as_many_orders_are_made():
    past = Past(places={("ada", "dms", 1): 1})
    assert len(orders_of(laid_out(past=past))) == len(orders_of(laid_out())) == len(PEOPLE) + 2


COSTS = [[5, 1, 9], [1, 0, 9], [9, 9, 0]]


def test_rows_change_hands_while_that_costs_less():
    given = given_out("xyz", 3, 3, lambda who, row: COSTS[who]["xyz".index(row)])
    assert given == ["y", "x", "z"]


def test_a_row_that_nobody_has_may_be_taken():
    assert given_out("xyz", 1, 3, lambda _, row: "yzx".index(row)) == ["y"]


def test_rows_are_given_out_square_by_square():
    given = given_out("aabb", 3, 2, lambda _, row: row == "a")
    assert given == ["a", "a", "b"]


def test_ties_keep_the_order_of_the_rows():
    assert given_out("xyz", 3, 3, lambda *_: 1) == ["x", "y", "z"]
