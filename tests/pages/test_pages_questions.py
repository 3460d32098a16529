"""Glasses that ask about one compound: planned, typed, revealed, and on somebody's own page."""

from dataclasses import replace
from decimal import Decimal
from types import SimpleNamespace

import pytest
from invented_session import (
    html_of,
    invented_choices,
    invented_desk,
    invented_feedback,
    invented_preview,
    invented_reveal,
    invented_wish,
    started,
)

from seatworthy.pages import answers as answers_page
from seatworthy.pages import source
from seatworthy.pages.reveal import samples_table
from seatworthy.sessions.wish import INTENSITY, NAMING, YES_NO, WantedSample
from seatworthy.steps import feedback as feedback_steps
from seatworthy.steps import planning
from seatworthy.steps.reveal_views import FeedbackGlass, Rated
from seatworthy.steps.sheet_views import SheetRow

RATED = Rated(5, Decimal(6), Decimal(3), Decimal(8))


@pytest.fixture
def wishes(monkeypatch):
    """Every wish that the plan's page asks about."""
    found = []

    def preview(desk, wish):
        found.append(wish)
        return invented_preview(wish)

    monkeypatch.setattr(source, "the_desk", invented_desk)
    monkeypatch.setattr(planning, "plan_choices", lambda desk: invented_choices())
    monkeypatch.setattr(planning, "first_wish", lambda desk: invented_wish())
    monkeypatch.setattr(planning, "preview", preview)
    return found


def start_with(monkeypatch, *samples):
    wish = replace(invented_wish(), samples=samples)
    monkeypatch.setattr(planning, "first_wish", lambda desk: wish)
    return started("plan")


def asked(wish):
    return [(sample.method, sample.asks) for sample in wish.samples]


def spiked(compound, method=NAMING, asks=None):
    return WantedSample(compound, Decimal(3), "", 1, method, asks)


def test_rows_are_named_until_somebody_says_otherwise(wishes):
    page = started("plan")
    assert {sample.method for sample in wishes[-1].samples} == {NAMING}
    assert "The ballots ask" not in html_of(page)


def test_a_row_that_is_rated_asks_about_what_is_in_it(wishes, monkeypatch):
    page = start_with(monkeypatch, spiked("t2n"), WantedSample(None, None))
    page.radio(key="plan_row_1_method").set_value(INTENSITY).run()
    assert asked(wishes[-1]) == [(INTENSITY, "t2n"), (NAMING, None)]
    assert "How strong is papery, 0 to 10? One jug." in html_of(page)


def test_a_blank_goes_with_the_one_compound_that_the_others_ask_about(wishes, monkeypatch):
    page = start_with(monkeypatch, spiked("t2n", INTENSITY, "t2n"), WantedSample(None, None))
    page.radio(key="plan_row_2_method").set_value(INTENSITY).run()
    assert asked(wishes[-1]) == [(INTENSITY, "t2n")] * 2
    assert "How strong is papery, 0 to 10? 2 jugs." in html_of(page)


def test_a_blank_between_two_compounds_waits_for_its_question(wishes, monkeypatch):
    blank = WantedSample(None, None, "", 1, YES_NO)
    page = start_with(
        monkeypatch, spiked("t2n", YES_NO, "t2n"), spiked("dms", INTENSITY, "dms"), blank
    )
    assert asked(wishes[-1])[2] == (YES_NO, None)
    page.selectbox(key="plan_row_3_asks").set_value("dms").run()
    assert asked(wishes[-1])[2] == (YES_NO, "dms")


def test_a_row_that_asks_by_yes_and_no_asks_about_what_is_in_it_alone(wishes, monkeypatch):
    page = start_with(monkeypatch, spiked("t2n", YES_NO, "t2n"), WantedSample(None, None))
    assert not [box for box in page.selectbox if box.key == "plan_row_1_asks"]
    page.selectbox(key="plan_row_1_compound").set_value("dms").run()
    assert asked(wishes[-1])[0] == (YES_NO, "dms")


