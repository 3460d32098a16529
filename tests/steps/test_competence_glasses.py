"""The glasses behind a competence record: every one, and why one doesn't count."""

import csv
import io
import json
from datetime import date, timedelta

import pytest
import seated
from seated import FAMILY, TODAY
from written import HEADER

from seatworthy.steps.asides import set_glass_aside
from seatworthy.steps.audit_exports import audit_csv, audit_json
from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.competence import competence

DAY = TODAY - timedelta(days=3)
# Method, code, compound, level, answer, beer, family.
FURTHER = (
    ("naming", 901, "diacetyl", 1, "diacetyl", "Pils", "Pale"),
    ("naming", 902, "diacetyl", 9, "diacetyl", "Pils", "Pale"),
    ("naming", 903, "diacetyl", 3, "chip shop", "Pils", "Pale"),
    ("naming", 904, "diacetyl", 3, "something", "Pils", "Pale"),
    ("naming", 905, "diacetyl", 3, "dms", "Pils", "Pale"),
    ("naming", 906, "diacetyl", 3, "nothing", "Weizen", "Wheat"),
    ("3afc", 907, "diacetyl", 3, "right", "Pils", "Pale"),
    ("naming", 908, "blank", "", "something", "Pils", "Pale"),
    ("naming", 909, "blank", "", "chip shop", "Pils", "Pale"),
    ("naming", 910, "vanillin", 3, "vanillin", "Pils", "Pale"),
    ("naming", 911, "diacetyl", 3, "diacetyl", "Pils", "Pale"),
)
COUNTED = "counted glasses"


@pytest.fixture(scope="module")
def told(brewery, tmp_path_factory):
    """Ada's record after a session with a glass of each kind."""
    folder = tmp_path_factory.mktemp("told")
    path = folder / "further.csv"
    lines = [f"{DAY},Ada,{','.join(str(cell) for cell in glass)}" for glass in FURTHER]
    path.write_text("\n".join([",".join(HEADER), *lines]) + "\n", encoding="utf-8")
    with seated.opened(brewery, folder) as desk:
        bring_in_results(desk, path)
        glasses = desk.store.rows("person_evidence", person_id=brewery.ids["Ada"], until_on=TODAY)
        aside = next(row["serving_id"] for row in glasses if row["code"] == "911")
        set_glass_aside(desk, aside, "it smelt of soap", brewery.ids["Lee"])
        desk.judged.clear()
        yield competence(desk, brewery.ids["Ada"], family=FAMILY)


@pytest.fixture
def desk(brewery, tmp_path):
    with seated.opened(brewery, tmp_path) as desk:
        yield desk


def rows(paper, key):
    table = next(section for section in paper.sections if section.key == key).table
    names = [column.name for column in table.columns]
    return [dict(zip(names, row, strict=True)) for row in table.rows]


def glass(paper, code, key="glasses"):
    return next(row for row in rows(paper, key) if row["code or position"] == str(code))


def test_a_glass_is_told_with_day_code_compound_level_answer_and_outcome(told):
    found = glass(told, 905)
    assert (found["day"], found["compound"]) == (DAY, "diacetyl")
    assert found["total level (multiple of the working threshold)"] == 3.0
    assert (found["said"], found["outcome"], found["counts"]) == ("DMS", "another name", True)


@pytest.mark.parametrize(
    ("code", "why"),
    [(901, "weaker than 2×"), (902, "stronger than 4×"), (903, "own words wait for a meaning"),
     (906, "another beer: wheat"), (907, "no name was asked for"),
     (911, "set aside: it smelt of soap")],
)  # fmt: skip
def test_a_glass_that_does_not_count_says_why(told, code, why):
    found = glass(told, code)
    assert (found["counts"], found["why it does not count"]) == (False, why)


def test_something_without_a_name_counts_and_is_said_so(told):
    found = glass(told, 904)
    assert (found["said"], found["outcome"]) == ("something, without a name", "noticed, no name")
    assert found["counts"]


def test_a_forced_choice_names_its_method(told):
    assert glass(told, 907)["method where no name was asked for"] == "3-AFC"
    assert glass(told, 905)["method where no name was asked for"] == ""


def test_the_glasses_that_count_add_up_to_those_of_the_verdict(told):
    for compound in rows(told, "compounds"):
        name = compound["compound"].casefold()
        own = [row for row in rows(told, "glasses") if row["compound"].casefold() == name]
        if own:
            counting = [row for row in own if row["counts"]]
            right = [row for row in counting if row["outcome"] == "named right"]
            assert len(counting) == compound[COUNTED], compound
            assert len(right) == compound["counted glasses named right"], compound


def test_a_compound_that_is_not_critical_is_left_out(told):
    assert all(row["compound"] != "vanillin" for row in rows(told, "glasses"))


def test_a_call_in_a_blank_counts(told):
    found = glass(told, 908, "blanks")
    assert (found["outcome"], found["counts"]) == ("a call", True)


def test_own_words_in_a_blank_wait(told):
    found = glass(told, 909, "blanks")
    assert found["why it does not count"] == "own words wait for a meaning"


def test_the_blanks_that_count_add_up_to_those_of_the_rule(told):
    count = sum(row["counts"] for row in rows(told, "blanks"))
    said = next(section for section in told.sections if section.key == "rules").sentences[0]
    assert said.startswith(f"Blanks in the window of the rule: {count}, ")


def test_the_appendix_says_how_many_there_are_and_how_many_count(told):
    section = next(section for section in told.sections if section.key == "glasses")
    count = sum(row["counts"] for row in rows(told, "glasses"))
    many = len(section.table.rows)
    assert section.sentences[0].startswith(f"{many} answered glasses, oldest first; {count} count.")


def test_csv_and_json_hold_every_glass(told):
    lines = csv.DictReader(io.StringIO(audit_csv(told).decode("utf-8-sig")))
    days = [
        line for line in lines if (line["section"], line["field (with unit)"]) == ("glasses", "day")
    ]
    parts = json.loads(audit_json(told))["sections"]
    kept = next(part for part in parts if part["key"] == "glasses")["rows"]
    assert len(days) == len(kept) == len(rows(told, "glasses"))


def test_a_glass_older_than_the_window_is_listed_and_does_not_count(desk, brewery):
    seated.at(desk, date(2027, 6, 8))
    paper = competence(desk, brewery.ids["Ada"], family=FAMILY)
    first, *_, last = rows(paper, "glasses")
    assert first["why it does not count"] == "older than 12 months"
    assert last["counts"]
    assert rows(paper, "blanks")[0]["why it does not count"] == "older than 12 months"


def test_a_glass_prepared_by_the_same_person_says_so(desk, brewery):
    with desk.store.reading() as cursor:
        cursor.execute(
            "insert into preparer select session_id, ?, true, 1, recorded_at from session limit 1",
            [brewery.ids["Ada"]],
        )
    desk.judged.clear()
    paper = competence(desk, brewery.ids["Ada"], family=FAMILY)
    own = [row for row in rows(paper, "glasses")
           if row.get("why it does not count") == "prepared by the same person"]  # fmt: skip
    assert len(own) == len(seated.COMPOUNDS)
