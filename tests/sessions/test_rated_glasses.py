"""Glasses that are rated for one compound, or asked about by yes and no, in a plan."""

from collections import Counter
from dataclasses import replace
from decimal import Decimal

import pytest
from asked import (
    blank,
    faults_of,
    in_sets,
    laid_out,
    marks_of,
    only_fault_of,
    people_with,
    roomy,
    seats_of,
    shelf_with,
    spiked,
    wish,
)

from seatworthy.sessions.wish import INTENSITY, NAMING, YES_NO


def asking(sample, method=INTENSITY, asks="diacetyl"):
    return replace(sample, method=method, asks=asks)


def rated(compound="diacetyl", level="3", glasses=1):
    return asking(spiked(compound, level, glasses))


MIXED = (spiked("dms"), blank(), rated(glasses=2), asking(blank()), asking(blank(), YES_NO))


def test_rated_glasses_stand_among_the_others_and_keep_their_method():
    plan = laid_out(wish(samples=MIXED))
    for glasses in seats_of(plan).values():
        assert Counter(glass.mark for glass in glasses) == Counter("ABCCDE")
        methods = {glass.mark: glass.method for glass in glasses}
        assert methods == {"A": NAMING, "B": NAMING, "C": INTENSITY, "D": INTENSITY, "E": YES_NO}
        assert not any(glass.glasses for glass in glasses)


def test_the_samples_of_a_plan_say_what_is_asked_about():
    plan = laid_out(wish(samples=MIXED))
    assert [sample.asks for sample in plan.samples] == [None, None] + ["diacetyl"] * 3


def test_a_hidden_pair_of_rated_glasses_is_marked_as_one():
    plan = laid_out(wish(samples=MIXED))
    for glasses in seats_of(plan).values():
        assert {g.mark for g in glasses if g.duplicate_mark} == {"C"}


def test_spare_orders_hold_rated_glasses_with_their_method():
    (spare, *_) = [order for sitting in laid_out(wish(samples=MIXED)).sittings for order in sitting.spares]  # fmt: skip
    assert sorted((glass.mark, glass.method) for glass in spare) == [
        ("A", NAMING), ("B", NAMING), ("C", INTENSITY), ("C", INTENSITY), ("D", INTENSITY),
        ("E", YES_NO),
    ]  # fmt: skip


def test_the_codes_and_orders_are_those_of_the_same_plan_to_be_named():
    """Nothing about a question may show in who gets which code at which place."""
    named = tuple(replace(sample, method=NAMING, asks=None) for sample in MIXED)
    asked, plain = (seats_of(laid_out(wish(samples=samples))) for samples in (MIXED, named))
    assert {who: [(g.code, g.mark) for g in glasses] for who, glasses in asked.items()} == {
        who: [(g.code, g.mark) for g in glasses] for who, glasses in plain.items()
    }


def test_a_strong_rated_glass_comes_late():
    plan = laid_out(wish(samples=(rated(level="8"), blank(2), spiked("dms"))))
    assert all(marks[-1] == "A" for marks in marks_of(plan).values())


def test_a_rated_glass_is_left_out_for_whom_it_is_not_served():
    asked = wish(samples=MIXED, leaves_out=True)
    plan = laid_out(asked, people=people_with(bo={"diacetyl"}))
    assert sorted(marks_of(plan)["bo"]) == ["A", "B", "D", "E"]


def test_flights_share_rated_glasses_out_like_the_others():
    samples = (*(rated(level=str(level)) for level in (2, 3, 4)), spiked("dms"), asking(blank(2)))
    plan = laid_out(wish(samples=samples, flight=4))
    for marks in marks_of(plan).values():
        assert len(marks) == 4
        assert "E" in marks


