"""The competence record: its sections, its two questions, and the same content in every form."""

import csv
import io
import json
from datetime import UTC, datetime, timedelta

import pytest
import seated
from openpyxl import load_workbook
from seated import FAMILY, FIRST, TODAY

from seatworthy.steps.asides import set_glass_aside
from seatworthy.steps.audit_exports import audit_csv, audit_json, audit_xlsx
from seatworthy.steps.chain_head import chain_head
from seatworthy.steps.competence import competence
from seatworthy.steps.decisions import sign_decision
from seatworthy.steps.facts_text import facts_digest
from seatworthy.steps.proposals import put_forward, reply

UNTIL = TODAY + timedelta(days=90)
SECTIONS = ("requirement", "selection", "training", "authorisation", "grounds", "replies", "rules",
            "compounds", "glasses", "blanks")  # fmt: skip


@pytest.fixture(scope="module")
def unsigned(brewery, tmp_path_factory):
    """Ada's record before anything was signed."""
    with seated.opened(brewery, tmp_path_factory.mktemp("unsigned")) as desk:
        return competence(desk, brewery.ids["Ada"])


@pytest.fixture
def desk(brewery, tmp_path):
    with seated.opened(brewery, tmp_path) as desk:
        yield desk


@pytest.fixture
def ids(brewery):
    return brewery.ids


def sign(desk, ids, state="probation", until_on=UNTIL, reason="sound in every flight"):
    return sign_decision(
        desk,
        person_id=ids["Ada"],
        family=FAMILY,
        state=state,
        until_on=until_on,
        reason=reason,
        signer=ids["Lee"],
        pin=seated.PIN,
    )


def section(paper, key):
    return next(section for section in paper.sections if section.key == key)


def rows(paper, key):
    table = section(paper, key).table
    names = [column.name for column in table.columns]
    return [dict(zip(names, row, strict=True)) for row in table.rows]


def test_it_has_every_section_in_the_order_of_the_clause(unsigned):
    assert tuple(section.key for section in unsigned.sections) == SECTIONS


def test_nobody_of_that_id_has_none(desk):
    assert competence(desk, "0" * 16) is None


def test_the_rulebook_is_named_with_its_digest_and_read_aloud(desk, ids):
    paper = competence(desk, ids["Ada"])
    said = " ".join(section(paper, "requirement").sentences)
    assert desk.rulebook_on(TODAY).digest in said
    assert facts_digest(desk, ids["Ada"], FAMILY, TODAY) in said
    assert "A seat" in [row["rule"] for row in rows(paper, "requirement")]


def test_selection_begins_with_the_first_session_and_counts_its_glasses(desk, ids):
    first = rows(competence(desk, ids["Bo"]), "selection")[0]
    assert first["day"] == FIRST
    assert (first["spiked glasses"], first["of these named or picked right"]) == (5, 0)
    assert (first["blanks"], first["of these called blank"]) == (1, 1)


def test_training_is_told_month_by_month(unsigned):
    months = rows(unsigned, "training")
    assert [row["month"] for row in months] == ["2026-06", "2026-07", "2026-08"]
    assert sum(row["spiked glasses"] for row in months) == 5 * seated.WEEKS
    assert "diacetyl 5 of 5" in months[0]["right of glasses by compound"]


def test_a_later_session_stays_out_of_an_earlier_days_record(desk, ids):
    paper = competence(desk, ids["Ada"], as_of=FIRST + timedelta(days=8))
    assert rows(paper, "training")[0]["sessions"] == 2


def test_without_a_signature_that_is_said(unsigned):
    assert "no seat was signed" in unsigned.sentence
    assert "Nothing was signed" in section(unsigned, "authorisation").sentences[0]


def test_a_signature_is_shown_with_signer_reason_rulebook_and_both_digests(desk, ids, monkeypatch):
    facts = facts_digest(desk, ids["Ada"], FAMILY, TODAY)
    sign(desk, ids)
    paper = competence(desk, ids["Ada"])
    row = rows(paper, "authorisation")[0]
    assert (row["state"], row["until"], row["signed by"]) == ("on probation", UNTIL, "Lee")
    assert row["reason"] == "sound in every flight"
    grounds = rows(paper, "grounds")[0]
    assert grounds["digest of the facts (SHA-256, hex)"] == facts
    assert grounds["rulebook digest (SHA-256, hex)"] == desk.rulebook_on(TODAY).digest


