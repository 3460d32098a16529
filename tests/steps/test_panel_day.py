"""The panel on a day: who was seated, who wasn't and why, and what it covered."""

from dataclasses import replace
from datetime import timedelta

import pytest
import seated
from seated import FAMILY, TODAY

from seatworthy.errors import PanelError
from seatworthy.steps.decisions import sign_decision
from seatworthy.steps.judging import judge_day
from seatworthy.steps.panel_day import panel_day

UNTIL = TODAY + timedelta(days=90)


@pytest.fixture(scope="module")
def brewery(tmp_path_factory):
    return seated.build(tmp_path_factory.mktemp("brewery"))


@pytest.fixture
def desk(brewery, tmp_path):
    with seated.opened(brewery, tmp_path) as desk:
        yield desk


@pytest.fixture
def ids(brewery):
    return brewery.ids


def sign(desk, ids, who, state="probation", until_on=UNTIL, reason="sound"):
    sign_decision(
        desk, person_id=ids[who], family=FAMILY, state=state, until_on=until_on, reason=reason,
        signer=ids["Lee"], pin=seated.PIN,
    )  # fmt: skip


def rows(paper, key):
    table = next(section for section in paper.sections if section.key == key).table
    names = [column.name for column in table.columns]
    return [dict(zip(names, row, strict=True)) for row in table.rows]


def test_without_a_signature_nobody_is_seated_whatever_the_rules_say(desk):
    paper = panel_day(desk)
    assert paper.sentence.startswith("Nobody held a signed seat for ")
    assert paper.lead == "By the rules alone, two could sit."
    assert rows(paper, "seated") == []


def test_a_signed_seat_is_listed_with_its_days_and_its_signer(desk, ids):
    sign(desk, ids, "Ada")
    row = rows(panel_day(desk), "seated")[0]
    assert (row["name"], row["state signed"]) == ("Ada", "on probation")
    assert (row["from"], row["until"], row["signed by"]) == (TODAY, UNTIL, "Lee")
    assert "diacetyl" in row["critical compounds met that day"]


def test_whoever_is_seated_is_not_among_the_others(desk, ids):
    sign(desk, ids, "Ada")
    paper = panel_day(desk)
    assert "Ada" not in [row["name"] for row in rows(paper, "not_seated")]
    assert len(rows(paper, "seated")) + len(rows(paper, "not_seated")) == len(ids)


def test_everybody_else_is_listed_with_the_reason(desk, ids):
    bo = next(row for row in rows(panel_day(desk), "not_seated") if row["name"] == "Bo")
    assert bo["sentence"].startswith("Nothing was signed. ")
    assert "critical compounds met" in bo["sentence"]


def test_a_seat_that_was_taken_back_says_who_signed_and_why(desk, ids):
    sign(desk, ids, "Ada")
    sign(desk, ids, "Ada", "withdrawn", None, "asked for it")
    ada = next(row for row in rows(panel_day(desk), "not_seated") if row["name"] == "Ada")
    assert ada["state"] == "seat withdrawn"
    assert "Signed by Lee: asked for it." in ada["sentence"]


def test_a_seat_lapses_by_its_date_alone(desk, ids):
    sign(desk, ids, "Ada", until_on=TODAY + timedelta(days=30))
    seated.at(desk, TODAY + timedelta(days=31))
    desk.judged.clear()
    ada = next(row for row in rows(panel_day(desk), "not_seated") if row["name"] == "Ada")
    assert ada["state"] == "seat lapsed"
    assert "The seat signed by Lee ended on" in ada["sentence"]


def test_the_cover_counts_seated_people_beside_those_able_by_the_rules(desk, ids):
    sign(desk, ids, "Ada")
    diacetyl = rows(panel_day(desk), "cover")[0]
    assert diacetyl["critical compound"] == "Diacetyl"
    assert diacetyl["seated people who may sit and meet it"] == 1
    assert diacetyl["seated people who may sit and meet it, names"] == "Ada"
    assert diacetyl["people able by the rules who meet it"] == 2


def test_somebody_on_probation_is_said_to_be(desk, ids):
    sign(desk, ids, "Ada")
    lead = panel_day(desk).lead
    assert lead.startswith(
        "One seat is on probation; by the rulebook somebody on probation may sit. "
    )


def test_somebody_on_probation_covers_nothing_where_the_rulebook_says_so(desk, ids, monkeypatch):
    sign(desk, ids, "Ada")
    judged = judge_day(desk)
    panel = replace(judged.rulebook.panel, probation_counts=False)
    other = replace(judged, rulebook=replace(judged.rulebook, panel=panel))
    monkeypatch.setattr("seatworthy.steps.panel_day.judge_day", lambda *asked: other)
    paper = panel_day(desk)
    assert "on probation may not sit yet" in paper.lead
    assert rows(paper, "cover")[0]["seated people who may sit and meet it"] == 0


def test_before_the_seat_began_it_was_nobodys(desk, ids):
    sign(desk, ids, "Ada")
    assert rows(panel_day(desk, as_of=TODAY - timedelta(days=1)), "seated") == []


def test_a_family_that_is_not_on_record_is_refused(desk):
    with pytest.raises(PanelError, match="no beer family “porter”"):
        panel_day(desk, family="porter")


def test_the_rulebook_and_the_quorum_are_named(desk):
    paper = panel_day(desk)
    said = next(section for section in paper.sections if section.key == "rulebook").sentences
    assert desk.rulebook_on(TODAY).digest in said[0]
    assert said[1].startswith("Quorum: 4; each critical compound is to be covered by 2 or more.")


def test_a_family_with_a_slash_names_no_other_folder(desk, monkeypatch):
    judged = judge_day(desk)
    key = "../pale"
    renamed = {(person, key): seat for (person, _), seat in judged.seats.items()}
    other = replace(
        judged,
        families={key: "Pale"},
        seats=renamed,
        critical={key: judged.critical[FAMILY]},
        panels={key: judged.panels[FAMILY]},
    )
    monkeypatch.setattr("seatworthy.steps.panel_day.judge_day", lambda *asked: other)
    assert panel_day(desk).file_name == f"{TODAY}-panel----pale"
