from datetime import datetime, timedelta

import pytest
import seated
from seated import FAMILY, TODAY, proposal_of

from seatworthy.errors import PanelError
from seatworthy.steps import proposals_put
from seatworthy.steps.decisions import sign_decision
from seatworthy.steps.panel import set_panellist
from seatworthy.steps.proposals import proposals, put_forward, replies_to, reply
from seatworthy.store.checks import impossible_facts
from seatworthy.store.history import broken_entries

DAY = timedelta(days=1)


@pytest.fixture
def desk(brewery, tmp_path):
    with seated.opened(brewery, tmp_path) as desk:
        yield desk


@pytest.fixture(scope="module")
def still(brewery, tmp_path_factory):
    """One desk for all tests that record nothing."""
    with seated.opened(brewery, tmp_path_factory.mktemp("still")) as desk:
        before = desk.version
        yield desk
        assert desk.version == before


@pytest.fixture
def ids(brewery):
    return brewery.ids


def put(desk, ids, who="Ada", **changed):
    return put_forward(desk, ids[who], FAMILY, ids["Lee"], **changed)


def signed(desk, ids, who, state, until_on, **changed):
    asked = {
        "person_id": ids[who], "family": FAMILY, "state": state, "until_on": until_on,
        "reason": "for the test", "signer": ids["Lee"], "pin": seated.PIN,
    }  # fmt: skip
    return sign_decision(desk, **{**asked, **changed})


def grant(desk, ids, state="qualified", days=100):
    """Somebody else's seat for Ada, signed by Lee."""
    return signed(desk, ids, "Ada", state, TODAY + days * DAY)


def more_weeks(desk, tmp_path, first, last, missed=0, who="Ada", n=1):
    seated.at(desk, seated.FIRST + timedelta(weeks=last))
    seated.bring_in(desk, tmp_path, seated.flights(range(first, last), who, n, missed))


def test_whoever_meets_the_seat_rule_is_proposed_for_probation(still):
    assert {(p.name, p.state, p.proposed) for p in proposals(still)} == {
        ("Ada", "trainee", "probation"),
        ("Lee", "trainee", "probation"),
    }


def test_a_proposal_that_grants_something_is_not_adverse(still, ids):
    assert not proposal_of(still, ids["Ada"]).is_adverse


def test_a_proposal_is_not_put_before_anybody_by_itself(still, ids):
    assert proposal_of(still, ids["Ada"]).put is None


def test_a_proposal_put_forward_stands_with_what_is_proposed(desk, ids):
    proposal_id = put(desk, ids)
    shown = proposal_of(desk, ids["Ada"]).put
    assert (shown.proposal_id, shown.state, shown.is_seen) == (proposal_id, "probation", False)


def test_where_the_rules_propose_nothing_nothing_is_put_forward(still, ids):
    with pytest.raises(PanelError, match=r"The rules propose nothing here\. 0 of 6 critical"):
        put(still, ids, "Bo")


def test_a_leader_may_put_a_state_of_their_own_forward(desk, ids):
    grant(desk, ids)
    assert put(desk, ids, state="paused")


def test_what_a_leader_put_forward_is_listed_with_the_proposals(desk, ids):
    grant(desk, ids)
    put(desk, ids, state="paused")
    found = proposal_of(desk, ids["Ada"])
    assert (found.kind, found.proposed, found.is_adverse) == ("own", "paused", True)


def test_only_a_move_that_could_be_signed_is_put_forward(still, ids):
    with pytest.raises(PanelError, match="From “trainee” a seat cannot become “paused”"):
        put(still, ids, state="paused")


def test_a_seat_put_forward_needs_a_last_day(still, ids):
    with pytest.raises(PanelError, match="“qualified” needs a last day"):
        put(still, ids, state="qualified")


def test_nobody_off_the_panel_is_proposed_for_a_seat(desk, ids):
    set_panellist(desk, ids["Ada"], is_panellist=False)
    assert proposal_of(desk, ids["Ada"]) is None


def test_replies_can_be_read_after_the_decision(desk, ids):
    proposal_id = put(desk, ids)
    reply(desk, proposal_id, "remark", "Gladly.")
    grant(desk, ids, "probation")
    assert [found.words for found in replies_to(desk, proposal_id)] == ["Gladly."]


