from collections import Counter
from decimal import Decimal

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
    people_with,
    roomy,
    seats_of,
    spiked,
    unhurried,
    wish,
    with_limits,
)
from hypothesis import given
from hypothesis import strategies as st

from seatworthy.sessions.codes import CODES
from seatworthy.sessions.draw import Draw
from seatworthy.sessions.set_places import even_patterns, odd_place, patterns_of
from seatworthy.sessions.wish import SETS

METHODS = st.sampled_from(tuple(SETS))
SPIKED, BLANK = True, False


def sets_of(asked, **facts):
    """Every set of everybody who comes."""
    return [
        g for glasses in seats_of(laid_out(asked, **facts)).values() for g in glasses if g.glasses
    ]


@pytest.mark.parametrize(("method", "ways"), [("2afc", 2), ("3afc", 3), ("triangle", 6)])
def test_a_set_can_be_filled_in_every_way_of_its_method(method, ways):
    assert len(set(patterns_of(method))) == ways


def test_half_of_the_ways_to_fill_a_triangle_hold_two_spiked_glasses():
    assert sorted(sum(pattern) for pattern in patterns_of("triangle")) == [1, 1, 1, 2, 2, 2]


@pytest.mark.parametrize(
    ("pattern", "place"),
    [
        ((SPIKED, BLANK), 0),
        ((BLANK, SPIKED), 1),
        ((BLANK, BLANK, SPIKED), 2),
        ((SPIKED, BLANK, SPIKED), 1),
    ],
)
def test_the_glass_that_differs_is_the_odd_one(pattern, place):
    assert odd_place(pattern) == place


@pytest.mark.parametrize("method", SETS)
def test_the_other_glasses_of_a_set_come_from_the_first_blank(method):
    found = sets_of(roomy(samples=(in_sets("dms", method=method), blank(), blank())))
    assert {one.mark for glass in found for one in glass.glasses} == {"A", "B"}
    assert all(len(glass.glasses) == SETS[method] for glass in found)


def test_the_code_of_a_set_is_the_code_of_the_glass_that_differs():
    for glass in sets_of(roomy(samples=(in_sets("dms", method="triangle"), blank(0)))):
        (odd,) = [one for one in glass.glasses if one.is_odd]
        assert glass.code == odd.code
        others = {one.mark for one in glass.glasses if not one.is_odd}
        assert others == {"A", "B"} - {odd.mark}


def test_a_set_stands_under_its_spiked_sample_also_if_the_blank_is_odd():
    found = sets_of(roomy(samples=(in_sets("dms", method="triangle"), blank(0))))
    assert {(glass.mark, glass.method) for glass in found} == {("A", "triangle")}


def test_glasses_of_a_set_are_numbered_from_the_left():
    for glass in sets_of(roomy(samples=(in_sets("dms"), blank(0)))):
        assert [one.place for one in glass.glasses] == [1, 2, 3]


def test_six_people_get_the_six_orders_of_a_triangle():
    found = sets_of(roomy(samples=(in_sets("dms", method="triangle"), blank(0))))
    assert len({tuple(one.mark for one in glass.glasses) for glass in found}) == len(PEOPLE) == 6


def test_sets_come_after_the_glasses_that_are_named():
    samples = (in_sets("dms"), spiked("diacetyl"), blank(2), in_sets("dms", "2", "triangle"))
    for marks in marks_of(laid_out(roomy(samples=samples))).values():
        assert sorted(marks[:3]) == ["B", "C", "C"]
        assert marks[3:] == ["D", "A"]


def test_a_sample_asked_in_two_sets_is_marked_as_a_duplicate():
    found = sets_of(roomy(samples=(in_sets("dms", glasses=2), blank(0))))
    assert {glass.duplicate_mark for glass in found} == {"A"}


def test_a_single_glass_holds_no_set():
    glasses = seats_of(laid_out())["ada"]
    assert {(glass.method, glass.glasses) for glass in glasses} == {("naming", ())}


def test_spare_orders_hold_no_set():
    plan = laid_out(roomy(samples=(in_sets("dms"), spiked("diacetyl"), blank())))
    spares = [order for sitting in plan.sittings for order in sitting.spares]
    assert [sorted(glass.mark for glass in order) for order in spares] == [["B", "C"]] * 2


def test_a_series_somebody_is_not_to_be_served_is_left_out_whole():
    asked = roomy(samples=(in_sets("dms"), in_sets("dms", "2"), spiked("diacetyl"), blank()),
                  leaves_out=True)  # fmt: skip
    plan = laid_out(asked, people_with(bo={"dms"}))
    assert sorted(marks_of(plan)["bo"]) == ["C", "D"]
    assert plan.left_out == ("Bo Marsh gets no DMS and tastes 2 glasses.",)


def test_somebody_for_whom_only_sets_they_are_not_to_be_served_are_left_cannot_come():
    asked = roomy(samples=(in_sets("dms"), blank(0)), leaves_out=True)
    fault = only_fault_of(asked, people=people_with(bo={"dms"}))
    assert fault.startswith("Bo Marsh is not to be served DMS, and there is nothing else")


