"""Planning a release sitting, the talk on its page, and whether people know a beer: as the pages show them."""

from datetime import datetime, time

import pytest
from invented_session import button, html_of, started
from streamlit.testing.v1 import AppTest

from seatworthy.pages import source
from seatworthy.pages.session_talk import talk_block
from seatworthy.sessions.wish import WantedSitting
from seatworthy.steps.batches import batches, state_batch
from seatworthy.steps.panel import people_of_panel
from seatworthy.steps.planning import record_plan
from seatworthy.steps.release_wishes import ShortWish, known_beer_wish, release_wish
from seatworthy.steps.session_facts import session_facts
from seatworthy.steps.talk_views import BeerTalk, SaidLine, SittingTalk

HOSTILE = "<b>Tank</b> 12"


def beer(**changed):
    lines = (
        SaidLine("Ada <i>Quill", "DMS", "as it should be", True, True),
        SaidLine("Bo Marsh", "“wet <dog>”", "", False, False),
    )
    told = {
        "sample_id": "s1",
        "label": HOSTILE,
        "sentence": "One of two called DMS.",
        "lines": lines,
    }
    return BeerTalk(**{**told, **changed})


def sitting(**changed):
    told = {
        "sitting_id": "early", "label": "Early", "is_open": True, "missing": "", "beers": (beer(),),
        "glasses": (), "may_take_back": False,
    }  # fmt: skip
    return SittingTalk(**{**told, **changed})


def test_both_answers_stand_side_by_side_with_the_way_to_be_weighed():
    block = talk_block(sitting())
    assert "&lt;b&gt;Tank&lt;/b&gt; 12" in block
    assert "Ada &lt;i&gt;Quill" in block
    assert "“wet &lt;dog&gt;”" in block
    assert 'href="sure?sample=s1"' in block
    assert "made it: not independent" in block
    assert "<b>as it should be</b>" in block
    assert "nothing said" in block
    assert "nothing yet" in talk_block(sitting(), nothing="nothing yet")
    assert "<i>Quill" not in block


def test_nothing_said_is_no_table():
    block = talk_block(sitting(beers=(beer(lines=(), sentence="Nobody has said anything of it."),)))
    assert "<table" not in block


def _talk_page(missing):
    from seatworthy.pages.session_talk import show_talk as show
    from seatworthy.steps.talk_views import SittingTalk as Sitting
    from seatworthy.steps.talk_views import TalkView as View

    show(View("s", True, (Sitting("early", "Early", False, missing, (), (), False),)))


@pytest.mark.parametrize("missing", ["", "4 glasses have no answer: Ada 4."])
def test_the_talk_is_not_opened_while_answers_are_missing_unless_that_is_said(missing):
    test = AppTest.from_function(_talk_page, args=(missing,), default_timeout=20).run()
    assert not test.exception
    opened = button(test, "Open the talk")
    assert opened.disabled is bool(missing)
    if missing:
        assert missing in html_of(test)
        test.checkbox(key="stays_early").check().run()
        assert not button(test, "Open the talk").disabled


def test_without_a_batch_the_form_says_what_to_do_next(brewery):
    assert batches(brewery) == ()
    test = started("plan", kind="release")
    assert "No batch is on record yet" in html_of(test)
    assert "There is no batch to judge" in html_of(test)
    assert button(test, "Record this plan").disabled


def test_a_release_sitting_is_planned_with_a_new_batch(brewery):
    test = started("plan", kind="release")
    test.text_input(key="release_new_label").input(HOSTILE)
    button(test, "Put it on record").click()
    test.run()
    assert not test.exception
    (batch,) = batches(brewery)
    assert test.multiselect(key="release_batches").value == [batch.batch_id]
    page = html_of(test)
    assert "&lt;b&gt;Tank" in page
    assert "<b>Tank" not in page
    recorded = button(test, "Record this plan")
    assert not recorded.disabled
    before = len(brewery.store.rows("session_list"))
    recorded.click()
    test.run()
    rows = brewery.store.rows("session_list")
    assert len(rows) == before + 1
    facts = [session_facts(brewery, row["session_id"]) for row in rows]
    (made,) = [one for one in facts if one.head.is_release]
    kinds = {(s.batch_id is not None, s.compound is not None) for s in made.samples.values()}
    assert kinds == {(True, False), (False, True), (False, False)}


def test_the_address_brings_a_batch_and_the_people_chosen(brewery):
    batch_id = state_batch(brewery, "Tank 9", _beer(brewery))
    state_batch(brewery, "Tank 10", _beer(brewery))
    who = [p.person_id for p in people_of_panel(brewery) if p.is_panellist][:3]
    test = started("plan", kind="release", batch=batch_id, who=",".join(who))
    assert test.multiselect(key="release_batches").value == [batch_id]
    assert test.multiselect(key="release_people_0").value == who


def test_each_kind_is_planned_again_on_its_own_form(brewery):
    batch_id = state_batch(brewery, "Tank 9", _beer(brewery))
    state_batch(brewery, "Tank 10", _beer(brewery))
    wishes = {
        "Plan a release sitting": release_wish(brewery, _short(brewery, "Release"), [batch_id]),
        "Do we know our beer?": known_beer_wish(
            brewery, _short(brewery, "Our beer"), _beer(brewery), ["aged"], None, ""
        ),
    }
    for words, wish in wishes.items():
        test = started("plan", again=record_plan(brewery, wish))
        assert words in html_of(test)
        if wish.is_release:
            assert test.multiselect(key="release_batches").value == [batch_id]
            assert test.multiselect(key="release_people_0").value == list(wish.sittings[0].people)


def test_whoever_made_it_is_not_asked_by_itself(brewery):
    first = started("plan", kind="release")
    crew = first.multiselect(key="release_people_0").value[:1]
    state_batch(brewery, "Tank 9", _beer(brewery), crew)
    test = started("plan", kind="release")
    assert not set(crew) & set(test.multiselect(key="release_people_0").value)


def test_whether_people_know_a_beer_is_planned(brewery):
    test = started("plan", kind="beer")
    page = html_of(test)
    assert "Do we know our beer?" in page
    assert not button(test, "Record this plan").disabled
    button(test, "Record this plan").click()
    test.run()
    asked = brewery.store.cursor().execute(
        "select distinct variant from beer_question order by variant"
    )
    assert asked.fetchall() == [("aged",), ("own",)]


def _beer(desk):
    return desk.store.rows("beers_with_family")[0]["beer"]


def _short(desk, label):
    today = desk.today()
    who = tuple(p.person_id for p in people_of_panel(desk) if p.is_panellist)[:3]
    return ShortWish(
        today, label, (WantedSitting("Early", datetime.combine(today, time(10)), who),)
    )


def test_the_page_of_a_release_sitting_offers_the_talk_and_seals_what_was_said(brewery):
    batch_id = state_batch(brewery, "Tank 9", _beer(brewery))
    session_id = record_plan(brewery, release_wish(brewery, _short(brewery, "Release"), [batch_id]))
    page = html_of(started("session", session=session_id))
    assert "Talk it over" in page
    assert "sealed until the talk" in page
    assert "Tank 9" not in page
    beers = known_beer_wish(
        brewery, _short(brewery, "Our beer"), _beer(brewery), ["aged"], None, ""
    )
    other = record_plan(brewery, beers)
    assert "Talk it over" not in html_of(started("session", session=other))
    assert source.the_desk() is brewery
