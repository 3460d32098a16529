"""What to pour next: the sentence, the glasses with their reasons, the choices, and the way to the plan."""

import pytest
import streamlit as st
from invented_session import button, html_of, started
from streamlit.testing.v1 import AppTest

from seatworthy.pages import going, pour_next, source
from seatworthy.pages.plan_draft import first_wish_of_visit, hand_over
from seatworthy.steps.next_session import Question, next_session
from seatworthy.steps.panel import add_people, people_of_panel
from seatworthy.steps.planning import first_wish
from seatworthy.steps.session_facts import session_facts


@pytest.fixture
def gone(monkeypatch):
    """Where the page went."""
    found = []
    monkeypatch.setattr(going, "go_to", lambda page, **asked: found.append((page, asked)))
    return found


@pytest.fixture
def handed(monkeypatch):
    """Wishes handed over to the plan."""
    found = []
    monkeypatch.setattr(pour_next, "hand_over", found.append)
    return found


def person_id(desk, first):
    return next(p.person_id for p in people_of_panel(desk) if p.name.startswith(first))


def test_the_sentence_names_the_glasses_and_each_has_its_reason(brewery):
    html = html_of(started("pour_next"))
    assert "for the whole panel" in html
    assert "would be decided by it" in html or "would hardly decide" in html
    assert "<h2>The glasses</h2>" in html
    assert "Nothing added" in html
    assert "<h2>The dearest gaps</h2>" in html
    assert "<h2>With sessions like this one</h2>" in html


def test_an_address_opens_one_person_with_every_gap(brewery):
    gwen = person_id(brewery, "Gwen")
    page = started("pour_next", who=gwen)
    html = html_of(page)
    assert "for Gwen" in html
    assert "<h2>Every gap</h2>" in html
    assert "For the whole panel" in html
    assert page.selectbox(key="chosen_for").value == gwen


@pytest.mark.parametrize(
    ("address", "glasses", "mix"),
    [
        ({"glasses": "5", "tells": "0"}, 5, 0),
        ({"glasses": "5", "tells": "100"}, 5, 100),
        ({"glasses": "-3", "tells": "x"}, 8, 60),
        ({"glasses": "9999999999", "tells": "9999"}, 8, 60),
        ({"glasses": "0", "tells": "٣"}, 8, 60),
        ({"who": "<b>nobody</b>", "family": "none"}, 8, 60),
    ],
)
def test_choices_stand_in_the_address_and_nonsense_is_passed_over(brewery, address, glasses, mix):
    page = started("pour_next", **address)
    assert page.slider(key="chosen_glasses").value == glasses
    assert page.slider(key="chosen_tells").value == mix
    assert "<b>nobody</b>" not in html_of(page)


def test_a_choice_is_written_into_the_address_and_changes_the_glasses(brewery):
    page = started("pour_next")
    page.slider(key="chosen_glasses").set_value(4)
    page.run()
    assert not page.exception
    assert page.query_params["glasses"] == "4"
    page.selectbox(key="chosen_for").set_value(person_id(brewery, "Gwen"))
    page.run()
    assert "for Gwen" in html_of(page)
    page.selectbox(key="chosen_for").set_value("")
    page.run()
    assert "for the whole panel" in html_of(page)


def test_one_click_hands_the_glasses_to_the_plan(brewery, gone, handed):
    page = started("pour_next", glasses="6", tells="100")
    button(page, "Make it a plan").click()
    page.run()
    assert not page.exception
    assert gone == [("plan", {})]
    (wish,) = handed
    assert sum(sample.glasses for sample in wish.samples) <= 6
    assert {sample.compound for sample in wish.samples} - {None}


def test_the_plan_starts_from_what_was_handed_over(brewery, monkeypatch):
    monkeypatch.setattr(st, "session_state", {})
    wish = first_wish(brewery)
    assert first_wish_of_visit(brewery).samples == wish.samples
    hand_over(wish)
    assert first_wish_of_visit(brewery) is wish
    assert first_wish_of_visit(brewery) is not wish


def test_the_plans_form_shows_the_proposed_jugs_and_records_them(brewery, gone):
    wish = next_session(brewery, Question(tells=1.0)).wish
    page = AppTest.from_string(
        "from seatworthy.pages import plan\nplan.show()\n", default_timeout=20
    )
    page.session_state["plan_handed"] = wish
    page.run()
    assert not page.exception
    assert "as proposed" in html_of(page)
    rows = page.session_state["plan_rows"]
    shown = [page.session_state[f"plan_row_{n}_compound"] for n in rows]
    assert shown == [sample.compound or "(blank)" for sample in wish.samples]
    button(page, "Record this plan").click()
    page.run()
    ((_, asked),) = gone
    facts = session_facts(brewery, asked["session"])
    recorded = {facts.samples[glass.sample_id].compound for glass in facts.glasses}
    assert recorded == {sample.compound for sample in wish.samples}


def test_names_with_signs_of_markup_stay_what_they_are(brewery):
    add_people(brewery, ["Bo **Larsen** & Co"], since_on=None)
    page = started("pour_next", who=person_id(brewery, "Bo"))
    assert "for Bo **Larsen** &amp; Co" in html_of(page)
    assert "& Co" not in html_of(page)


def test_an_empty_store_shows_the_way(empty_desk):
    page = started("pour_next")
    assert "No base beer is on the shelf yet" in html_of(page)
    assert [link.label for link in page.get("page_link")] == ["To the shelf: beers and thresholds"]


def test_the_script_lists_the_page(brewery, run_script):
    assert source.the_desk() is brewery
    assert not run_script().exception