def test_the_sentence_says_the_state_that_was_signed(desk, ids):
    sign(desk, ids)
    paper = competence(desk, ids["Ada"])
    assert paper.sentence.startswith("Ada, for the pale on 10 August 2026: on probation, since ")
    assert f"signed until {UNTIL.day} {UNTIL:%B} {UNTIL.year}" in paper.sentence


def test_what_the_person_said_stands_beside_the_proposal(desk, ids):
    proposal = put_forward(desk, ids["Ada"], FAMILY, ids["Lee"])
    assert rows(competence(desk, ids["Ada"]), "replies")[0]["reply"] == "none yet"
    reply(desk, proposal, "remark", "I had a cold in July")
    with desk.store.reading() as cursor:  # the clock of the store is the real one
        cursor.execute("update proposal_reply set recorded_at = ?", [datetime(2026, 8, 10, 9)])
    row = rows(competence(desk, ids["Ada"]), "replies")[0]
    assert (row["reply"], row["words"]) == ("remark", "I had a cold in July")


def test_what_the_rules_say_alone_stands_beside_what_was_signed(desk, ids):
    sign(desk, ids)
    sign(desk, ids, state="withdrawn", until_on=None)
    paper = competence(desk, ids["Ada"])
    assert ": left the panel, since 10 August 2026." in paper.sentence
    assert paper.lead.startswith("By the rules alone: met. 5 of 6 critical compounds met")


def test_every_rule_and_every_compound_has_its_verdict(unsigned):
    assert {"Critical compounds", "Calls in blanks", "Attendance"} <= {
        row["rule"] for row in rows(unsigned, "rules")
    }
    diacetyl = next(r for r in rows(unsigned, "compounds") if r["compound"] == "Diacetyl")
    assert (diacetyl["counted glasses named right"], diacetyl["counted glasses"]) == (10, 10)
    assert diacetyl["chance, low end of the range (%)"] < diacetyl["chance to name it right (%)"]


def test_a_compound_never_poured_has_no_chance(unsigned):
    compounds = rows(unsigned, "compounds")
    never = next(row for row in compounds if row["compound"] == "Lactic acid")
    assert never["standing"] == "no glass that counts yet"
    assert never["chance to name it right (%)"] is None


def test_both_questions_are_told_apart_in_the_heading_and_in_the_figures(desk, ids):
    before = datetime.now(UTC).replace(tzinfo=None)
    own = desk.store.rows("person_glasses", person_id=ids["Ada"], until_on=TODAY, after_on=FIRST,
                          lowest_level=1, highest_level=9)  # fmt: skip
    glass = next(row for row in own if row["compound"] == "diacetyl")
    set_glass_aside(desk, glass["serving_id"], "a dirty glass", ids["Lee"])
    desk.judged.clear()
    then = competence(desk, ids["Ada"], known_at=before)
    now = competence(desk, ids["Ada"])
    assert then.question.startswith("as the record stood at the end of ")
    assert now.question == "by today's record"
    counts = [
        next(r["counted glasses"] for r in rows(paper, "compounds") if r["compound"] == "Diacetyl")
        for paper in (then, now)
    ]
    assert counts == [10, 9]


def test_it_names_what_was_read_and_what_is_newest(desk, ids):
    before = datetime.now(UTC).replace(tzinfo=None)
    read = chain_head(desk)
    sign(desk, ids)
    paper = competence(desk, ids["Ada"], known_at=before)
    assert (paper.read, paper.head) == (read, chain_head(desk))
    assert paper.read != paper.head


def test_csv_and_json_hold_the_same_values(unsigned):
    lines = list(csv.DictReader(io.StringIO(audit_csv(unsigned).decode("utf-8-sig"))))
    found = json.loads(audit_json(unsigned))
    values = [
        (part["key"], name, value)
        for part in found["sections"]
        for row in part["rows"]
        for name, value in row.items()
    ]
    told = [(r["section"], r["field (with unit)"], r["value"]) for r in lines
            if r["section"] in SECTIONS and r["field (with unit)"] != "sentence"]  # fmt: skip
    numbered = [(key, name) for key, name, _ in values if name != "sentence"]
    assert [(key, name) for key, name, _ in told] == numbered