def test_nobody_puts_a_lapse_forward(still, ids):
    with pytest.raises(PanelError, match="“lapsed” is not a state that can be signed"):
        put(still, ids, state="lapsed")


def test_the_same_proposal_is_not_put_forward_twice(desk, ids):
    put(desk, ids)
    with pytest.raises(PanelError, match="put before Ada already"):
        put(desk, ids)


def test_a_proposal_on_other_facts_is_put_forward_again(desk, ids, tmp_path):
    first = put(desk, ids)
    more_weeks(desk, tmp_path, 10, 11)
    assert proposal_of(desk, ids["Ada"]).put.facts_changed
    assert put(desk, ids) != first


def test_on_the_same_facts_nothing_has_changed(desk, ids):
    put(desk, ids)
    assert not proposal_of(desk, ids["Ada"]).put.facts_changed


def test_somebody_unknown_is_refused(still, ids):
    with pytest.raises(PanelError, match="There is no person with the id 0000"):
        put_forward(still, "0" * 16, FAMILY, ids["Lee"])


def test_a_beer_family_unknown_is_refused(still, ids):
    with pytest.raises(PanelError, match="There is no beer family “wheat” on record"):
        put_forward(still, ids["Ada"], "wheat", ids["Lee"])


def test_any_reply_shows_that_it_was_seen(desk, ids):
    reply(desk, put(desk, ids), "seen")
    assert proposal_of(desk, ids["Ada"]).put.is_seen


def test_a_remark_stands_with_the_proposal(desk, ids):
    reply(desk, put(desk, ids), "remark", " I had a cold in  June. ")
    (found,) = proposal_of(desk, ids["Ada"]).put.replies
    assert (found.kind, found.words) == ("remark", "I had a cold in June.")


def test_a_remark_without_words_is_refused(still):
    with pytest.raises(PanelError, match="A remark has words"):
        reply(still, "0" * 16, "remark", "  ")


def test_a_remark_of_hidden_characters_is_refused(still):
    with pytest.raises(PanelError, match="The remark holds a hidden character"):
        reply(still, "0" * 16, "remark", "no\u202eno")


def test_an_unknown_kind_of_reply_is_refused(still):
    with pytest.raises(PanelError, match="A reply is seen, remark, recheck or withdrawn"):
        reply(still, "0" * 16, "agreed")


def test_a_reply_to_no_proposal_is_refused(still):
    with pytest.raises(PanelError, match="There is no proposal 0000"):
        reply(still, "0" * 16, "seen")


def test_a_reply_to_a_decided_proposal_is_refused(desk, ids):
    proposal_id = put(desk, ids)
    grant(desk, ids, "probation")
    with pytest.raises(PanelError, match="decided already"):
        reply(desk, proposal_id, "seen")


def test_a_recheck_asked_for_is_open(desk, ids):
    reply(desk, put(desk, ids), "recheck")
    assert proposal_of(desk, ids["Ada"]).put.recheck_open


def test_a_recheck_taken_back_is_not_open(desk, ids):
    proposal_id = put(desk, ids)
    reply(desk, proposal_id, "recheck")
    reply(desk, proposal_id, "withdrawn")
    assert not proposal_of(desk, ids["Ada"]).put.recheck_open


def test_putting_a_proposal_forward_again_takes_no_recheck_away(desk, ids, tmp_path):
    reply(desk, put(desk, ids), "recheck")
    seated.bring_in(desk, tmp_path, seated.flights(range(10, 11), "Ada", 1)[-1:])
    put(desk, ids)
    assert proposal_of(desk, ids["Ada"]).put.recheck_open


def test_a_recheck_is_not_open_once_its_glasses_are_poured(desk, ids, monkeypatch):
    reply(desk, put(desk, ids), "recheck")
    after = proposals_put.ReplyView("recheck", "", datetime(2026, 8, 2, 12))
    monkeypatch.setattr(proposals_put.PutProposals, "replies", lambda *asked: (after,))
    assert not proposal_of(desk, ids["Ada"]).put.recheck_open


def test_only_a_recheck_that_was_asked_for_is_taken_back(desk, ids):
    with pytest.raises(PanelError, match="No recheck was asked for"):
        reply(desk, put(desk, ids), "withdrawn")


