"""A panellist's own ballot: what it shows, what is kept of a form, and what is refused."""

from decimal import Decimal

import planned_sets
import pytest
import thursday
from handed_out import say, secrets_of, stored

from seatworthy.sessions.wish import WantedSample
from seatworthy.steps.answers import enter_answer
from seatworthy.steps.ballot_feedback import own_feedback
from seatworthy.steps.ballot_views import FormAnswer
from seatworthy.steps.ballots import answer, ballot, fit_after_all, not_fit
from seatworthy.steps.desk import Desk
from seatworthy.steps.panel import set_panellist
from seatworthy.steps.seating import seat_latecomer
from seatworthy.steps.session_facts import session_facts
from seatworthy.steps.sheets import sheet_key
from seatworthy.steps.table import absent, sitting_goes_on, sitting_over, spilled
from seatworthy.store.file import Store

ADA = "Ada Moran"


@pytest.fixture
def ada(desk, session_id):
    """Ada's link."""
    return secrets_of(desk, session_id)[ADA]


def glass_of(desk, session_id, name=ADA, place=1):
    facts = session_facts(desk, session_id)
    own = [g for g in facts.glasses if facts.names[g.person_id] == name]
    return sorted(own, key=lambda g: g.position)[place - 1]


def test_a_ballot_shows_its_own_glasses_in_their_order_and_nothing_of_what_is_in_them(
    desk, session_id, ada
):
    view = ballot(desk, ada)
    own = [glass_of(desk, session_id, place=n) for n in range(1, 9)]
    assert [g.codes for g in view.glasses] == [(g.blind_code,) for g in own]
    assert (view.name, view.state, view.language) == (ADA, "open", "en")
    assert view.waiting == view.glasses
    assert len(view.names) >= 24
    assert not {"compound", "level", "sample_id"} & {
        field for glass in view.glasses for field in vars(glass)
    }


@pytest.mark.parametrize(
    ("form", "kind", "words"),
    [
        ({"choice": "nothing"}, "nothing", ""),
        ({"choice": "something"}, "something", ""),
        ({"choice": "diacetyl"}, "words", "Diacetyl"),
        ({"words": " banana  skin "}, "words", "banana skin"),
        ({"choice": "something", "words": "banana"}, "words", "banana"),
        ({"words": "nothing"}, "nothing", ""),
    ],
)
def test_a_form_is_kept_as_it_is_meant(desk, ada, form, kind, words):
    done = say(desk, ada, 1, sureness="fairly", **form)
    kept = done.view.glasses[0].answer
    assert (done.outcome, kept.kind, kept.words, kept.sureness) == ("kept", kind, words, "fairly")


def test_every_name_on_the_list_is_read_as_its_compound(desk, session_id, ada):
    for name in ballot(desk, ada).names:
        assert say(desk, ada, 1, name.compound).outcome == "kept"
        glass = glass_of(desk, session_id)
        assert glass.named_compound == name.compound, name


def test_a_name_that_is_not_offered_any_more_is_still_taken(desk, session_id, ada):
    """The page may have been drawn before the list was changed."""
    offered = {name.compound for name in ballot(desk, ada).names}
    known = {row["compound"] for row in desk.store.rows("compounds")}
    gone = min(known - offered)
    assert say(desk, ada, 1, gone).outcome == "kept"
    assert glass_of(desk, session_id).named_compound == gone


def test_own_words_beside_a_name_stay_as_a_remark(desk, ada):
    done = say(desk, ada, 1, "diacetyl", "like popcorn")
    assert done.view.glasses[0].answer.words == "Diacetyl"
    kept = desk.store.cursor().execute("select remark from remark").fetchall()
    assert kept == [("like popcorn",)]


@pytest.mark.parametrize(
    ("form", "fault"),
    [
        ({}, "no_choice"),
        ({"words": "   "}, "no_choice"),
        ({"choice": "nothing", "words": "banana"}, "two_things"),
        ({"choice": "unobtainium"}, "not_listed"),
        ({"words": "417"}, "unreadable"),
        ({"words": "n/a"}, "unreadable"),
        ({"words": "bana\x00na"}, "unreadable"),
        ({"words": "b" * 121}, "too_long"),
        ({"choice": "diacetyl", "words": "b" * 121}, "too_long"),
        ({"choice": "diacetyl", "words": "a\u202eb"}, "unreadable"),
    ],
)
def test_a_form_that_says_nothing_to_store_stores_nothing(desk, ada, form, fault):
    before = stored(desk)
    done = say(desk, ada, 1, **form)
    assert (done.outcome, done.fault) == ("refused", fault)
    assert stored(desk) == before