def test_a_rated_row_follows_its_compound_unless_another_was_chosen(wishes, monkeypatch):
    page = start_with(monkeypatch, spiked("t2n", INTENSITY, "t2n"), WantedSample(None, None))
    page.selectbox(key="plan_row_1_compound").set_value("dms").run()
    assert asked(wishes[-1])[0] == (INTENSITY, "dms")
    page.selectbox(key="plan_row_1_asks").set_value("t2n").run()
    assert asked(wishes[-1])[0] == (INTENSITY, "t2n")


def test_a_question_is_forgotten_when_a_row_is_to_be_named_again(wishes, monkeypatch):
    page = start_with(monkeypatch, spiked("t2n", INTENSITY, "dms"), WantedSample(None, None))
    page.radio(key="plan_row_1_method").set_value(NAMING).run()
    assert asked(wishes[-1])[0] == (NAMING, None)


def test_a_plan_with_questions_starts_as_it_was(wishes, monkeypatch):
    samples = (
        spiked("t2n", INTENSITY, "t2n"), spiked("t2n", INTENSITY, "dms"),
        WantedSample(None, None, "", 2, YES_NO, "t2n"), WantedSample(None, None),
    )  # fmt: skip
    start_with(monkeypatch, *samples)
    assert wishes[-1].samples == samples


def test_a_row_of_sets_is_not_asked_otherwise(wishes, monkeypatch):
    page = start_with(monkeypatch, replace(spiked("t2n"), method="3afc"), WantedSample(None, None))
    assert [box.key for box in page.radio] == ["plan_row_2_method"]
    assert wishes[-1].samples[0].method == "3afc"


def test_the_hint_says_what_is_typed_for_questions_only_where_there_are_some(monkeypatch):
    view = SimpleNamespace(is_open=True, is_release=False)
    named = SheetRow("g1", 1, "604", "waiting", "", "", False)
    rated = replace(named, method=INTENSITY, asks="diacetyl")
    view.rows = (named,)
    assert "whole number" not in answers_page._how_to_type(view)
    view.rows = (named, rated)
    assert "takes a whole number from 0 to 10" in answers_page._how_to_type(view)
    view.rows = (rated,)
    assert "first letters" not in answers_page._how_to_type(view)


def test_a_rated_jug_shows_its_ratings_in_place_of_right_and_missed():
    plain = invented_reveal().samples[0]
    rated = replace(
        plain, answers=0, named_right=0, missed=0, other_names=0, asks="diacetyl", rated=RATED
    )
    html = samples_table((rated,))
    assert "5 ratings: median 6 (3 to 8)" in html
    assert "asked about diacetyl" in html
    assert "of 0" not in html
    assert 'colspan="4"' in html
    assert "rating" not in samples_table((plain,))


@pytest.mark.parametrize(
    ("missed", "called", "words"), [(2, 0, "2 said no"), (0, 3, "3 said yes"), (0, 0, "")]
)
def test_a_jug_asked_by_yes_and_no_says_how_many_were_wrong_about_it(missed, called, words):
    sample = replace(
        invented_reveal().samples[0], missed=missed, other_names=called, unnamed=0, asks="DMS"
    )
    html = samples_table((sample,))
    assert f'<td colspan="3" class="count">{words}</td>' in html.replace(
        'class="count" colspan="3"', 'colspan="3" class="count"'
    )
    assert "another name:" not in html


def test_somebodys_own_page_has_ratings_without_a_mark(monkeypatch):
    glasses = (
        FeedbackGlass(1, "417", "Diacetyl, 3×", "7 for diacetyl", "rated", None, None, "", (),
                      INTENSITY, RATED),
        FeedbackGlass(2, "258", "nothing added", "yes to DMS", "wrong", None, None, "", (), YES_NO),
    )  # fmt: skip
    view = replace(invented_feedback("p1"), glasses=glasses)
    monkeypatch.setattr(source, "the_desk", invented_desk)
    monkeypatch.setattr(feedback_steps, "feedback", lambda desk, session_id, person: view)
    html = html_of(started("feedback", session="s7", who="p1"))
    assert "7 for diacetyl" in html
    assert "rated by 5 others: median 6 (3 to 8)" in html
    assert "seen-rated" not in html
    assert '<span class="unseen">answered wrong</span>' in html
    assert "no mark: rated, neither right nor wrong" in html
