"""What is kept about a person, the copy they are given, and how long they are kept."""

import io
import json
import zipfile
from datetime import date, timedelta

import pytest
import thursday

from seatworthy.errors import PanelError
from seatworthy.steps import kept_about, own_copy, retention
from seatworthy.steps.ballot_links import hand_out
from seatworthy.steps.history_lines import history_lines
from seatworthy.steps.kept_words import HEADS, PLACE_WORDS
from seatworthy.steps.signers import appoint_signer
from seatworthy.store import about_person

DAY = timedelta(days=1)


@pytest.fixture
def people(desk, tmp_path):
    return thursday.set_up(desk, tmp_path)


def test_every_place_that_can_be_about_a_person_has_its_words(store):
    """A table made later with a key to a person can't be forgotten: it must be told in words."""
    with store.reading() as cursor:
        assert {place.key for place in about_person.places(cursor)} == set(PLACE_WORDS)
    assert {head for head, _, _ in PLACE_WORDS.values()} == set(HEADS)


def test_every_column_that_holds_a_persons_id_is_such_a_place(store):
    """Also one that bears no key, by its name."""
    with store.reading() as cursor:
        found = {place.key for place in about_person.places(cursor)}
        named = cursor.execute(
            "select table_name || '.' || column_name from duckdb_columns() where column_name in"
            " ('person_id', 'signed_by', 'stands_for', 'serving_id', 'proposal_id') and table_name in"
            " (select table_name from duckdb_tables())"
        ).fetchall()
    told_otherwise = {"proposal.proposal_id", "decision.proposal_id", "serving.serving_id"}
    assert {key for (key,) in named} - told_otherwise <= found


def test_the_page_says_what_is_kept_and_that_nobody_said_how_long(desk, people):
    view = kept_about.kept_about(desk, people["Ada"])
    assert (view.answer, view.catch) == (
        "Of Ada Moran a name is kept", "nobody has said for how long",
    )  # fmt: skip
    assert "Local law decides" in view.lead
    assert [line.words for line in view.lines] == [
        "spelling put on record", "name as it is shown", "statement of being on the panel or not",
    ]  # fmt: skip
    assert "answers, with own words" in view.nothing_in


def test_nobody_is_found_under_another_id(desk, people):
    assert kept_about.kept_about(desk, "nobody") is None
    with pytest.raises(PanelError, match="Nobody on the list of people"):
        own_copy.hand_out_copy(desk, "nobody")


def test_a_pin_and_a_link_are_told_and_never_shown(desk, people):
    appoint_signer(desk, people["Ada"], "2468")
    session_id = thursday.planned(desk, people)
    hand_out(desk, session_id)
    view = kept_about.kept_about(desk, people["Ada"])
    words = {line.key: (line.rows, line.words) for line in view.lines}
    assert words["signer_pin.person_id"] == (1, "PIN, of which only a digest is kept")
    assert words["ballot_link.person_id"][1] == "link to a ballot, of which only a digest is kept"
    assert "may sign decisions, with a PIN of which only a digest is kept" in " ".join(view.said)
    with desk.store.reading() as cursor:
        secrets = cursor.execute(
            "select pin_salt from signer_pin union all select pin_digest from signer_pin"
            " union all select link_digest from ballot_link"
        ).fetchall()
    text = own_copy.copy_json(desk, view).decode() + own_copy.copy_text(desk, view)
    assert not [secret for (secret,) in secrets if secret in text]


def test_a_copy_holds_the_persons_glasses_and_nobody_elses(desk, people):
    closed = thursday.a_session(desk, people, {"dms": "boiled corn of mine"})
    name, data = own_copy.hand_out_copy(desk, people["Ada"], people["Bo"])
    assert name == f"kept-{thursday.TODAY}.zip"
    with zipfile.ZipFile(io.BytesIO(data)) as file:
        text = file.read("kept.txt").decode("utf-8-sig")
        found = json.loads(file.read("kept.json"))
    facts = thursday.facts_of(desk, closed)
    own = [glass for glass in facts.glasses if glass.person_id == people["Ada"]]
    assert len(found["glasses"]) == len(own) == found["counts"]["answer.serving_id"]
    assert "said “boiled corn of mine”; in it Dimethyl sulfide (DMS)" in text
    everything = text + json.dumps(found)
    for first, person_id in people.items():
        assert (person_id in everything) is (first == "Ada"), first
    assert not any(other in everything for other in thursday.NAMES[1:])