def test_a_sureness_that_is_none_of_ours_is_not_said(desk, ada):
    done = say(desk, ada, 1, "nothing", sureness="' or 1=1")
    assert done.view.glasses[0].answer.sureness == ""


def test_a_double_tap_is_one_answer(desk, ada):
    form = FormAnswer("diacetyl", "", "", "certain", 0)
    outcomes = [answer(desk, ada, 2, form).outcome for _ in range(3)]
    assert outcomes == ["kept", "known", "known"]
    assert stored(desk) == stored(desk, "phone_answer") == 1


def test_an_answer_may_be_changed_and_leaves_its_trace(desk, session_id, ada):
    say(desk, ada, 1, "diacetyl")
    say(desk, ada, 1, "dms")
    assert ballot(desk, ada).glasses[0].answer.words == "DMS"
    rows = desk.store.cursor().execute(
        "select words, person_id from answer join author using (entry_no) order by entry_no"
    )
    (first, second) = rows.fetchall()
    assert (first[0], second[0]) == ("Diacetyl", "DMS")
    assert first[1] == second[1] == glass_of(desk, session_id).person_id


def test_a_form_drawn_before_another_answer_came_in_is_not_stored_over_it(desk, ada):
    say(desk, ada, 1, "diacetyl")
    done = say(desk, ada, 1, "dms", seen=0)
    assert (done.outcome, done.view.glasses[0].answer.words) == ("meanwhile", "Diacetyl")
    again = say(desk, ada, 1, "dms", seen=done.view.glasses[0].answers)
    assert (again.outcome, again.view.glasses[0].answer.words) == ("kept", "DMS")


def test_a_form_without_what_it_was_drawn_with_counts_as_drawn_before_any_answer(desk, ada):
    assert answer(desk, ada, 1, FormAnswer("dms")).outcome == "kept"
    assert answer(desk, ada, 1, FormAnswer("diacetyl")).outcome == "meanwhile"


def test_paper_and_phone_answer_one_ballot(desk, session_id, ada):
    glass = glass_of(desk, session_id, place=2)
    key = sheet_key(glass.sitting_id, glass.person_id)
    say(desk, ada, 1, "diacetyl")
    assert enter_answer(desk, session_id, key, glass.blind_code, "dms").outcome == "kept"
    view = ballot(desk, ada)
    assert [g.answer.words for g in view.glasses[:2]] == ["Diacetyl", "dms"]
    first = glass_of(desk, session_id, place=1)
    typed = enter_answer(desk, session_id, key, first.blind_code, "dms")
    assert typed.outcome == "refused"
    assert "Diacetyl" in typed.sentence


@pytest.mark.parametrize("place", [0, 9, -1, 10**9])
def test_a_glass_that_is_not_on_the_ballot_is_not_answered(desk, ada, place):
    done = say(desk, ada, place, "nothing", seen=0)
    assert (done.outcome, done.fault) == ("refused", "not_here")
    assert stored(desk) == 0


def test_a_spilled_glass_takes_no_answer(desk, session_id, ada):
    spilled(desk, glass_of(desk, session_id).serving_id)
    done = say(desk, ada, 1, "nothing")
    assert (done.outcome, done.fault) == ("refused", "spilled")
    assert done.view.glasses[0].state == "spilled"


def test_nothing_is_taken_once_the_sitting_is_over_until_it_goes_on(desk, session_id, ada):
    sitting = glass_of(desk, session_id).sitting_id
    sitting_over(desk, sitting)
    assert ballot(desk, ada).state == "handed_in"
    assert say(desk, ada, 1, "nothing").outcome == "closed"
    sitting_goes_on(desk, sitting)
    assert say(desk, ada, 1, "nothing").outcome == "kept"


def test_the_other_sitting_goes_on_when_one_is_over(desk, session_id):
    secrets = secrets_of(desk, session_id)
    sitting_over(desk, glass_of(desk, session_id).sitting_id)
    assert ballot(desk, secrets["Goran Petrić"]).state == "open"


def test_a_ballot_opens_on_its_day(desk, session_id, ada, monkeypatch):
    today = desk.today()
    monkeypatch.setattr(desk, "today", lambda: today.replace(year=today.year - 1))
    assert ballot(desk, ada).state == "early"
    assert say(desk, ada, 1, "nothing").outcome == "closed"


