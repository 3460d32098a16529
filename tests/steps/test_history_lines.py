"""The history act by act: what it says, what it keeps to itself, and how it is taken away."""

import csv
import io
import json
import shutil
from datetime import date
from hashlib import sha256

import pytest
import thursday
from written import flight, results

from seatworthy.steps.asides import set_glass_aside
from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.chain_head import chain_head, grouped
from seatworthy.steps.desk import open_desk
from seatworthy.steps.history_exports import history_csv, history_json
from seatworthy.steps.history_lines import history_lines
from seatworthy.steps.history_words import what_happened
from seatworthy.steps.signers import appoint_signer, change_pin
from seatworthy.steps.spreadsheet import csv_bytes
from seatworthy.store.history import last_entry


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    """A planned Thursday, answered, with a glass that Bo set aside: store, people, session, glass."""
    folder = tmp_path_factory.mktemp("told")
    desk = open_desk(folder / "panel.duckdb")
    people = thursday.set_up(desk, folder)
    session_id = thursday.planned(desk, people)
    thursday.answer_all(desk, session_id)
    glasses = thursday.facts_of(desk, session_id).glasses
    glass = next(glass for glass in glasses if glass.person_id == people["Carmen"])
    set_glass_aside(desk, glass.serving_id, "=the glass smelled of soap", people["Bo"])
    desk.close()
    return desk.store.path, people, session_id, glass


@pytest.fixture
def desk(built, tmp_path):
    """A desk of one's own at a copy."""
    path = tmp_path / "panel.duckdb"
    shutil.copyfile(built[0], path)
    opened = open_desk(path)
    opened.today = lambda: thursday.TODAY
    yield opened
    opened.close()


@pytest.fixture
def people(built):
    return built[1]


@pytest.fixture
def told(built):
    return built[3]


def whats(view):
    return [line.what for line in view.lines]


def test_every_entry_is_one_line_with_the_newest_first(desk):
    view = history_lines(desk)
    head = chain_head(desk)
    assert [line.entry_no for line in view.lines] == list(range(head.entry_no, 0, -1))


def test_a_new_store_tells_of_its_vocabulary_and_its_first_rulebook(desk):
    said = " ".join(whats(history_lines(desk)))
    assert "compounds: " in said
    assert "Rulebook default, version 1, adopted" in said


def test_a_plan_is_told_by_its_session_and_not_by_what_is_in_the_glasses(desk):
    day = f"{thursday.TODAY:%-d %B %Y}"
    line = next(line for line in history_lines(desk).lines if line.kind == "plan")
    assert line.what == (
        f"Thursday panel of {day} planned, for qualification. 72 glasses for 9 people."
    )


def test_no_line_says_what_was_answered_or_poured(desk):
    said = " ".join(whats(history_lines(desk, kinds=("answers", "sessions")))).casefold()
    assert "thursday" in said
    assert not any(word in said for word in ("diacetyl", "dms", "acetaldehyde", "nothing"))


def test_a_glass_set_aside_is_told_with_its_person_its_reason_and_its_author(desk, told, people):
    line = history_lines(desk).lines[0]
    day = f"{thursday.TODAY:%-d %B %Y}"
    assert line.what == (
        f"Glass {told.blind_code} of Carmen Ruiz, Thursday panel of {day}, set aside: "
        "=the glass smelled of soap."
    )
    assert line.who == "Bo Larsen"
    assert line.concerned == {told.person_id, people["Bo"]}


def test_a_results_file_is_told_with_its_rows(desk, tmp_path):
    rows = flight("2026-01-05", "Zoe", {"diacetyl": "diacetyl", "blank": "nothing"}, first=100)
    bring_in_results(desk, results(tmp_path / "first.csv", rows), new_people=["Zoe"])
    line = history_lines(desk).lines[0]
    assert line.group == "files"
    assert line.what.startswith("Results file “first.csv” brought in: 2 rows read, 2 added.")


def test_a_kind_that_nobody_knows_still_shows():
    assert what_happened("moved house", 3, {}) == "Recorded as “moved house”: 3 facts."