def test_a_copy_says_nothing_of_a_session_that_is_open(desk, people):
    session_id = thursday.planned(desk, people)
    thursday.answer_all(desk, session_id)
    view = kept_about.kept_about(desk, people["Ada"])
    found = json.loads(own_copy.copy_json(desk, view))
    assert found["glasses"] == []
    assert not {"serving.person_id", "answer.serving_id"} & found["rows"].keys()
    samples = {glass.sample_id for glass in thursday.facts_of(desk, session_id).glasses}
    assert not [sample for sample in samples if sample in json.dumps(found)]


def test_a_copy_handed_out_is_recorded_with_who_did_it(desk, people):
    own_copy.hand_out_copy(desk, people["Ada"], people["Bo"])
    line = history_lines(desk).lines[0]
    assert line.what == "Ada Moran was given a copy of what is kept about them."
    assert (line.who, line.group) == ("Bo Larsen", "kept")


def test_without_a_statement_nobody_is_past_their_time(desk, people):
    assert retention.past_their_time(desk) == ()
    assert retention.reminder(desk) == ""


def test_the_time_runs_from_the_last_sitting_and_both_sides_of_its_end_are_told(desk, people):
    thursday.a_session(desk, people)
    retention.state_retention(desk, 24)
    ada = next(one for one in retention.kept_people(desk) if one.person_id == people["Ada"])
    assert ada.last_on == thursday.TODAY
    desk.today = lambda: ada.ends_on
    assert retention.past_their_time(desk) == ()
    desk.today = lambda: ada.ends_on + DAY
    assert len(retention.past_their_time(desk)) == len(thursday.NAMES)
    assert retention.reminder(desk) == (
        "Ada Moran, Bo Larsen, Carmen Ruiz and 6 more are kept longer than 24 months after the last "
        "sitting: make anonymous, or say until when to keep."
    )
    assert kept_about.kept_about(desk, people["Ada"]).catch.startswith("their time ended on ")


def test_somebody_is_kept_longer_until_a_day(desk, people):
    retention.state_retention(desk, 1)
    desk.today = lambda: thursday.TODAY + timedelta(days=40)
    until = desk.today() + timedelta(days=10)
    retention.keep_longer(desk, people["Ada"], until, people["Bo"])
    assert people["Ada"] not in [one.person_id for one in retention.past_their_time(desk)]
    assert "Kept until" in kept_about.kept_about(desk, people["Ada"]).lead
    desk.today = lambda: until + DAY
    assert people["Ada"] in [one.person_id for one in retention.past_their_time(desk)]
    assert history_lines(desk).lines[0].what.startswith("Ada Moran is kept until ")


@pytest.mark.parametrize("days", [0, -1, 366 * 10 + 1])
def test_a_day_that_is_past_or_too_far_is_refused(desk, people, days):
    with pytest.raises(PanelError, match="within ten years"):
        retention.keep_longer(desk, people["Ada"], desk.today() + timedelta(days=days))


def test_a_statement_of_no_months_is_refused_and_none_ends_the_reminder(desk, people):
    for months in (0, 601):
        with pytest.raises(PanelError, match="Name 1 to 600"):
            retention.state_retention(desk, months)
    retention.state_retention(desk, 1)
    assert retention.state_retention(desk, 1) == "Nothing new to record."
    assert "without an end" in retention.state_retention(desk, None)
    assert retention.keep_months(desk) is None
    whats = [line.what for line in history_lines(desk).lines[:2]]
    assert whats == [
        "People are kept without an end.", "People are kept for 1 month after they last sat.",
    ]  # fmt: skip


def test_a_day_on_the_last_of_a_month_ends_within_the_shorter_one(desk, people):
    desk.today = lambda: date(2030, 1, 1)
    retention.state_retention(desk, 1)
    assert all(one.ends_on > one.last_on for one in retention.kept_people(desk))
