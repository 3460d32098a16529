from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal

import pytest
from asked import (
    TODAY,
    WISH,
    faults_of,
    only_fault_of,
    sitting,
    wish,
)

from seatworthy.errors import PanelError, PlanRefused


def on(day):
    sittings = tuple(
        replace(s, starts_at=datetime.combine(day, s.starts_at.time())) for s in WISH.sittings
    )
    return wish(session_on=day, sittings=sittings)


def test_a_sensible_wish_has_no_fault():
    assert faults_of(WISH) == ()


def test_a_refused_plan_is_the_users_to_mend_and_lists_its_faults():
    refused = PlanRefused(["First.", "Second."])
    assert isinstance(refused, PanelError)
    assert str(refused) == "This plan can't be made yet:\n- First.\n- Second."


def test_all_faults_are_said_at_once():
    asked = wish(label=" ", purpose="fun", samples=(), sittings=(), spares=9, volume_ml=Decimal(1))
    assert len(faults_of(asked)) == 6


@pytest.mark.parametrize("day", [TODAY, date(2027, 11, 10)])
def test_a_day_from_today_to_a_year_ahead_can_be_planned(day):
    assert faults_of(on(day)) == ()


def test_a_day_that_is_past_is_refused():
    assert only_fault_of(on(date(2026, 11, 8))) == (
        "8 November 2026 is past: bring its results in as a file, or choose a day from today on."
    )


def test_a_day_more_than_a_year_ahead_is_refused():
    assert only_fault_of(on(date(2027, 11, 11))) == (
        "11 November 2027 is more than a year ahead: choose a day up to 10 November 2027."
    )


@pytest.mark.parametrize("label", ["", "  "])
def test_a_session_needs_a_name(label):
    assert only_fault_of(wish(label=label)) == (
        "The session has no name: give it one, such as “Thursday panel”."
    )


def test_an_unknown_purpose_is_refused():
    assert only_fault_of(wish(purpose="fun")) == (
        "“fun” is not a purpose: choose training, qualification or monitoring."
    )


def test_a_start_on_another_day_is_refused():
    asked = wish(sittings=(sitting(day=date(2026, 11, 13)),))
    assert only_fault_of(asked) == (
        "“Early shift” starts on 13 November 2026 and the session is on 12 November 2026: let it "
        "start that day, or plan a session of its own for it."
    )


def test_a_start_the_clocks_jump_over_is_refused():
    day = date(2027, 3, 28)
    asked = wish(session_on=day, sittings=(sitting(day=day, hour=1),))
    (fault,) = faults_of(asked)
    assert fault.startswith("01:00 on 28 March 2027 does not exist in Europe/Dublin")


def test_a_session_without_sitting_is_refused():
    assert only_fault_of(wish(sittings=())) == (
        "There is no sitting: add one with its time and the people who come."
    )


def test_a_sitting_without_people_is_refused():
    assert only_fault_of(wish(sittings=(sitting(), sitting("Late shift", ())))) == (
        "Nobody comes to “Late shift”: choose who does, or take the sitting out."
    )


@pytest.mark.parametrize("label", ["Early shift", " early  SHIFT"])
def test_two_sittings_of_one_name_are_refused(label):
    assert only_fault_of(wish(sittings=(sitting(), sitting(label, ("dov",))))) == (
        "Two sittings are called “Early shift”: give each a name of its own."
    )


def test_the_caller_says_when_two_names_are_one():
    asked = wish(sittings=(sitting("Früh"), sitting("Frueh", ("dov",))))
    found = only_fault_of(asked, label_key=lambda label: label.replace("ü", "ue"))
    assert found == "Two sittings are called “Früh”: give each a name of its own."


def test_a_sitting_needs_a_name():
    assert only_fault_of(wish(sittings=(sitting(" "),))) == (
        "A sitting has no name: give it one, such as “Early shift”."
    )


def test_somebody_who_comes_to_two_sittings_is_named_with_both():
    asked = wish(sittings=(sitting(), sitting("Late shift", ("ada", "dov"))))
    assert only_fault_of(asked) == (
        "Ada Quill comes to “Early shift” and “Late shift”: one sitting a session is enough, since "
        "the same samples are poured at each; choose one."
    )


def test_somebody_who_stands_twice_in_one_sitting_is_named():
    assert only_fault_of(wish(sittings=(sitting(people=("ada", "bo", "ada")),))) == (
        "Ada Quill stands twice in “Early shift”: take one of them out."
    )


def test_somebody_who_is_not_on_record_cannot_come():
    assert only_fault_of(wish(sittings=(sitting(people=("ada", "nobody")),))) == (
        "Somebody asked to “Early shift” is not on the list of people (nobody): add them there, or "
        "choose somebody else."
    )


def test_somebody_who_is_not_on_record_cannot_prepare():
    assert only_fault_of(wish(preparers=("nobody",))) == (
        "Somebody who prepares is not on the list of people (nobody): add them there, or choose "
        "somebody else."
    )


@pytest.mark.parametrize("preparers", [("bo", "ada"), ("bo", "ada", "finn")])
def test_a_panel_of_preparers_alone_is_refused(preparers):
    asked = wish(sittings=(sitting(people=("ada", "bo")),), preparers=preparers)
    assert only_fault_of(asked) == (
        "Ada Quill and Bo Marsh would prepare and taste, and nobody else comes, so no answer would "
        "count: let somebody who doesn't taste prepare, or ask one more person to come."
    )


def test_one_taster_who_does_not_prepare_is_enough():
    asked = wish(sittings=(sitting(people=("ada", "bo")),), preparers=("bo",))
    assert faults_of(asked) == ()


@pytest.mark.parametrize("spares", [0, 4])
def test_up_to_four_spare_orders_can_be_had(spares):
    assert faults_of(wish(spares=spares)) == ()


@pytest.mark.parametrize("spares", [-1, 5])
def test_other_numbers_of_spare_orders_are_refused(spares):
    assert only_fault_of(wish(spares=spares)) == (
        f"{spares} spare orders were asked for: choose 0 to 4 for each sitting."
    )
