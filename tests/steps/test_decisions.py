from datetime import date, timedelta

import pytest
import seated
from seated import FAMILY, TODAY, proposal_of

from seatworthy.errors import PanelError
from seatworthy.steps.asides import set_glass_aside
from seatworthy.steps.decisions import decisions, recomputed, seat_states, sign_decision
from seatworthy.steps.people import merge_people
from seatworthy.steps.proposals import put_forward, reply
from seatworthy.steps.signers import appoint_signer
from seatworthy.steps.signing import salted
from seatworthy.store.checks import impossible_facts
from seatworthy.store.history import broken_entries

DAY = timedelta(days=1)
LAST = date(2027, 2, 10)  # six months from TODAY


@pytest.fixture
def desk(brewery, tmp_path):
    with seated.opened(brewery, tmp_path) as desk:
        yield desk


@pytest.fixture
def ids(brewery):
    return brewery.ids


@pytest.fixture
def sign(desk, ids):
    """Signs Ada's probation as the rules propose it, or whatever a test asks for instead."""

    def signed(**changed):
        asked = {
            "person_id": ids["Ada"], "family": FAMILY, "state": "probation", "until_on": LAST,
            "signer": ids["Lee"], "pin": seated.PIN,
        }  # fmt: skip
        return sign_decision(desk, **{**asked, **changed})

    return signed


@pytest.fixture
def seat(sign):
    """Ada holds a full seat until the last day there can be."""
    return sign(state="qualified", reason="Has sat on our panel for years.")


def state_of(desk, ids, who="Ada", day=None):
    return str(seat_states(desk, day or desk.today())[ids[who], FAMILY].state)


def entries(desk):
    return desk.store.cursor().execute("select count(*) from history").fetchone()[0]


def faults(desk):
    cursor = desk.store.cursor()
    now = cursor.execute("select max(recorded_at) from history").fetchone()[0]
    return [*broken_entries(cursor), *impossible_facts(cursor, now)]


def test_what_the_rules_propose_is_signed_without_a_reason(desk, ids, sign):
    sign()
    assert state_of(desk, ids) == "probation"


def test_a_decision_keeps_what_was_proposed_and_by_which_rules(desk, ids, sign):
    decision_id = sign()
    (found,) = decisions(desk)
    assert (found.decision_id, found.proposed, found.rulebook, found.signer, found.as_of_on) == (
        decision_id, "probation", "default, version 1", "Lee", TODAY,
    )  # fmt: skip


def test_a_decision_keeps_the_digest_of_the_facts_shown(desk, ids, sign):
    shown = proposal_of(desk, ids["Ada"]).facts_digest
    sign(expected_facts_digest=shown)
    assert decisions(desk)[0].facts_digest == shown


def test_a_decision_keeps_where_every_compound_stood(desk, sign):
    sign()
    found = {line.compound: line.standing for line in decisions(desk)[0].compounds}
    assert found == dict.fromkeys(seated.COMPOUNDS, "met")


def test_a_decision_and_its_compounds_are_one_entry(desk, sign):
    before = entries(desk)
    sign()
    assert entries(desk) == before + 1


def test_the_record_adds_up_after_a_decision_with_a_reason(desk, ids, seat):
    put_forward(desk, ids["Ada"], FAMILY, ids["Lee"], state="paused")
    assert faults(desk) == []


def test_a_reason_changed_later_is_found_out(desk, seat):
    desk.store.cursor().execute("update decision set reason = 'Another.'")
    assert any("reasons for decisions" in said for said in faults(desk))


def test_a_rulebook_changed_later_is_found_out(desk):
    desk.store.cursor().execute("update rulebook set rulebook_text = rulebook_text || ' '")
    assert any("rulebooks have another text" in said for said in faults(desk))


def test_a_decision_about_another_beer_family_than_any_on_record_is_found_out(desk, sign):
    sign()
    desk.store.cursor().execute("update decision set family = 'wheat'")
    assert any("decisions are about no beer family" in said for said in faults(desk))


def test_a_decision_may_begin_thirty_one_days_ahead(desk, ids, sign):
    sign(from_on=TODAY + 31 * DAY)
    assert state_of(desk, ids, day=TODAY + 30 * DAY) == "trainee"
    assert state_of(desk, ids, day=TODAY + 31 * DAY) == "probation"


def test_a_seat_is_signed_until_the_last_day_of_its_validity(desk, sign):
    sign(until_on=LAST)
    assert decisions(desk)[0].until_on == LAST