def test_sets_without_a_blank_are_refused():
    assert only_fault_of(roomy(samples=(in_sets("dms"), spiked("diacetyl")))) == (
        "Sets are asked for and there is no blank: add a blank; the other glasses of each set come "
        "from it."
    )


def test_a_blank_that_fills_no_set_is_poured_once_or_twice():
    fault = only_fault_of(roomy(samples=(in_sets("dms"), blank(), blank(0))))
    assert fault.startswith("Sample C is poured 0 times for each person")


def test_an_unknown_method_is_refused():
    assert only_fault_of(roomy(samples=(in_sets("dms", method="duo"), blank()))) == (
        "Sample A is asked as “duo”: choose naming, intensity, a_not_a, 3afc, triangle or 2afc."
    )


def test_a_blank_in_place_of_the_glass_that_differs_is_refused():
    fault = only_fault_of(roomy(samples=(in_sets("dms"), blank(0), in_sets(None, None))))
    assert fault == (
        "Sample C has nothing added and is asked in sets, where nothing would differ: name the "
        "compound, or ask for a name."
    )


@pytest.mark.parametrize(("most", "faults"), [(7, 0), (6, 1)])
def test_every_glass_of_a_set_counts_towards_the_limit_of_glasses(most, faults):
    """Two sets of three and one glass that is named: seven."""
    samples = (in_sets("dms"), in_sets("dms", "2"), blank())
    asked = wish(samples=samples, limits=with_limits(most_glasses=most).limits)
    assert len(faults_of(asked)) == faults


def test_every_glass_of_a_set_counts_as_alcohol():
    """Three glasses and the control, 120 ml at 4.8%: 120 x 0.048 x 0.789 = 4.54 g."""
    assert laid_out(wish(samples=(in_sets("dms"), blank(0)))).swallowed_g == Decimal("4.54")


def test_the_last_codes_left_are_enough_for_every_glass_of_a_set():
    """Six people with three glasses each, and no spare order of sets: 18 codes."""
    asked = roomy(samples=(in_sets("dms"), blank(0)))
    assert set(codes_of(laid_out(asked, taken=CODES[18:]))) == set(CODES[:18])
    assert only_fault_of(asked, taken=CODES[17:]).startswith("This plan needs 18 codes and 17")


def test_nothing_is_noted_of_blanks_and_duplicates_where_all_is_asked_in_sets():
    notes = laid_out(roomy(samples=(in_sets("dms"), in_sets("dms", "2"), blank(0)))).notes
    assert not any("is poured" in note for note in notes)


def test_a_blank_in_sets_alone_teaches_nothing_about_false_calls():
    notes = laid_out(roomy(samples=(in_sets("dms"), spiked("diacetyl"), blank(0)))).notes
    assert any(note.startswith("No blank is poured") for note in notes)


@unhurried
@given(METHODS, st.integers(1, 20), st.integers(1, 6), st.integers(0, 2**31))
def test_over_the_panel_no_way_to_fill_a_set_comes_twice_as_often_as_another(method, people, sets, seed):  # fmt: skip
    filled = even_patterns([["A"] * sets] * people, {"A": method}, Draw(seed))
    found = Counter(pattern for row in filled for pattern in row)
    counts = [found[pattern] for pattern in patterns_of(method)]
    assert max(counts) - min(counts) <= 1


@unhurried
@given(METHODS, st.integers(1, 20), st.integers(1, 6), st.integers(0, 2**31))
def test_over_the_panel_the_odd_glass_stands_in_each_place_about_as_often(method, people, sets, seed):  # fmt: skip
    """In a triangle two ways lead to each place, so places differ by two at most."""
    filled = even_patterns([["A"] * sets] * people, {"A": method}, Draw(seed))
    found = Counter(odd_place(pattern) for row in filled for pattern in row)
    counts = [found[place] for place in range(SETS[method])]
    assert max(counts) - min(counts) <= (2 if method == "triangle" else 1)


@pytest.mark.parametrize("seed", range(5))
def test_nobody_finds_the_odd_glass_in_one_place_throughout(seed):
    filled = even_patterns([["A"] * 6] * 9, {"A": "3afc"}, Draw(seed))
    places = [Counter(odd_place(pattern) for pattern in row) for row in filled]
    assert all(max(found.values()) <= 4 for found in places)


@unhurried
@given(METHODS, METHODS, st.integers(0, 2**31))
def test_no_code_comes_twice_where_sets_are_poured(one, other, seed):
    samples = (
        in_sets("dms", "2", one),
        in_sets("diacetyl", "3", other, 2),
        spiked("dms"),
        blank(2),
    )
    codes = codes_of(laid_out(roomy(samples=samples, seed=seed)))
    assert len(set(codes)) == len(codes)


@unhurried
@given(st.permutations(["0.5", "1", "2", "4"]), METHODS, st.integers(0, 2**31))
def test_a_series_never_falls(levels, method, seed):
    samples = (*(in_sets("dms", level, method) for level in levels), spiked("diacetyl"), blank())
    plan = laid_out(roomy(samples=samples, seed=seed))
    level = {sample.mark: sample.level for sample in plan.samples}
    for glasses in seats_of(plan).values():
        tasted = [level[glass.mark] for glass in glasses if glass.glasses]
        assert tasted == sorted(tasted)
        assert len(tasted) == 4
