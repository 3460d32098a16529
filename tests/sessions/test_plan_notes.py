from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from asked import DUBLIN, PEOPLE, SHELF, TODAY, blank, in_sets, laid_out, sitting, spiked, wish

from seatworthy.sessions.layout import lay_out


def notes_of(asked):
    return laid_out(asked).notes


def one_group(people):
    return wish(sittings=(sitting(people=people),))


def samples(*wanted):
    return wish(samples=wanted)


def has_note(asked, start):
    return any(note.startswith(start) for note in notes_of(asked))


def test_a_sensible_plan_has_nothing_to_note_but_its_short_design():
    """Five glasses need ten orders; six people come."""
    (note,) = notes_of(wish())
    assert note == (
        "6 people for 10 balanced orders: what stands first or after what evens out over several "
        "sessions, not within this one."
    )


@pytest.mark.parametrize(("people", "is_noted"), [(("ada",), True), (("ada", "bo"), False)])
def test_one_person_alone_is_noted(people, is_noted):
    assert has_note(one_group(people), "One person comes") == is_noted


@pytest.mark.parametrize(("people", "is_noted"), [(3, True), (4, False), (5, False)])
def test_fewer_people_than_orders_are_noted(people, is_noted):
    asked = replace(
        one_group(tuple(PEOPLE)[:people]), samples=(spiked("dms"), blank(2), spiked("diacetyl"))
    )
    assert has_note(asked, f"{people} people for 4 balanced orders") == is_noted


@pytest.mark.parametrize(("level", "is_noted"), [("10", False), ("10.1", True)])
def test_a_very_strong_sample_is_noted(level, is_noted):
    assert (
        has_note(samples(spiked("dms", level)), f"DMS at {level}× can blind the nose") == is_noted
    )


@pytest.mark.parametrize(("glasses", "is_noted"), [((), True), ((blank(),), False)])
def test_a_plan_without_blank_is_noted(glasses, is_noted):
    asked = samples(spiked("dms", glasses=2), *glasses)
    assert has_note(asked, "No blank is poured") == is_noted


@pytest.mark.parametrize(("glasses", "is_noted"), [(1, True), (2, False)])
def test_a_plan_without_duplicate_is_noted(glasses, is_noted):
    asked = samples(spiked("dms", glasses=glasses), blank())
    assert has_note(asked, "No sample is poured twice") == is_noted


@pytest.mark.parametrize(
    ("wanted", "is_noted"),
    [
        ([blank()], True),
        ([blank(), spiked("dms")], True),
        ([blank(), spiked("dms"), spiked("dms", "2")], False),
    ],
)
def test_fewer_than_two_spiked_samples_are_noted(wanted, is_noted):
    assert has_note(samples(*wanted), "Fewer than two samples") == is_noted


def test_levels_that_do_not_count_are_noted_in_one_sentence():
    asked = samples(spiked("dms", "1.9"), spiked("diacetyl", "2"), spiked("diacetyl", "4.5"))
    assert (
        "DMS at 1.9× and diacetyl at 4.5× are kept and not counted for a seat; glasses to be named "
        "count at 2 to 4×."
    ) in notes_of(asked)


def test_levels_at_the_ends_count():
    asked = samples(spiked("dms", "2"), spiked("diacetyl", "4"))
    assert not any("not counted" in note for note in notes_of(asked))


def test_methods_that_do_not_count_are_named_with_what_does():
    """A set stands outside of what counts by its method, whatever its level."""
    asked = samples(
        in_sets("dms", "1"),
        replace(spiked("diacetyl"), method="intensity", asks="diacetyl"),
        spiked("dms"),
        blank(),
    )
    (told,) = [note for note in notes_of(asked) if "count" in note]
    assert told == (
        "3-AFC sets and rated glasses are kept and count for no compound; glasses to be named count "
        "at 2 to 4×."
    )


def test_under_a_rulebook_that_counts_sets_they_are_not_noted():
    shelf = replace(SHELF, counted_methods=("naming", "3afc"))
    asked = samples(in_sets("dms", "1"), spiked("diacetyl"), blank())
    plan = lay_out(asked, shelf, PEOPLE, (), TODAY, DUBLIN)
    (told,) = [note for note in plan.notes if "count" in note]
    assert told == (
        "DMS at 1× is kept and not counted for a seat; glasses to be named and 3-AFC sets count at "
        "2 to 4×."
    )


def test_where_series_give_thresholds_no_level_is_left_out():
    shelf = replace(SHELF, counted_levels=None, counted_methods=("3afc",))
    asked = samples(in_sets("dms", "0.5"), spiked("diacetyl"), blank())
    plan = lay_out(asked, shelf, PEOPLE, (), TODAY, DUBLIN)
    assert [note for note in plan.notes if "count" in note] == [
        "Glasses to be named are kept and count for no compound; 3-AFC sets count."
    ]


def test_nothing_is_said_of_counting_without_a_rulebook():
    shelf = replace(SHELF, counted_levels=None, counted_methods=())
    plan = lay_out(samples(spiked("dms", "9")), shelf, PEOPLE, (), TODAY, DUBLIN)
    assert not any("counted" in note for note in plan.notes)


def test_a_compound_to_be_bought_diluted_is_noted():
    asked = samples(spiked("acetaldehyde"), spiked("dms"))
    assert has_note(asked, "Acetaldehyde: only from a bought food-grade dilution.")


def test_those_who_prepare_and_taste_are_noted():
    assert notes_of(wish(preparers=("finn", "ada")))[0] == (
        "Ada Quill and Finn Holt would prepare and taste: such answers are kept, and count only if "
        "somebody else puts the codes on."
    )


def test_those_who_prepare_and_do_not_come_are_no_matter():
    asked = replace(one_group(("ada", "bo")), preparers=("finn",))
    assert not any("prepare" in note for note in notes_of(asked))


def test_a_start_that_comes_twice_is_noted():
    day = date(2027, 10, 31)
    asked = wish(session_on=day, sittings=(sitting(day=day, hour=1),), volume_ml=Decimal(20))
    assert notes_of(asked)[0].startswith("01:00 on 31 October 2027 comes twice in Europe/Dublin")