def test_a_seat_may_end_on_its_first_day(desk, sign):
    sign(until_on=TODAY)
    assert decisions(desk)[0].until_on == TODAY


def test_an_earlier_last_day_asks_for_no_reason(desk, sign):
    sign(until_on=LAST - 30 * DAY)
    assert decisions(desk)[0].reason == ""


def test_a_reason_given_is_kept(desk, sign):
    sign(state="qualified", reason=" Came from  the other site. ")
    assert decisions(desk)[0].reason == "Came from the other site."


def test_what_was_put_forward_and_not_seen_still_asks_for_a_reason(desk, ids, seat, sign):
    put_forward(desk, ids["Ada"], FAMILY, ids["Lee"], state="paused")
    with pytest.raises(PanelError, match="Ada has not seen it proposed"):
        sign(state="paused", until_on=None)


def test_what_was_proposed_and_seen_is_taken_away_without_a_reason(desk, ids, seat, sign):
    seated.at(desk, TODAY + 60 * DAY)  # absent for too long
    reply(desk, put_forward(desk, ids["Ada"], FAMILY, ids["Lee"]), "seen")
    sign(state="paused", until_on=None)
    assert state_of(desk, ids) == "paused"


def test_a_proposal_of_something_else_seen_does_not_excuse(desk, ids, seat, sign):
    reply(desk, put_forward(desk, ids["Ada"], FAMILY, ids["Lee"], state="paused"), "seen")
    with pytest.raises(PanelError, match="Ada has not seen it proposed"):
        sign(state="suspended", until_on=None)


def test_a_recheck_asked_for_is_not_passed_over_without_a_reason(desk, ids, seat, sign):
    seated.at(desk, TODAY + 60 * DAY)
    reply(desk, put_forward(desk, ids["Ada"], FAMILY, ids["Lee"]), "recheck")
    with pytest.raises(PanelError, match="since Ada asked for a recheck, which is not poured yet"):
        sign(state="paused", until_on=None)


def test_a_decision_answers_the_proposal_that_is_open(desk, ids, sign):
    proposal_id = put_forward(desk, ids["Ada"], FAMILY, ids["Lee"])
    sign()
    assert decisions(desk)[0].proposal_id == proposal_id


def test_a_proposal_is_decided_once(desk, ids, sign):
    proposal_id = put_forward(desk, ids["Ada"], FAMILY, ids["Lee"])
    sign(proposal_id=proposal_id)
    with pytest.raises(PanelError, match="This proposal is decided already"):
        sign(proposal_id=proposal_id)


def test_a_proposal_about_somebody_else_is_not_answered(desk, ids, sign):
    proposal_id = put_forward(desk, ids["Lee"], FAMILY, ids["Lee"])
    with pytest.raises(PanelError, match=f"There is no proposal {proposal_id} about this seat"):
        sign(proposal_id=proposal_id)


def test_facts_that_changed_since_they_were_shown_stop_a_signature(desk, ids, sign, tmp_path):
    shown = proposal_of(desk, ids["Ada"]).facts_digest
    seated.bring_in(desk, tmp_path, seated.flights(range(10, 11), "Ada", 1))
    with pytest.raises(PanelError, match="The facts about Ada changed since they were shown"):
        sign(expected_facts_digest=shown)


def test_nobody_signs_for_themselves_while_another_may_sign(desk, ids, sign):
    appoint_signer(desk, ids["Ada"], "5678", by=ids["Lee"], by_pin=seated.PIN)
    with pytest.raises(PanelError, match="Nobody signs their own seat while somebody else may"):
        sign(person_id=ids["Lee"], reason="In a hurry.")


def test_the_decision_notes_that_it_was_signed_for_oneself(desk, ids, sign):
    sign(person_id=ids["Lee"], reason="We are three people.")
    (found,) = decisions(desk)
    own = "Signed for oneself, as the only one who may sign: We are three people."
    assert (found.is_own, found.reason) == (True, own)


def test_an_earlier_decision_stays_beside_the_later(desk, sign, seat):
    sign(state="paused", until_on=None, reason="Three months of leave.")
    assert [(d.state, d.in_force) for d in decisions(desk)] == [
        ("paused", True),
        ("qualified", False),
    ]


def test_decisions_are_listed_for_one_person(desk, ids, sign):
    sign()
    assert decisions(desk, ids["Bo"]) == ()
    assert len(decisions(desk, ids["Ada"])) == 1


