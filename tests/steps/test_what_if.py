"""What another rulebook would change, beside judging by both books."""

import pytest
import seated
from seated import FAMILY, TODAY

from seatworthy.rules.texts import rulebook_text
from seatworthy.steps.judging import judge_day
from seatworthy.steps.rulebooks import supposed_rulebook
from seatworthy.steps.what_if import what_if


@pytest.fixture(scope="module")
def desk(brewery, tmp_path_factory):
    with seated.opened(brewery, tmp_path_factory.mktemp("still")) as desk:
        yield desk


def book(**changed):
    text = rulebook_text("default")
    for before, after in changed.items():
        assert before in text
        text = text.replace(before, after, 1)
    return supposed_rulebook(text)


HARDER = {"glasses = 4  ": "glasses = 40  "}
EASIER = {"glasses = 4  ": "glasses = 2  ", "met_when_sure = 0.85": "met_when_sure = 0.5",
          "critical_met = 4": "critical_met = 3", "blanks = 10 ": "blanks = 1 ",
          "sure = 0.75": "sure = 0.5", "longest_absence_days = 60": "longest_absence_days = 90",
          "share = 0.50": "share = 0.1"}  # fmt: skip


def by_judging(desk, other):
    now, then = judge_day(desk), judge_day(desk, supposed_book=other)
    met = [{p for p in now.people if j.seats[p, FAMILY].can_sit} for j in (now, then)]
    return met[0] - met[1], met[1] - met[0]


def found_by(desk, other):
    seats = what_if(desk, other).seats
    return (
        {one.person_id for one in seats if one.is_loss},
        {one.person_id for one in seats if one.is_gain},
    )


@pytest.mark.parametrize("changed", [HARDER, EASIER], ids=["harder", "easier"])
def test_losses_and_gains_are_those_of_judging_by_both(desk, changed):
    assert found_by(desk, book(**changed)) == by_judging(desk, book(**changed))


def test_a_harder_rulebook_takes_from_both_who_meet_the_present_one(desk, brewery):
    assert found_by(desk, book(**HARDER))[0] == {brewery.ids["Lee"], brewery.ids["Ada"]}


def test_an_easier_rulebook_gives_to_somebody_of_two_sessions(desk, brewery):
    assert found_by(desk, book(**EASIER))[1] == {brewery.ids["Cleo"]}


def test_the_sentence_names_who_would_lose(desk):
    assert what_if(desk, book(**HARDER)).sentence == (
        "By “default”, version 1, for the pale Ada and Lee would lose what a seat rests on."
    )


def test_the_same_rules_change_nothing(desk):
    found = what_if(desk, book(**{"notice_days = 30": "notice_days = 29"}))
    assert found.seats == ()
    assert "nobody's seat would be judged otherwise" in found.sentence


def test_losses_stand_before_other_changes(desk):
    order = [one.is_loss for one in what_if(desk, book(**HARDER)).seats]
    assert order == sorted(order, reverse=True)


def test_a_compound_judged_otherwise_is_said_with_both_answers(desk, brewery):
    ada = next(
        one for one in what_if(desk, book(**HARDER)).seats if one.person_id == brewery.ids["Ada"]
    )
    assert "DMS: met, then too little evidence" in ada.compounds


def test_who_can_sit_is_counted_by_both_books(desk):
    (pale,) = what_if(desk, book(**HARDER)).families
    assert (pale.before, pale.after) == (2, 0)


def test_nothing_is_recorded(desk):
    cursor = desk.store.cursor()
    before = (desk.version, cursor.execute("select count(*) from history").fetchone())
    what_if(desk, book(**HARDER))
    assert (desk.version, cursor.execute("select count(*) from history").fetchone()) == before


def test_today_is_judged_by_the_book_in_force_afterwards(desk):
    before = judge_day(desk, TODAY).rulebook_digest
    what_if(desk, book(**HARDER))
    assert judge_day(desk, TODAY).rulebook_digest == before
