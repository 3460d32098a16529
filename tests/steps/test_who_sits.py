"""Who sits: whoever meets the rule until the first seat is signed, afterwards only signed seats."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
import seated
from seated import FAMILY, PIN, TODAY

from seatworthy.rules.texts import rulebook_text
from seatworthy.steps.decisions import sign_decision
from seatworthy.steps.judging import judge_day
from seatworthy.steps.rulebooks import adopt_rulebook, supposed_rulebook
from seatworthy.steps.who_sits import who_sits

DAY = timedelta(days=1)
END = TODAY + timedelta(days=60)


@pytest.fixture
def desk(brewery, tmp_path):
    with seated.opened(brewery, tmp_path) as desk:
        yield desk


@pytest.fixture
def sign(desk, brewery):
    def signed(who="Ada", state="probation", until_on=END, **changed):
        sign_decision(
            desk, person_id=brewery.ids[who], family=FAMILY, state=state, until_on=until_on,
            signer=brewery.ids["Lee"], pin=PIN, reason="As agreed with them.", **changed,
        )  # fmt: skip

    return signed


@pytest.fixture
def sitting(desk, brewery):
    """Names of those who sit, on a day and by a record."""

    def names(day=TODAY, known_at=None, book=None):
        found = who_sits(desk, judge_day(desk, day, known_at, supposed_book=book), FAMILY)
        return {name for name, person in brewery.ids.items() if found.sits(person)}

    return names


@pytest.fixture
def ada(desk, brewery):
    def said(day=TODAY):
        found, person = who_sits(desk, judge_day(desk, day), FAMILY), brewery.ids["Ada"]
        return found.sits(person), found.until(person), found.why_not(person)

    return said


def strict_about_probation():
    text = rulebook_text("default").replace("probation_counts = true", "probation_counts = false")
    return supposed_rulebook(text)


def with_grace():
    text = rulebook_text("default").replace("version = 1", "version = 2")
    text = text.replace("counts_from = 2025-01-01", f"counts_from = {TODAY}")
    return text.replace("notice_days = 30 ", "grace_days = 14\nnotice_days = 30 ")


def test_before_the_first_signature_whoever_meets_the_rule_sits(sitting):
    assert sitting() == {"Lee", "Ada"}


def test_afterwards_only_signed_seats_sit(sitting, sign):
    sign()
    assert sitting() == {"Ada"}


def test_who_meets_the_rule_without_a_seat_waits_for_a_signature(desk, brewery, sign):
    sign()
    found = who_sits(desk, judge_day(desk), FAMILY)
    assert found.why_not(brewery.ids["Lee"]) == "not signed yet"


def test_who_does_not_meet_the_rule_gets_no_other_reason(desk, brewery, sign):
    sign()
    found = who_sits(desk, judge_day(desk), FAMILY)
    assert found.why_not(brewery.ids["Bo"]) == ""


def test_a_signed_seat_sits_though_the_rule_is_not_met(sitting, sign):
    sign("Cleo", "qualified")
    assert sitting() == {"Cleo"}


def test_a_seat_ends_on_the_day_signed(ada, sign):
    sign()
    assert ada() == (True, END, "on probation")


def test_without_signatures_it_ends_when_the_rule_ceases_to_be_met(desk, brewery, ada):
    until = judge_day(desk).seats[brewery.ids["Ada"], FAMILY].until
    assert ada() == (True, until, "")


def test_probation_may_not_sit_where_the_rulebook_says_so(sitting, sign):
    sign()
    assert sitting(book=strict_about_probation()) == set()


def test_a_full_seat_sits_where_probation_may_not(sitting, sign):
    sign(state="qualified")
    assert sitting(book=strict_about_probation()) == {"Ada"}


@pytest.mark.parametrize("state", ["paused", "suspended"])
def test_a_seat_that_rests_does_not_sit(sitting, sign, ada, state):
    sign(state="qualified")
    sign(state=state, until_on=None)
    assert ada()[:2] == (False, None)
    assert ada()[2] != ""


def test_no_seat_stands_once_the_last_one_was_withdrawn(sitting, sign):
    sign(state="qualified")
    sign(state="withdrawn", until_on=None)
    assert sitting() == set()


def test_somebody_who_withdrew_before_any_seat_was_signed_empties_no_panel(sitting, sign):
    sign("Cleo", "withdrawn", until_on=None)
    assert sitting() == {"Lee", "Ada"}


def test_somebody_who_withdrew_does_not_sit_though_nothing_else_was_signed(sitting, sign, ada):
    sign(state="withdrawn", until_on=None)
    assert sitting() == {"Lee"}
    assert ada() == (False, None, "left the panel")


def sits_on(desk, person, days):
    """Whether somebody sits on days to come, the glasses being those of today."""
    judged = judge_day(desk)
    return [who_sits(desk, replace(judged, as_of=day), FAMILY).sits(person) for day in days]


def test_a_seat_lapses_by_its_date_alone(desk, brewery, sign):
    sign()
    assert sits_on(desk, brewery.ids["Ada"], (END, END + DAY)) == [True, False]


def test_a_seat_in_grace_still_sits(desk, brewery, sign):
    adopt_rulebook(desk, with_grace(), signer=brewery.ids["Lee"], pin=PIN)
    sign()
    assert sits_on(desk, brewery.ids["Ada"], (END + 14 * DAY, END + 15 * DAY)) == [True, False]


def test_of_a_past_day_what_was_signed_later_is_left_out(sitting, sign):
    sign()
    assert sitting(TODAY - DAY) == {"Lee", "Ada"}


def test_a_seat_that_begins_tomorrow_does_not_sit_today(sitting, sign):
    sign("Cleo", "qualified", from_on=TODAY + DAY)
    assert sitting() == {"Lee", "Ada"}


def test_by_the_record_of_then_nothing_was_signed(sitting, sign):
    moment = datetime.now(UTC).replace(tzinfo=None)
    sign()
    assert sitting(known_at=moment) == {"Lee", "Ada"}


def test_the_panel_is_of_those_who_sit(desk, sign):
    sign()
    panel = who_sits(desk, judge_day(desk), FAMILY).panel()
    assert panel.verdict.sentence.startswith("1 person can sit, 4 are asked for")
