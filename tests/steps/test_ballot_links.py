"""Links: who has one, what the store keeps of it, and when it opens nothing."""

from datetime import UTC, datetime, timedelta
from hashlib import sha256

import pytest
import thursday
from handed_out import say, secrets_of

from seatworthy.errors import PanelError
from seatworthy.steps import ballot_seats
from seatworthy.steps.ballot_feedback import own_feedback
from seatworthy.steps.ballot_languages import speaks
from seatworthy.steps.ballot_links import LINK_DAYS, hand_out, links
from seatworthy.steps.ballot_presence import is_nudged, nudge
from seatworthy.steps.ballots import ballot, not_fit
from seatworthy.steps.closing import call_off
from seatworthy.steps.desk import open_desk
from seatworthy.steps.panel import add_people
from seatworthy.steps.people import merge_people, split_people
from seatworthy.steps.table import absent, seat_latecomer, spilled

ADA = "Ada Moran"


class _Later(datetime):
    """A clock that shows another moment."""

    shift = timedelta()

    @classmethod
    def now(cls, tz=None):
        """The moment it shows."""
        return datetime.now(tz) + cls.shift


def at(monkeypatch, shift):
    """Shift the clock by which links run out."""
    monkeypatch.setattr(_Later, "shift", shift)
    monkeypatch.setattr(ballot_seats, "datetime", _Later)


def test_everybody_with_glasses_gets_a_link_of_their_own(desk, session_id):
    secrets = secrets_of(desk, session_id)
    assert set(secrets) == set(thursday.NAMES)
    assert len(set(secrets.values())) == 9
    assert all(len(secret) >= 22 for secret in secrets.values())


def test_the_store_keeps_digests_and_no_secret(desk, session_id):
    secrets = secrets_of(desk, session_id)
    kept = desk.store.cursor().execute("select link_digest from ballot_link").fetchall()
    assert {digest for (digest,) in kept} == {
        sha256(secret.encode()).hexdigest() for secret in secrets.values()
    }
    desk.close()
    assert not any(secret.encode() in desk.store.path.read_bytes() for secret in secrets.values())


def test_handing_out_again_leaves_the_links_as_they_are(desk, session_id):
    before = secrets_of(desk, session_id)
    assert hand_out(desk, session_id) == "Everybody has a link."
    assert secrets_of(desk, session_id) == before


def test_a_new_link_ends_the_older_one_of_that_person_alone(desk, session_id):
    before = secrets_of(desk, session_id)
    key = next(line.key for line in links(desk, session_id) if line.name == ADA)
    hand_out(desk, session_id, key=key)
    after = secrets_of(desk, session_id)
    assert ballot(desk, before[ADA]) is None
    assert ballot(desk, after[ADA]).name == ADA
    assert {n: s for n, s in before.items() if n != ADA} == {
        n: s for n, s in after.items() if n != ADA
    }


def test_a_server_started_anew_knows_links_and_shows_no_secret(desk, session_id):
    secrets = secrets_of(desk, session_id)
    say(desk, secrets[ADA], 1, "diacetyl")
    path, today = desk.store.path, desk.today
    desk.close()
    again = open_desk(path)
    again.today = today
    assert {line.secret for line in links(again, session_id)} == {""}
    assert all(line.handed_out_at for line in links(again, session_id))
    assert hand_out(again, session_id) == "Everybody has a link."
    view = ballot(again, secrets[ADA])
    assert view.glasses[0].answer.words == "Diacetyl"
    assert say(again, secrets[ADA], 2, "nothing").outcome == "kept"
    again.close()


@pytest.mark.parametrize("wrong", ["", "x", "\ud800", "a" * 5000, "../../etc", "' or 1=1 --"])
def test_a_link_that_was_never_made_opens_nothing(desk, session_id, wrong):
    secrets_of(desk, session_id)
    assert ballot(desk, wrong) is None


def test_a_truncated_or_lengthened_link_opens_nothing(desk, session_id):
    ada = secrets_of(desk, session_id)[ADA]
    for near in (ada[:-1], ada + "A", ada.swapcase(), f"{ada} ", ada[1:]):
        assert ballot(desk, near) is None


def test_a_link_runs_out_with_its_last_day(desk, session_id, monkeypatch):
    ada = secrets_of(desk, session_id)[ADA]
    view = ballot(desk, ada)
    assert view.expires_on == thursday.TODAY + timedelta(days=LINK_DAYS)
    at(monkeypatch, timedelta(days=LINK_DAYS - 1))
    assert ballot(desk, ada) is not None
    at(monkeypatch, timedelta(days=LINK_DAYS + 1))
    assert ballot(desk, ada) is None
    assert say_nothing(desk, ada) is None


