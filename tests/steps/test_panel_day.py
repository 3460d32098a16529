"""The panel on a day: who was seated, who wasn't and why, and what it covered."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
import seated
from seated import FAMILY, TODAY

from seatworthy.errors import PanelError
from seatworthy.stats.ability.settings import MODEL_VERSION
from seatworthy.steps.decisions import sign_decision
from seatworthy.steps.facts_text import facts_digest
from seatworthy.steps.judging import judge_day
from seatworthy.steps.panel_day import panel_day

UNTIL = TODAY + timedelta(days=90)


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


def sentences(paper, key):
    return next(section for section in paper.sections if section.key == key).sentences


def adopted_at(desk, moment):
    """Move the moment at which the store's rulebook was recorded."""
    with desk.store.reading() as cursor:  # the clock of the store is the real one
        cursor.execute("update rulebook set recorded_at = ?", [moment])


def test_without_a_signature_nobody_is_seated_whatever_the_rules_say(desk):
    paper = panel_day(desk)
    assert paper.sentence.startswith("Nobody held a signed seat for ")
    assert paper.sentence.endswith("; four are asked for: too few.")
    assert "By the rules alone, whatever was signed, two could sit." in paper.lead
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
    assert ada["state"] == "left the panel"
    assert "Signed by Lee: asked for it." in ada["sentence"]


def test_a_seat_lapses_by_its_date_alone(desk, ids):
    sign(desk, ids, "Ada", until_on=TODAY + timedelta(days=30))
    seated.at(desk, TODAY + timedelta(days=31))
    desk.judged.clear()
    ada = next(row for row in rows(panel_day(desk), "not_seated") if row["name"] == "Ada")
    assert ada["state"] == "lapsed"
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
    rulebook, quorum, *_ = sentences(paper, "rulebook")
    assert desk.rulebook_on(TODAY).digest in rulebook
    assert quorum.startswith("Quorum: 4; each critical compound is to be covered by 2 or more.")


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


def test_before_the_first_signature_the_quorum_counts_nobody(desk):
    _, quorum, alone, _ = sentences(panel_day(desk), "rulebook")
    assert "Of those seated: no people can sit, 4 are asked for; 0 of 6 " in quorum
    assert alone.startswith("By the rules alone, whatever was signed: 2 people can sit, ")


def test_the_quorum_counts_those_who_hold_a_seat(desk, ids):
    sign(desk, ids, "Ada")
    quorum = sentences(panel_day(desk), "rulebook")[1]
    assert "Of those seated: 1 person can sit, 4 are asked for; 0 of 6 " in quorum


def test_too_few_seats_are_called_so_in_the_headline(desk, ids):
    sign(desk, ids, "Ada")
    assert panel_day(desk).sentence.endswith("; four are asked for: too few.")


def test_a_quorum_that_is_filled_is_not_called_too_few(desk, ids, monkeypatch):
    sign(desk, ids, "Ada")
    judged = judge_day(desk)
    panel = replace(judged.rulebook.panel, quorum=1, people_per_compound=1)
    other = replace(judged, rulebook=replace(judged.rulebook, panel=panel))
    monkeypatch.setattr("seatworthy.steps.panel_day.judge_day", lambda *asked: other)
    paper = panel_day(desk)
    assert paper.sentence.endswith("; one is asked for.")
    assert [row["enough or too few"] for row in rows(paper, "cover")][:2] == ["enough", "enough"]
    assert "(asked for each: 1): acetic acid or lactic acid by 0." in paper.lead


def test_a_compound_held_by_one_of_two_is_flagged_in_words(desk, ids):
    sign(desk, ids, "Ada")
    paper = panel_day(desk)
    assert rows(paper, "cover")[0]["enough or too few"] == "too few"
    assert "Met by too few of those seated (asked for each: 2): " in paper.lead
    assert "diacetyl by 1" in sentences(paper, "cover")[0]


def test_model_and_sessions_of_the_evidence_are_named(desk):
    told = sentences(panel_day(desk), "rulebook")[-1]
    glasses = 3 * 6 * seated.WEEKS + 2 * 6
    assert told == (
        f"Model: {MODEL_VERSION}. Evidence of these beers: 10 sessions with {glasses} glasses, the "
        "first on 1 June 2026, the last on 3 August 2026."
    )


def test_sessions_of_later_days_are_no_evidence_of_that_day(desk):
    told = sentences(panel_day(desk, as_of=seated.FIRST), "rulebook")[-1]
    assert "1 session with 24 glasses, the first on 1 June 2026, the last on 1 June 2026." in told


def test_each_person_seated_has_a_digest_of_their_facts(desk, ids):
    sign(desk, ids, "Ada")
    assert rows(panel_day(desk), "facts") == [
        {
            "name": "Ada",
            "digest of the facts (SHA-256, hex)": facts_digest(desk, ids["Ada"], FAMILY, TODAY),
        }
    ]


def test_a_rulebook_adopted_later_is_said_to_be(desk):
    adopted_at(desk, datetime(2026, 8, 11, 12))
    assert panel_day(desk).lead.endswith(
        "Nobody had adopted any rules by that day; judged by “default”, version 1, which was adopted "
        "on 11 August 2026."
    )


def test_a_rulebook_adopted_by_that_day_needs_no_excuse(desk):
    adopted_at(desk, datetime(2026, 8, 10, 12))
    paper = panel_day(desk)
    assert "Nobody had adopted" not in paper.lead
    assert (
        "Adopted on 10 August 2026. It came with the program. " in (sentences(paper, "rulebook")[0])
    )


def test_whoever_adopted_a_rulebook_is_named(desk, ids):
    (entry,) = (row["entry_no"] for row in desk.store.rows("rulebooks"))
    with desk.store.reading() as cursor:
        cursor.execute(
            "insert into author values (?, ?, ?)", [ids["Lee"], entry, datetime(2026, 8, 1)]
        )
    adopted_at(desk, datetime(2026, 8, 1, 12))
    assert "Adopted on 1 August 2026 by Lee." in sentences(panel_day(desk), "rulebook")[0]


def test_the_file_is_named_after_the_day_and_the_beers(desk):
    assert panel_day(desk).file_name == f"{TODAY}-panel-pale"


def test_the_file_of_another_record_has_another_name(desk, monkeypatch):
    today = datetime.now(UTC).replace(tzinfo=None)
    monkeypatch.setattr(type(desk), "day_of", lambda desk, moment: TODAY)
    assert panel_day(desk, known_at=today).file_name == f"{TODAY}-panel-pale-as-it-stood"
    later = TODAY + timedelta(days=2)
    monkeypatch.setattr(type(desk), "day_of", lambda desk, moment: later)
    name = panel_day(desk, known_at=today).file_name
    assert name == f"{TODAY}-panel-pale-as-it-stood-on-2026-08-12"
