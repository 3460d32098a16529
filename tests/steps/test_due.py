from datetime import date, timedelta

import pytest
import seated
from seated import FAMILY, TODAY

from seatworthy.rules.texts import rulebook_text
from seatworthy.steps.decisions import sign_decision
from seatworthy.steps.desk import rulebook_row
from seatworthy.steps.due import due

DAY = timedelta(days=1)
ENDS = TODAY + 40 * DAY


@pytest.fixture(scope="module")
def desk(brewery, tmp_path_factory):
    """One desk for all of this file: Ada's seat ends in forty days, a rulebook begins in twenty."""
    with seated.opened(brewery, tmp_path_factory.mktemp("desk")) as desk:
        sign_decision(
            desk, person_id=brewery.ids["Ada"], family=FAMILY, state="qualified", until_on=ENDS,
            reason="An old hand.", signer=brewery.ids["Lee"], pin=seated.PIN,
        )  # fmt: skip
        with desk.store.recording("rulebook") as act:
            act.add("rulebook", rulebook_row(coming_rulebook()))
        yield desk


@pytest.fixture(autouse=True)
def today(desk):
    """Every test begins on the day the brewery was built for."""
    seated.at(desk, TODAY)


def coming_rulebook():
    """The default, as version 2, twenty days later, with a week of grace."""
    text = rulebook_text("default").replace("version = 1", "version = 2")
    lines = [
        f"counts_from = {TODAY + 20 * DAY}" if line.startswith("counts_from") else line
        for line in text.splitlines()
    ]
    return "\n".join(lines).replace("notice_days = 30", "grace_days = 7\nnotice_days = 30")


def lines(desk, kind, **asked):
    return [line for line in due(desk, **asked) if line.kind == kind]


def test_what_falls_due_is_listed_by_date(desk):
    days = [line.on for line in due(desk)]
    assert days == sorted(days)
    assert len(days) > 3


def test_a_seat_is_said_to_be_due_thirty_days_before_its_end(desk):
    (found,) = lines(desk, "notice")
    assert (found.on, found.name, found.family_label) == (TODAY + 10 * DAY, "Ada", "Pale")


def test_the_notice_says_when_the_seat_ends_and_how_the_rule_stands(desk):
    sentence = lines(desk, "notice")[0].sentence
    assert sentence.startswith(
        "Ada's seat for the pale is to be looked at: it ends on 19 September. Today: 5 of 6"
    )


def test_the_last_day_of_a_seat_is_listed(desk):
    assert [line.on for line in lines(desk, "end")] == [ENDS]


def test_somebody_without_a_seat_has_no_end_of_one(desk):
    assert {line.name for line in due(desk) if line.kind in ("notice", "end")} == {"Ada"}


def test_what_lies_after_the_days_asked_is_left_out(desk):
    assert lines(desk, "end", days=39) == []


def test_what_lies_on_the_last_of_the_days_asked_is_listed(desk):
    assert len(lines(desk, "end", days=40)) == 1


def test_without_grace_nothing_is_honoured_after_the_end(desk):
    assert lines(desk, "grace") == []


def test_the_last_day_of_grace_is_listed(desk):
    seated.at(desk, TODAY + 20 * DAY)  # the rulebook with grace is in force
    (found,) = lines(desk, "grace")
    assert found.on == ENDS + 7 * DAY


def test_a_notice_that_was_given_is_not_given_again(desk):
    seated.at(desk, TODAY + 11 * DAY)
    assert lines(desk, "notice") == []


def test_the_day_on_which_somebody_was_away_for_too_long_is_listed(desk):
    found = {line.name: line.on for line in lines(desk, "absence")}
    last_session = seated.FIRST + timedelta(weeks=9)
    assert found == dict.fromkeys(("Ada", "Lee"), last_session + 60 * DAY)


def test_a_rulebook_to_come_is_listed_on_its_first_day(desk):
    (found,) = lines(desk, "rulebook")
    assert (found.on, found.person_id) == (TODAY + 20 * DAY, "")
    assert found.sentence == "The rulebook “default”, version 2, comes into force."


def test_a_rulebook_in_force_is_not_listed(desk):
    seated.at(desk, TODAY + 20 * DAY)
    assert lines(desk, "rulebook") == []


def test_mets_that_end_on_one_day_are_one_line(desk):
    found = [line for line in lines(desk, "compounds", days=250) if line.name == "Ada"]
    assert [len(line.compounds) for line in found] == [5]


def test_a_met_ends_twenty_six_weeks_after_it_was_met_last_or_sooner(desk):
    found = lines(desk, "compounds", days=250)
    assert all(date(2026, 8, 10) < line.on <= TODAY + timedelta(weeks=28) for line in found)
    assert {line.name for line in found} == {"Ada", "Lee"}