def test_before_it_was_recorded_a_decision_is_not_known(desk, sign):
    moment = desk.store.cursor().execute("select max(recorded_at) from history").fetchone()[0]
    sign()
    assert decisions(desk, known_at=moment) == ()


def test_a_state_of_a_past_day_knows_nothing_of_later_signatures(desk, ids, sign):
    sign()
    assert state_of(desk, ids, day=TODAY - DAY) == "trainee"


def test_a_seat_lapses_by_its_date_without_a_signature(desk, ids, sign):
    sign(until_on=TODAY + 20 * DAY)
    days = [state_of(desk, ids, day=TODAY + n * DAY) for n in (20, 21)]
    assert days == ["probation", "lapsed"]


def test_somebody_without_an_answer_is_a_candidate(desk, ids):
    assert state_of(desk, ids, "Cleo", day=seated.FIRST - DAY) == "candidate"


def test_signatures_about_a_merged_spelling_are_the_persons(desk, ids, sign):
    sign(person_id=ids["Cleo"], reason="An old hand.")
    desk.judged.clear()
    merge_people(desk, "Cleo", into="Bo")
    assert state_of(desk, ids, "Bo") == "probation"


def test_a_decision_judged_again_on_the_same_facts_is_as_it_was(desk, sign):
    again = recomputed(desk, sign())
    assert (again.matches, again.corrected_since, again.changed) == (True, False, ())
    assert again.sentence == (
        "The facts are those that were signed. Nothing about that day was recorded since."
    )


def one_glass_of(desk, who, compound, day):
    sql = (
        "select serving_id from scored_answer where person_id = ? and compound = ?"
        " and session_on = ?"
    )
    return desk.store.cursor().execute(sql, [who, compound, day]).fetchone()[0]


def test_a_correction_that_changes_nothing_is_said_to_leave_the_verdict(desk, ids, sign):
    decision_id = sign()
    glass = one_glass_of(desk, ids["Ada"], "dms", seated.FIRST)
    set_glass_aside(desk, glass, "Spilt.", by=ids["Lee"])
    desk.judged.clear()
    again = recomputed(desk, decision_id)
    assert (again.matches, again.corrected_since) == (True, True)
    assert again.sentence.endswith("leaves the verdict as it was.")


def test_a_correction_that_would_change_the_verdict_is_said_plainly(desk, ids, sign):
    decision_id = sign()
    glasses = [
        one_glass_of(desk, ids["Ada"], compound, seated.FIRST + week * 7 * DAY)
        for compound in ("dms", "t2n")
        for week in range(7)
    ]
    with desk.store.recording("set aside") as act:
        why = salted("reason", "Wrong jug.")
        act.add_all(
            ("set_aside", {"serving_id": glass, "is_aside": True, **why}) for glass in glasses
        )
    desk.judged.clear()
    again = recomputed(desk, decision_id)
    assert "would be “too little evidence” in place of “met”" in again.sentence
    assert again.verdict_then.standing == "met"
    assert (
        "Dimethyl sulfide (DMS): met when it was signed, too little evidence by today's record."
        in again.changed
    )


def test_a_correction_changes_no_decision(desk, ids, sign):
    sign()
    before = decisions(desk)
    glass = one_glass_of(desk, ids["Ada"], "dms", seated.FIRST)
    set_glass_aside(desk, glass, "Spilt.", by=ids["Lee"])
    assert decisions(desk) == before


def test_facts_altered_behind_the_record_do_not_match(desk, ids, sign):
    decision_id = sign()
    desk.store.cursor().execute("update sample set given_level = 2.5 where compound = 'dms'")
    desk.judged.clear()
    again = recomputed(desk, decision_id)
    assert not again.matches
    assert "something was altered or taken away" in again.sentence


def test_a_decision_on_another_model_is_said_to_be_so(desk, sign):
    decision_id = sign()
    desk.store.cursor().execute("update decision set model_version = 'ability 0'")
    assert "It was signed on the model “ability 0”" in recomputed(desk, decision_id).sentence


def test_after_a_merge_the_facts_that_were_signed_still_match(desk, ids, sign):
    decision_id = sign(person_id=ids["Cleo"], reason="An old hand.")
    desk.judged.clear()
    merge_people(desk, "Cleo", into="Bo")
    assert recomputed(desk, decision_id).matches