@pytest.mark.parametrize(
    ("sample", "fault"),
    [
        (
            asking(spiked("diacetyl"), asks=None),
            "Sample A is rated, and no compound is named to ask about: choose one, or ask for a name.",
        ),
        (
            asking(blank(), YES_NO, None),
            (
                "Sample A is asked about by yes or no, and no compound is named to ask about: choose one, or "
                "ask for a name."
            ),
        ),
        (
            asking(blank(), asks="moonshine"),
            (
                "Sample A asks about “moonshine”, which is not a compound on record: choose one from the "
                "list."
            ),
        ),
        (
            replace(spiked("diacetyl"), asks="diacetyl"),
            (
                "Sample A is asked by name and yet about diacetyl: take the question out, or ask how strong "
                "it is or whether it is there."
            ),
        ),
        (
            asking(spiked("dms"), YES_NO),
            (
                "Sample A holds DMS and asks whether diacetyl is there: ask about what it holds, or let it "
                "be rated for diacetyl."
            ),
        ),
    ],
)
def test_a_question_that_can_not_be_asked_is_refused(sample, fault):
    assert only_fault_of(wish(samples=(sample, blank()))) == fault


def test_a_question_about_a_set_is_refused():
    fault = only_fault_of(roomy(samples=(replace(in_sets("dms"), asks="dms"), blank())))
    assert fault.startswith("Sample A is asked in sets and yet about DMS")


def test_a_compound_that_is_asked_about_needs_no_threshold_and_need_not_be_for_serving():
    for compound in ("geosmin", "furfural"):
        assert faults_of(wish(samples=(spiked("dms"), asking(blank(), asks=compound)))) == ()


def test_what_is_rated_keeps_to_its_ceiling():
    fault = only_fault_of(
        wish(samples=(rated(level="6"), blank())),
        shelf=shelf_with(diacetyl={"ceiling": Decimal(5)}),
    )
    assert fault.startswith("Diacetyl at 6× is above its ceiling")


def test_the_same_jug_may_be_rated_for_two_compounds_but_not_twice_for_one():
    both = wish(samples=(rated(), asking(spiked("diacetyl"), asks="dms"), blank()))
    assert faults_of(both) == ()
    assert "stands in samples A and B" in only_fault_of(wish(samples=(rated(), rated(), blank())))


def test_a_rated_blank_is_poured_once_or_twice():
    fault = only_fault_of(wish(samples=(rated(), asking(blank(0)))))
    assert fault.startswith("Sample B is poured 0 times for each person")


def notes_of(*samples):
    return laid_out(wish(samples=samples)).notes


def has_note(start, *samples):
    return any(note.startswith(start) for note in notes_of(*samples))


def test_a_question_that_gives_a_name_away_is_told():
    telling = "The ballots ask about diacetyl, which is also to be named"
    assert has_note(telling, spiked("diacetyl"), rated(level="2"), blank())
    assert not has_note("The ballots ask about", spiked("dms"), rated(), blank())


def test_what_is_always_there_is_told_of_yes_and_no():
    telling = "Every glass that asks whether diacetyl is there has it"
    sample = asking(spiked("diacetyl"), YES_NO)
    assert has_note(telling, sample, blank())
    assert not has_note(telling, sample, asking(blank(), YES_NO))


def test_a_rating_for_something_else_is_told():
    telling = "Sample A holds DMS and is rated for diacetyl"
    assert has_note(telling, asking(spiked("dms")), blank())
    assert not has_note("Sample A holds", rated(), blank())


def test_only_a_blank_to_be_named_tells_of_false_calls():
    assert has_note("No blank is poured", spiked("dms"), rated(), asking(blank()))
    assert not has_note("No blank is poured", rated(), asking(blank()))


def test_a_rated_pair_is_a_pair():
    assert not has_note("No sample is poured twice", spiked("dms"), rated(glasses=2), blank())


def test_levels_of_ratings_are_not_told_as_uncounted():
    assert has_note("Diacetyl at 5×", spiked("diacetyl", "5"), blank())
    assert not has_note("Diacetyl at 5×", rated(level="5"), blank())