def test_a_workbook_has_a_sheet_for_each_table_and_every_sentence(unsigned):
    book = load_workbook(io.BytesIO(audit_xlsx(unsigned)))
    filled = [part for part in unsigned.sections if part.table and part.table.rows]
    assert book.sheetnames[:2] == ["About", "In words"]
    for part, sheet in zip(filled, book.worksheets[2:], strict=True):
        assert [cell.value for cell in sheet[1]] == [one.name for one in part.table.columns]
        assert sheet.max_row == 1 + len(part.table.rows)
    said = [row[2] for row in book["In words"].values]
    assert said[1:] == [*(one for part in unsigned.sections for one in part.sentences),
                        *unsigned.cautions]  # fmt: skip


def test_it_praises_nobody_and_never_releases_beer(desk, ids):
    paper = competence(desk, ids["Bo"])
    assert any("never releases beer" in caution for caution in paper.cautions)
    assert any("check the standard itself" in caution for caution in paper.cautions)
    said = audit_json(paper).decode().casefold()
    assert not any(word in said for word in ("excellent", "poor ", "failed", "best taster"))


def test_a_signature_of_a_later_day_stays_out(desk, ids):
    sign(desk, ids)
    paper = competence(desk, ids["Ada"], as_of=TODAY - timedelta(days=1))
    assert section(paper, "authorisation").table is None


def test_a_reply_of_a_later_day_stays_out(desk, ids):
    proposal = put_forward(desk, ids["Ada"], FAMILY, ids["Lee"])
    reply(desk, proposal, "seen")
    assert rows(competence(desk, ids["Ada"]), "replies")[0]["reply"] == "none yet"


def test_what_the_person_said_stands_beside_the_decision_it_belongs_to(desk, ids):
    proposal = put_forward(desk, ids["Ada"], FAMILY, ids["Lee"])
    reply(desk, proposal, "remark", "I had a cold in July")
    with desk.store.reading() as cursor:  # the clock of the store is the real one
        cursor.execute("update proposal_reply set recorded_at = ?", [datetime(2026, 8, 10, 9)])
    sign(desk, ids)
    paper = competence(desk, ids["Ada"])
    decision = rows(paper, "authorisation")[0]
    said = decision["said by the person to the proposal"]
    assert said == "Remark, 10 August 2026: “I had a cold in July”."
    answered = rows(paper, "replies")[0]["history entry of the decision that answered it"]
    assert answered == decision["history entry"]


def test_a_proposal_put_after_a_decision_does_not_belong_to_it(desk, ids):
    proposal = put_forward(desk, ids["Ada"], FAMILY, ids["Lee"])
    reply(desk, proposal, "remark", "I had a cold in July")
    sign(desk, ids)
    with desk.store.reading() as cursor:
        cursor.execute("update proposal_reply set recorded_at = ?", [datetime(2026, 8, 10, 9)])
        cursor.execute("update proposal set entry_no = 900")
    paper = competence(desk, ids["Ada"])
    assert "said by the person to the proposal" not in rows(paper, "authorisation")[0]
    assert rows(paper, "replies")[0]["history entry of the decision that answered it"] is None


def test_a_purpose_that_no_session_has_is_no_column(unsigned):
    assert "purpose" not in rows(unsigned, "selection")[0]


def test_a_way_to_change_it_is_a_column_only_where_there_is_one(desk, ids):
    assert "what would change it" not in rows(competence(desk, ids["Ada"]), "rules")[0]
    assert "what would change it" in rows(competence(desk, ids["Bo"]), "rules")[0]


def test_rules_that_nobody_had_adopted_are_said_to_be(desk, ids):
    with desk.store.reading() as cursor:
        cursor.execute("update rulebook set recorded_at = ?", [datetime(2026, 8, 11, 12)])
    assert "Nobody had adopted any rules by that day; " in competence(desk, ids["Ada"]).lead


def test_the_file_is_named_after_day_person_and_beers(desk, ids):
    name = competence(desk, ids["Ada"]).file_name
    assert name == f"{TODAY}-competence-ada-{ids['Ada'][:4]}-pale"