def say_nothing(desk, secret):
    return say(desk, secret, 1, "nothing", seen=0)


def test_a_clock_set_back_revives_no_link(desk, session_id, monkeypatch):
    ada = secrets_of(desk, session_id)[ADA]
    late = datetime.now(UTC).replace(tzinfo=None) + timedelta(days=LINK_DAYS + 2)
    monkeypatch.setattr("seatworthy.store.recording._moment_after_the_last", lambda cursor: late)
    absent(desk, links(desk, session_id)[-1].sitting_id, links(desk, session_id)[-1].person_id)
    monkeypatch.undo()
    at(monkeypatch, timedelta(days=-400))
    assert ballot(desk, ada) is None


def test_an_answer_is_never_dated_before_the_one_before_it(desk, session_id, monkeypatch):
    ada = secrets_of(desk, session_id)[ADA]
    say(desk, ada, 1, "nothing")
    monkeypatch.setattr("seatworthy.store.file.datetime", _Later)
    monkeypatch.setattr(_Later, "shift", timedelta(days=-3))
    say(desk, ada, 2, "nothing")
    moments = desk.store.cursor().execute("select recorded_at from history order by entry_no")
    found = [moment for (moment,) in moments.fetchall()]
    assert found == sorted(found)


def test_a_latecomer_gets_a_link_too(desk, people, session_id):
    secrets_of(desk, session_id)
    facts = thursday.facts_of(desk, session_id)
    early, late = facts.sittings
    absent(desk, early.sitting_id, people["Ada"])
    seat_latecomer(desk, late.sitting_id, people["Ada"])
    hand_out(desk, session_id)
    own = [line for line in links(desk, session_id) if line.name == ADA]
    assert [bool(line.secret) for line in own] == [True, True]
    states = {line.sitting: ballot(desk, line.secret).state for line in own}
    assert states == {"Early": "away", "Late": "open"}


def test_no_links_for_a_session_that_takes_no_answers(desk, session_id):
    secrets = secrets_of(desk, session_id)
    call_off(desk, session_id)
    with pytest.raises(PanelError, match="called off"):
        hand_out(desk, session_id)
    assert ballot(desk, secrets[ADA]).state == "called_off"
    assert links(desk, "no such session") == ()


def closed(desk, session_id):
    """The session, answered and closed; everybody's secret from before."""
    secrets = secrets_of(desk, session_id)
    thursday.answer_all(desk, session_id)
    thursday.close(desk, session_id)
    return secrets


def own_line(desk, session_id, name=ADA):
    return next(line for line in links(desk, session_id) if line.name == name)


def test_a_lost_link_of_a_closed_session_is_handed_out_anew_for_reading(desk, session_id):
    before = closed(desk, session_id)
    earlier = own_line(desk, session_id)
    desk.today = lambda: thursday.TODAY + timedelta(days=5)
    assert "has a new link" in hand_out(desk, session_id, key=earlier.key)
    later = own_line(desk, session_id)
    assert own_feedback(desk, before[ADA]) is None
    assert own_feedback(desk, later.secret).name == ADA
    assert later.expires_on == earlier.expires_on == thursday.TODAY + timedelta(days=LINK_DAYS)
    done = say(desk, later.secret, 1, "nothing")
    assert done.outcome == "closed"
    with pytest.raises(PanelError, match="is closed"):
        hand_out(desk, session_id)


def test_a_link_made_after_the_close_never_ends_in_the_past(desk, session_id):
    closed(desk, session_id)
    late = thursday.TODAY + timedelta(days=LINK_DAYS + 30)
    desk.today = lambda: late
    hand_out(desk, session_id, key=own_line(desk, session_id).key)
    assert own_line(desk, session_id).expires_on == late


def test_whoever_answered_on_paper_gets_a_link_after_the_close_that_ends_like_the_others(
    desk, session_id
):
    thursday.answer_all(desk, session_id)
    thursday.close(desk, session_id)
    desk.today = lambda: thursday.TODAY + timedelta(days=3)
    assert hand_out(desk, session_id, key=own_line(desk, session_id).key) == f"{ADA} has a link."
    assert own_line(desk, session_id).expires_on == thursday.TODAY + timedelta(days=LINK_DAYS)


def test_a_session_called_off_gives_no_seat_a_new_link(desk, session_id):
    secrets_of(desk, session_id)
    call_off(desk, session_id)
    with pytest.raises(PanelError, match="called off"):
        hand_out(desk, session_id, key=own_line(desk, session_id).key)


def test_a_seat_that_is_not_there_gets_no_link(desk, session_id):
    with pytest.raises(PanelError, match="no ballot"):
        hand_out(desk, session_id, key="somewhere-else")


