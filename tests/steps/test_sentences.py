from datetime import date

import pytest

from seatworthy.phrases import level_range
from seatworthy.rules.calendar_months import months_after, months_before
from seatworthy.steps.labels import describing_word, first_names, item_label, short_label
from seatworthy.steps.sentences import (
    day_in_sentence,
    in_sentence,
    joined,
    the_beers,
    what_is_weak,
    who_can_sit,
)


@pytest.mark.parametrize(
    ("number", "past_day", "expected"),
    [
        (5, None, "Five can sit for the pale lagers today"),
        (0, None, "Nobody can sit for the pale lagers yet"),
        (13, None, "13 can sit for the pale lagers today"),
        (1, "3 May 2026", "One could sit for the pale lagers on 3 May 2026"),
        (0, "3 May 2026", "Nobody could sit for the pale lagers on 3 May 2026"),
    ],
)
def test_who_can_sit(number, past_day, expected):
    assert who_can_sit(number, "Pale lagers", past_day) == expected


@pytest.mark.parametrize(
    ("weak", "expected"),
    [
        ([], ""),
        ([("Papery", 1)], "papery is covered by one nose only."),
        ([("Papery", 1), ("DMS", 1)], "papery and DMS are covered by one nose only."),
        ([("Papery", 0), ("DMS", 1)], "papery is covered by nobody."),
    ],
)
def test_what_is_weak(weak, expected):
    assert what_is_weak(weak, 2) == expected


def test_our_beers_need_no_article():
    assert the_beers("Our beers") == "our beers"
    assert the_beers("IPAs") == "the IPAs"


def test_names_in_a_row():
    assert joined(["Ada"]) == "Ada"
    assert joined(["Ada", "Bo", "Cleo"]) == "Ada, Bo and Cleo"


@pytest.mark.parametrize(
    ("label", "short", "inside"),
    [
        ("Dimethyl sulfide (DMS)", "DMS", "DMS"),
        ("(E)-2-Nonenal (papery)", "Papery", "papery"),
        ("4-Vinylguaiacol", "4-Vinylguaiacol", "4-Vinylguaiacol"),
        ("Acetic acid", "Acetic acid", "acetic acid"),
    ],
)
def test_the_word_people_say(label, short, inside):
    assert short_label(label) == short
    assert in_sentence(short) == inside


def test_the_describing_word_says_something_new():
    assert describing_word("(E)-2-Nonenal (papery)", "papery|cardboard") == "cardboard"
    assert describing_word("Vanillin", "") == ""


def test_first_names_are_told_apart():
    people = {"1": "Ana Moran", "2": "Ana Petric", "3": "Bo Larsen", "4": "A. Moran"}
    assert first_names(people) == {
        "1": "Ana Moran",
        "2": "Ana Petric",
        "3": "Bo",
        "4": "A. Moran",
    }


def test_a_group_is_named_with_or():
    labels = {"acetic_acid": "Acetic acid", "lactic_acid": "Lactic acid"}
    assert item_label(("acetic_acid", "lactic_acid"), labels) == "Acetic acid or lactic acid"


@pytest.mark.parametrize(
    ("day", "months", "expected"),
    [
        (date(2026, 8, 31), 6, date(2027, 2, 28)),
        (date(2024, 2, 29), 12, date(2025, 2, 28)),
        (date(2026, 12, 31), -12, date(2025, 12, 31)),
        (date(2026, 1, 15), -1, date(2025, 12, 15)),
        (date(2026, 11, 25), 1, date(2026, 12, 25)),
    ],
)
def test_months_end_where_the_month_ends(day, months, expected):
    assert months_after(day, months) == expected
    assert months_before(day, -months) == expected


def test_the_year_is_said_only_if_it_is_another():
    assert day_in_sentence(date(2026, 12, 14), date(2026, 11, 25)) == "14 December"
    assert day_in_sentence(date(2027, 1, 14), date(2026, 11, 25)) == "14 January 2027"


@pytest.mark.parametrize(
    ("level", "off", "ends"),
    [
        (3, 0.2, ("2.8", "3.2")),
        (3, 0.03, ("2.97", "3.03")),
        (0.99, 0.06, ("0.93", "1.05")),
        (1, 0.004, ("0.996", "1.004")),
        (0.1, 0.3, ("0.0", "0.4")),
    ],
)
def test_the_ends_of_a_range_differ_from_its_middle(level, off, ends):
    assert level_range(level, off) == ends