def test_somebody_not_fit_before_the_first_glass_is_not_there(desk, session_id, ada):
    view = not_fit(desk, ada)
    assert (view.state, view.is_own_word) == ("away", True)
    facts = session_facts(desk, session_id)
    glass = glass_of(desk, session_id)
    assert facts.seat_state(glass.sitting_id, glass.person_id) == "absent"
    assert say(desk, ada, 1, "nothing").outcome == "closed"
    assert fit_after_all(desk, ada).state == "open"
    assert say(desk, ada, 1, "nothing").outcome == "kept"


def test_somebody_not_fit_later_keeps_what_they_said_set_aside(desk, session_id, ada):
    say(desk, ada, 1, "nothing")
    not_fit(desk, ada)
    glass = glass_of(desk, session_id)
    facts = session_facts(desk, session_id)
    assert facts.seat_state(glass.sitting_id, glass.person_id) == "left"
    assert glass.is_own_aside
    assert not facts.is_waiting(glass_of(desk, session_id, place=2))
    fit_after_all(desk, ada)
    assert not glass_of(desk, session_id).is_own_aside


def test_what_the_leader_says_of_somebody_stands(desk, session_id, ada):
    glass = glass_of(desk, session_id)
    absent(desk, glass.sitting_id, glass.person_id)
    view = ballot(desk, ada)
    assert (view.state, view.is_own_word) == ("away", False)
    assert fit_after_all(desk, ada).state == "away"


def test_saying_twice_that_one_is_not_fit_is_said_once(desk, session_id, ada):
    not_fit(desk, ada)
    version = desk.version
    not_fit(desk, ada)
    assert desk.version == version


def test_whoever_is_taken_off_the_panel_answers_no_more(desk, session_id, ada):
    say(desk, ada, 1, "nothing")
    set_panellist(desk, glass_of(desk, session_id).person_id, False)
    view = ballot(desk, ada)
    assert (view.state, view.is_own_word) == ("away", False)
    assert say(desk, ada, 2, "nothing").outcome == "closed"
    assert view.answered == 1
    set_panellist(desk, glass_of(desk, session_id).person_id, True)
    not_fit(desk, ada)
    set_panellist(desk, glass_of(desk, session_id).person_id, False)
    said = stored(desk, "sitting_person")
    assert fit_after_all(desk, ada).state == "away"
    assert stored(desk, "sitting_person") == said


def test_whoever_moved_to_another_sitting_cannot_take_back_that_they_miss_the_first(
    desk, session_id, people, ada
):
    _, late = session_facts(desk, session_id).sittings
    not_fit(desk, ada)
    assert ballot(desk, ada).is_own_word
    seat_latecomer(desk, late.sitting_id, people["Ada"])
    assert not ballot(desk, ada).is_own_word
    assert fit_after_all(desk, ada).state == "away"
    absent(desk, late.sitting_id, people["Ada"])
    assert fit_after_all(desk, ada).state == "open"


def test_a_set_is_answered_with_one_of_its_codes_and_says_nothing_of_right_or_wrong(desk, people):
    session_id = planned_sets.planned(desk, people)
    ada = secrets_of(desk, session_id)[ADA]
    glass = next(g for g in ballot(desk, ada).glasses if g.is_set)
    odd = next(
        g for g in session_facts(desk, session_id).glasses if g.serving_id == glass.serving_id
    ).blind_code
    for code in glass.codes:
        done = say(desk, ada, glass.place, code)
        kept = done.view.glasses[glass.place - 1].answer
        assert (done.outcome, kept.kind, kept.picked) == ("kept", "picked", code)
        facts = session_facts(desk, session_id)
        stored_kind = next(g for g in facts.glasses if g.serving_id == glass.serving_id).kind
        assert stored_kind == ("right" if code == odd else "wrong")
    assert say(desk, ada, glass.place, "999").fault == "not_here"
    assert say(desk, ada, glass.place, "").fault == "no_choice"


ASKED = (
    WantedSample("diacetyl", Decimal(3), "", 1, "intensity", "diacetyl"),
    WantedSample(None, None, "", 1, "intensity", "diacetyl"),
    WantedSample("dms", Decimal(3), "", 1, "a_not_a", "dms"),
    WantedSample(None, None, "", 1, "a_not_a", "dms"),
)


@pytest.mark.parametrize("choice", ["", "something", "dms"])
def test_words_with_a_letter_that_was_lost_on_the_way_are_not_stored(desk, ada, choice):
    done = say(desk, ada, 1, choice, words="caf\ufffd")
    assert (done.outcome, done.fault, stored(desk)) == ("refused", "unreadable", 0)