def test_a_decided_proposal_is_not_shown_any_more(desk, ids):
    put(desk, ids)
    grant(desk, ids, "probation")
    assert proposal_of(desk, ids["Ada"]) is None


def test_probation_served_is_proposed_to_become_a_full_seat(desk, ids, tmp_path):
    grant(desk, ids, "probation", 180)
    more_weeks(desk, tmp_path, 11, 17)
    found = proposal_of(desk, ids["Ada"])
    assert (found.state, found.proposed) == ("probation", "qualified")


def test_probation_of_three_sessions_is_not_served(desk, ids, tmp_path):
    grant(desk, ids, "probation", 180)
    more_weeks(desk, tmp_path, 10, 11)  # the day of the grant doesn't count
    more_weeks(desk, tmp_path, 14, 17)
    assert proposal_of(desk, ids["Ada"]) is None


def test_a_long_absence_is_proposed_as_a_pause(desk, ids):
    grant(desk, ids)
    seated.at(desk, TODAY + 54 * DAY)
    found = proposal_of(desk, ids["Ada"])
    assert (found.proposed, found.kind, found.is_adverse) == ("paused", "pause", True)


def test_a_day_before_an_absence_is_too_long_nothing_is_proposed(desk, ids):
    grant(desk, ids)
    seated.at(desk, TODAY + 53 * DAY)
    assert proposal_of(desk, ids["Ada"]) is None


def test_compounds_not_met_are_proposed_as_a_suspension(desk, ids):
    signed(desk, ids, "Bo", "qualified", TODAY + 100 * DAY)
    found = proposal_of(desk, ids["Bo"])
    assert (found.proposed, found.kind) == ("suspended", "suspend")


def test_a_pause_ends_with_the_seat_rule_met_and_the_recheck_passed(desk, ids, tmp_path):
    grant(desk, ids)
    signed(desk, ids, "Ada", "paused", None)
    assert proposal_of(desk, ids["Ada"]) is None
    more_weeks(desk, tmp_path, 11, 12)
    found = proposal_of(desk, ids["Ada"])
    assert (found.proposed, found.kind) == ("qualified", "return")


def test_a_recheck_missed_does_not_end_a_pause(desk, ids, tmp_path):
    grant(desk, ids)
    signed(desk, ids, "Ada", "paused", None)
    more_weeks(desk, tmp_path, 11, 12, missed=12)
    assert proposal_of(desk, ids["Ada"]) is None


@pytest.mark.parametrize(("glasses", "expected"), [(3, None), (4, "renew")])
def test_after_a_long_absence_a_seat_is_renewed_once_the_recheck_is_passed(
    desk, ids, tmp_path, glasses, expected
):
    grant(desk, ids, days=170)
    seated.at(desk, seated.FIRST + timedelta(weeks=31))
    seated.bring_in(desk, tmp_path, seated.flights(range(30, 31), "Ada", 1)[:glasses])
    found = proposal_of(desk, ids["Ada"])
    assert (found.kind if found else None) == expected


def test_at_the_start_of_a_panel_three_compounds_are_enough(desk, ids, tmp_path):
    rows = [
        row
        for row in seated.flights(range(10), "Dot", 5)
        if row[3] in ("diacetyl", "dms", "t2n", "blank")
    ]
    seated.bring_in(desk, tmp_path, rows, new_people=["Dot"])
    found = next(p for p in proposals(desk) if p.name == "Dot")
    assert "no seats exist today" in found.sentence


def test_the_record_still_adds_up(desk, ids):
    reply(desk, put(desk, ids), "remark", "Too early for me.")
    cursor = desk.store.cursor()
    now = cursor.execute("select max(recorded_at) from history").fetchone()[0]
    assert [*broken_entries(cursor), *impossible_facts(cursor, now)] == []


def test_a_remark_changed_later_is_found_out(desk, ids):
    reply(desk, put(desk, ids), "remark", "Too early for me.")
    cursor = desk.store.cursor()
    cursor.execute("update proposal_reply set words = 'Fine.'")
    now = cursor.execute("select max(recorded_at) from history").fetchone()[0]
    assert any("replies to proposals" in said for said in impossible_facts(cursor, now))