def test_a_signer_appointed_is_told_apart_from_one_with_a_new_pin(desk, people):
    appoint_signer(desk, people["Ada"], "1234")
    change_pin(desk, people["Ada"], "1234", "4321")
    assert whats(history_lines(desk))[:2] == [
        "Ada Moran has a new PIN.",
        "Ada Moran may sign decisions.",
    ]


def test_a_kind_of_act_leaves_the_others_out(desk):
    lines = history_lines(desk, kinds=("corrections",)).lines
    assert [line.kind for line in lines] == ["set aside"]


def test_a_person_is_found_as_author_and_as_the_one_concerned(desk, people):
    for name in ("Bo", "Carmen"):
        assert "soap" in history_lines(desk, who=people[name]).lines[0].what
    assert "soap" not in " ".join(whats(history_lines(desk, who=people["Dilek"])))


def test_days_are_the_brewerys_and_both_ends_belong(desk):
    day = history_lines(desk).lines[0].recorded_at.date()
    assert history_lines(desk, since=day, until=day).lines
    assert not history_lines(desk, until=date(2020, 1, 1)).lines
    assert not history_lines(desk, since=date(2099, 1, 1)).lines


def test_every_word_must_occur_in_whatever_case(desk):
    assert len(history_lines(desk, words="SOAP bo").lines) == 1
    assert not history_lines(desk, words="soap parsnip").lines


def test_a_digest_is_found_by_its_beginning(desk):
    line = history_lines(desk).lines[2]
    assert history_lines(desk, words=line.digest[:12]).lines == (line,)


def test_a_sound_record_adds_up_and_names_its_head(desk):
    view = history_lines(desk)
    with desk.store.reading() as cursor:
        entry_no, digest = last_entry(cursor)
    assert (view.faults, view.catch) == ((), "")
    assert f"record entry {entry_no}, {grouped(digest[:16])}" in view.lead


def test_a_changed_fact_is_the_catch_of_the_page(desk):
    with desk.store.reading() as cursor:
        cursor.execute("update session set label = 'Friday panel'")
    view = history_lines(desk)
    assert view.catch == "1 thing does not add up."
    assert "facts of entry" in view.lead


def test_the_head_of_an_earlier_moment_is_the_entry_of_then(desk):
    earlier = history_lines(desk).lines[1]
    moment = earlier.recorded_at.replace(tzinfo=None)
    found = chain_head(desk, moment)
    assert (found.entry_no, found.digest) == (earlier.entry_no, earlier.digest)


def test_the_csv_holds_every_line_with_its_whole_digest_and_zone(desk):
    view = history_lines(desk)
    made = history_csv(view)
    rows = list(csv.DictReader(io.StringIO(made.decode("utf-8-sig"))))
    assert made.startswith(b"\xef\xbb\xbf")
    assert [row["digest (SHA-256, hex)"] for row in rows] == [line.digest for line in view.lines]
    assert all(row["recorded at (ISO 8601)"].endswith("+00:00") for row in rows)


@pytest.mark.parametrize("name", ["=1+1", "+49", "-x", "@me", "\tx"])
def test_no_cell_is_a_formula(name):
    cell = next(csv.reader(io.StringIO(csv_bytes([name], []).decode("utf-8-sig"))))[0]
    assert cell == f"'{name}"


def test_the_json_carries_the_head_and_how_to_recompute_a_digest(desk):
    view = history_lines(desk)
    found = json.loads(history_json(view))
    assert found["head"] == {"entry": view.head.entry_no, "digest_sha256": view.head.digest}
    assert found["adds_up"] is True
    assert "64 zeros for the first" in found["how_to_recompute"]


def test_a_digest_can_be_recomputed_as_the_json_says(desk):
    with desk.store.reading() as cursor:
        rows = cursor.execute(
            "select entry_no, recorded_at, kind, facts, facts_digest, previous_digest from history"
            " order by entry_no"
        ).fetchall()
    number, moment, *rest = rows[-1]
    fields = [str(number), f"{moment:%Y-%m-%d %H:%M:%S.%f}", *(str(field) for field in rest)]
    assert sha256("\x1f".join(fields).encode()).hexdigest() == chain_head(desk).digest