def test_rated_and_yes_no_glasses_are_answered_as_they_ask(desk, people):
    session_id = thursday.planned(desk, people, samples=ASKED)
    ada = secrets_of(desk, session_id)[ADA]
    view = ballot(desk, ada)
    assert view.names == ()
    rated = [g for g in view.glasses if g.method == "intensity"]
    asked = [g for g in view.glasses if g.method == "a_not_a"]
    assert ({g.asked for g in rated}, {g.asked for g in asked}) == ({"Diacetyl"}, {"DMS"})
    for text in ("10", "0"):
        done = say(desk, ada, rated[0].place, rating=text)
        kept = done.view.glasses[rated[0].place - 1].answer
        assert (done.outcome, kept.kind, str(kept.rating)) == ("kept", "rating", text)
    for text, fault in (("11", "rating"), ("-1", "rating"), ("7.5", "rating"), ("", "no_choice"),
                        ("9" * 900, "rating"), ("00005555", "rating"), ("0000" + "9" * 5000, "rating"),
                        ("٣", "rating")):  # fmt: skip
        assert say(desk, ada, rated[1].place, rating=text).fault == fault
    assert (
        say(desk, ada, asked[0].place, "yes").view.glasses[asked[0].place - 1].answer.kind == "yes"
    )
    assert say(desk, ada, asked[1].place, "diacetyl").fault == "not_here"
    assert say(desk, ada, asked[1].place, "").fault == "no_choice"


def test_a_yes_where_nothing_is_shows_as_such_on_ones_own_page(desk, people):
    session_id = thursday.planned(desk, people, samples=ASKED)
    secrets = secrets_of(desk, session_id)
    for secret in secrets.values():
        for glass in ballot(desk, secret).glasses:
            said = {"rating": "4"} if glass.method == "intensity" else {"choice": "yes"}
            assert say(desk, secret, glass.place, **said).outcome == "kept"
    thursday.close(desk, session_id)
    page = own_feedback(desk, secrets[ADA])
    assert sorted(g.outcome for g in page.glasses) == ["called", "rated", "rated", "right"]
    assert (page.right, page.counted) == (1, 2)


def test_a_disk_without_room_is_told_and_what_was_kept_before_stays(desk, ada, monkeypatch):
    import duckdb

    say(desk, ada, 1, "nothing")

    def full(act, kind, previous):
        message = "IO Error: No space left on device"
        raise duckdb.IOException(message)

    monkeypatch.setattr("seatworthy.store.file.seal", full)
    done = say(desk, ada, 2, "nothing")
    assert (done.outcome, done.fault) == ("refused", "no_room")
    assert [g.state for g in done.view.glasses[:2]] == ["answered", "waiting"]
    monkeypatch.undo()
    assert say(desk, ada, 2, "nothing").outcome == "kept"


def test_somebody_elses_link_never_reaches_this_ones_glasses(desk, session_id):
    secrets = secrets_of(desk, session_id)
    say(desk, secrets["Bo Larsen"], 1, "nothing")
    assert ballot(desk, secrets[ADA]).answered == 0
    assert glass_of(desk, session_id, "Bo Larsen").kind == "nothing"


def test_a_whole_sitting_by_phone_closes_like_one_from_paper(desk, session_id):
    secrets = secrets_of(desk, session_id)
    facts = session_facts(desk, session_id)
    for name, secret in secrets.items():
        for glass in ballot(desk, secret).glasses:
            poured = glass_of(desk, session_id, name, glass.place)
            compound = facts.samples[poured.sample_id].compound
            assert say(desk, secret, glass.place, compound or "nothing").outcome == "kept"
    thursday.close(desk, session_id)
    assert set(session_facts(desk, session_id).outcomes.values()) == {"right"}
    assert ballot(desk, secrets[ADA]).state == "revealed"


def test_what_is_kept_in_memory_is_what_stands_on_record(desk, session_id, ada):
    for place, form in enumerate(
        ({"choice": "diacetyl"}, {"words": " two   words "}, {"choice": "nothing"},
         {"choice": "something", "sureness": "guess"}, {"choice": "dms", "words": "beside it"}),
        start=1,
    ):  # fmt: skip
        done = say(desk, ada, place, **form)
        assert ballot(desk, ada).glasses == done.view.glasses
        again = open_desk_beside(desk)
        assert ballot(again, ada).glasses == done.view.glasses


def open_desk_beside(desk):
    """The same store as if the program had just been started."""
    return Desk(Store(desk.store._con, desk.store.path))
