"""What the history says of proposals, replies, signatures, spellings and corrections."""

from datetime import timedelta

import pytest
import seated
from seated import FAMILY, TODAY

from seatworthy.steps.decisions import sign_decision
from seatworthy.steps.history_lines import history_lines
from seatworthy.steps.history_words import group_of, what_happened
from seatworthy.steps.people import merge_people, split_people
from seatworthy.steps.proposals import put_forward, reply

UNTIL = TODAY + timedelta(days=90)
PART = {"name": "", "session_label": "", "session_on": None, "number": 1, "is_so": None, "words": "",
        "more": "", "reason": "", "first_on": None, "last_on": None}  # fmt: skip


@pytest.fixture
def desk(brewery, tmp_path):
    with seated.opened(brewery, tmp_path) as desk:
        yield desk


@pytest.fixture
def ids(brewery):
    return brewery.ids


def newest(desk):
    return history_lines(desk).lines[0]


def sign(desk, ids, **changed):
    asked = {
        "person_id": ids["Ada"], "family": FAMILY, "state": "probation", "until_on": UNTIL,
        "reason": "sound", "signer": ids["Lee"], "pin": seated.PIN,
    }  # fmt: skip
    return sign_decision(desk, **{**asked, **changed})


def test_a_decision_is_told_with_its_state_its_days_and_its_reason(desk, ids):
    sign(desk, ids)
    line = newest(desk)
    assert line.what == (
        "Decision signed for Ada (pale): on probation, from 10 August 2026 until 8 November 2026. "
        "Reason: sound."
    )
    assert (line.who, line.group) == ("Lee", "seats")
    assert line.concerned == {ids["Ada"], ids["Lee"]}


def test_a_decision_without_an_end_names_none(desk, ids):
    sign(desk, ids, state="withdrawn", until_on=None, reason="asked to leave it")
    assert "Ada (pale): left the panel, from 10 August 2026. Reason" in newest(desk).what


def test_a_proposal_and_the_reply_to_it_are_told(desk, ids):
    proposal = put_forward(desk, ids["Ada"], FAMILY, ids["Lee"])
    assert newest(desk).what.startswith("Proposal put before Ada (pale): on probation until ")
    reply(desk, proposal, "recheck", "I had a cold", ids["Lee"])
    assert newest(desk).what == "Ada asks for a recheck: I had a cold."
    assert ids["Ada"] in newest(desk).concerned


def test_a_merge_and_its_split_are_told(desk):
    merge_people(desk, "Cleo", "Bo")
    assert newest(desk).what == "“Cleo” and “Bo” are one person."
    split_people(desk, "Cleo")
    assert newest(desk).what == "“Cleo” and “Bo” are two people again."


def test_a_correction_is_told_once_though_it_holds_an_answer_too():
    parts = {
        "answer": [{**PART, "name": "Ada", "words": "731", "more": "1"}],
        "correction": [{**PART, "name": "Ada", "words": "731", "reason": "misread"}],
    }
    assert what_happened("correction", 3, parts) == (
        "Answer of Ada to glass 731, several sessions, corrected: misread."
    )
    assert group_of(parts) == "corrections"


def test_an_adopted_rulebook_is_told_with_its_version_and_its_day():
    parts = {"rulebook": [{**PART, "words": "house", "number": 3, "first_on": TODAY}]}
    assert what_happened("rulebook", 1, parts) == (
        "Rulebook house, version 3, adopted; it counts from 10 August 2026."
    )


def test_what_somebody_is_not_to_be_served_is_not_said(desk, ids):
    with desk.store.recording("people") as act:
        row = {"person_id": ids["Bo"], "kind": "compound", "what": "dms", "is_in_force": True}
        act.add("not_served", row)
    assert newest(desk).what == "What Bo is not to be served was stated."