def test_a_ballot_speaks_its_persons_language(desk, people, session_id):
    secrets = secrets_of(desk, session_id)
    assert speaks(desk, people["Carmen"], "es") == "Carmen Ruiz's ballot speaks Español."
    assert ballot(desk, secrets["Carmen Ruiz"]).language == "es"
    assert ballot(desk, secrets[ADA]).language == "en"
    with pytest.raises(PanelError, match="English"):
        speaks(desk, people["Carmen"], "xx")
    with pytest.raises(PanelError, match="Nobody"):
        speaks(desk, "nobody", "de")


def test_a_nudge_shows_until_everything_is_answered(desk, people, session_id):
    ada = secrets_of(desk, session_id)[ADA]
    sitting = thursday.facts_of(desk, session_id).sittings[0].sitting_id
    nudge(desk, sitting, people["Ada"])
    assert ballot(desk, ada).is_nudged
    for place in range(1, 9):
        assert is_nudged(desk, sitting, people["Ada"])
        say(desk, ada, place, "nothing")
    assert not ballot(desk, ada).is_nudged


def test_own_feedback_comes_with_the_reveal_and_not_before(desk, session_id):
    ada = secrets_of(desk, session_id)[ADA]
    say(desk, ada, 1, words="banana")
    assert own_feedback(desk, ada) is None
    thursday.answer_all(desk, session_id, {"diacetyl": "dms"})
    for sitting in thursday.facts_of(desk, session_id).sittings:
        thursday.sitting_over(desk, sitting.sitting_id)
    assert own_feedback(desk, ada) is None
    thursday.close(desk, session_id)
    page = own_feedback(desk, ada)
    facts = thursday.facts_of(desk, session_id)
    own = sorted(
        (g for g in facts.glasses if facts.names[g.person_id] == ADA), key=lambda g: g.position
    )
    assert [g.codes[0] for g in page.glasses] == [g.blind_code for g in own]
    assert page.glasses[0].note == "waits"
    wrong = sum(facts.samples[g.sample_id].compound == "diacetyl" for g in own[1:])
    assert (page.counted, page.right) == (7, 7 - wrong)
    assert page.mixed_up == ("Diacetyl", "DMS")
    assert own_feedback(desk, "wrong") is None


def test_a_new_link_counts_as_not_opened_and_the_first_is_no_new_one(desk, people, session_id):
    ada = secrets_of(desk, session_id)[ADA]
    assert ballot(desk, ada).has_control
    line = next(line for line in links(desk, session_id) if line.name == ADA)
    assert line.opened
    told = hand_out(desk, session_id, key=line.key)
    assert told == "Ada Moran has a new link; the earlier one opens nothing any more."
    assert not next(line for line in links(desk, session_id) if line.name == ADA).opened
    facts = thursday.facts_of(desk, session_id)
    early, late = facts.sittings
    absent(desk, early.sitting_id, people["Bo"])
    seat_latecomer(desk, late.sitting_id, people["Bo"])
    key = next(one.key for one in links(desk, session_id) if one.handed_out_at is None)
    assert hand_out(desk, session_id, key=key) == "Bo Larsen has a link."


def test_own_feedback_says_what_was_spilled_and_who_did_not_taste(desk, session_id):
    secrets = secrets_of(desk, session_id)
    facts = thursday.facts_of(desk, session_id)
    own = next(g for g in facts.glasses if facts.names[g.person_id] == ADA)
    spilled(desk, own.serving_id)
    not_fit(desk, secrets["Bo Larsen"])
    thursday.answer_all(desk, session_id)
    thursday.close(desk, session_id)
    assert [g.outcome for g in own_feedback(desk, secrets[ADA]).glasses].count("spilled") == 1
    assert own_feedback(desk, secrets[ADA]).has_tasted
    assert not own_feedback(desk, secrets["Bo Larsen"]).has_tasted


def test_a_replaced_link_stays_replaced_when_merged_spellings_are_split_again(
    desk, people, session_id
):
    add_people(desk, ["Zara Quint"], since_on=None)
    earlier = secrets_of(desk, session_id)[ADA]
    merge_people(desk, ADA, "Zara Quint")
    (line,) = (line for line in links(desk, session_id) if line.name == "Zara Quint")
    hand_out(desk, session_id, key=line.key)
    (line,) = (line for line in links(desk, session_id) if line.name == "Zara Quint")
    assert ballot(desk, earlier) is None
    split_people(desk, ADA)
    assert ballot(desk, earlier) is None
    assert ballot(desk, line.secret).name == ADA
    assert len(ballot(desk, line.secret).glasses) == 8
