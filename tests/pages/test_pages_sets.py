"""Forced-choice sets on the pages: their codes from left to right, and never which is the odd one."""

import json
from dataclasses import replace
from types import SimpleNamespace

import pytest
from invented_session import (
    NAMES,
    TODAY,
    choice,
    html_of,
    invented_desk,
    invented_feedback,
    invented_session,
    started,
)
from streamlit.proto.WidgetStates_pb2 import WidgetState, WidgetStates

from seatworthy.pages import answers as answers_page
from seatworthy.pages import source
from seatworthy.pages.markup import plain_markdown
from seatworthy.steps import answers as answer_steps
from seatworthy.steps import feedback as feedback_steps
from seatworthy.steps import sessions as session_steps
from seatworthy.steps import sheets as sheet_steps
from seatworthy.steps.reveal_views import FeedbackGlass
from seatworthy.steps.sheet_views import Entered, SheetRow, SheetTab, SheetView

CODES = ("417", "258", "903")
SET = SheetRow("g3", 3, "417", "waiting", "", "", False, "set 3 (417 258 903)", CODES)
PICKED = replace(SET, serving_id="g4", position=4, state="answered", said="picked 258",
                 read_as="picked 258", name="set 4 (417 258 903)")  # fmt: skip
GLASS = SheetRow("g1", 1, "604", "waiting", "", "", False, "604")
SHEET = SheetView(
    session_id="s9",
    session_on=TODAY,
    session_label="Thursday panel",
    key="early-p1",
    person_id="p1",
    name=NAMES[0],
    sitting="Early shift",
    is_open=True,
    rows=(GLASS, SET, PICKED),
    sheets=(SheetTab("early-p1", "p1", NAMES[0], "Early shift", 3, 1),),
    words=(("Diacetyl", "Diacetyl"),),
    answer="Type what each glass was called",
    catch="2 glasses still wait.",
)


@pytest.fixture
def taken(monkeypatch):
    """What was entered and corrected."""
    steps = []

    def enter(desk, session_id, key, code, said, *, keep_own_words=False, by=None):
        steps.append((key, code, said))
        return Entered("kept", code, f"picked {said}", f"picked {said}", f"Set 3: picked {said}.")

    def correct(desk, *what, keep_own_words):
        steps.append(what)
        return "It was corrected."

    monkeypatch.setattr(sheet_steps, "sheets", lambda desk, session_id: (SHEET,))
    monkeypatch.setattr(answer_steps, "enter_answer", enter)
    monkeypatch.setattr(answer_steps, "correct_answer", correct)
    monkeypatch.setattr(source, "the_desk", invented_desk)
    people = [SimpleNamespace(person_id=f"p{n}", name=name) for n, name in enumerate(NAMES, 1)]
    monkeypatch.setattr(answers_page, "everybody", lambda desk: people)
    return steps


def grid_of(page):
    return page.get("bidi_component")[0].proto


def told(page):
    return json.loads(grid_of(page).mixed.json or grid_of(page).json)


@pytest.mark.usefixtures("taken")
def test_the_browser_is_told_the_codes_of_a_set_and_not_which_is_the_odd_one():
    glass, waiting, answered = told(started("answers", session="s9"))["sheets"][0]["rows"]
    assert "codes" not in glass
    assert waiting["codes"] == list(CODES)
    assert set(waiting) - set(glass) == {"codes"}
    assert answered["said"] == "picked 258"


@pytest.mark.usefixtures("taken")
def test_the_page_says_how_a_set_is_typed_where_there_is_one(monkeypatch):
    words = "A row with several codes is a set: type the code that was circled"
    assert words in html_of(started("answers", session="s9"))
    alone = replace(SHEET, rows=(GLASS,))
    monkeypatch.setattr(sheet_steps, "sheets", lambda desk, session_id: (alone,))
    assert words not in html_of(started("answers", session="s9"))


def test_a_pick_is_sent_like_any_answer(taken):
    page = started("answers", session="s9")
    line = {"id": "g3", "sheet": "early-p1", "code": "417", "said": "903", "keep": False}
    events = [{"event": "sent", "value": {"number": 7, "lines": [line], "open": None}}]
    key = f"$$STREAMLIT_INTERNAL_KEY_{grid_of(page).id}__events"
    page._run(WidgetStates(widgets=[WidgetState(id=key, json_trigger_value=json.dumps(events))]))
    assert taken == [("early-p1", "417", "903")]
    assert told(page)["done"]["entered"][0]["sentence"] == "Set 3: picked 903."


@pytest.mark.usefixtures("taken")
def test_a_set_is_called_by_its_place_and_codes_where_an_answer_is_corrected():
    page = started("answers", session="s9")
    glasses = next(box for box in page.selectbox if box.key == "correct_early-p1_glass")
    assert glasses.options == ["set 4 (417 258 903), picked 258"]


def test_the_session_page_shows_a_set_by_its_place_and_codes(monkeypatch):
    view = invented_session("in_hand")
    sitting = view.sittings[0]
    seat = sitting.seated[0]
    glass = replace(seat.glasses[2], code="set 3 (417 258 903)", mark="B B A", said="", event="")
    seat = replace(seat, glasses=(*seat.glasses[:2], glass))
    sitting = replace(sitting, seated=(seat, *sitting.seated[1:]))
    view = replace(view, sittings=(sitting, *view.sittings[1:]))
    monkeypatch.setattr(source, "the_desk", invented_desk)
    monkeypatch.setattr(session_steps, "session", lambda desk, session_id: view)
    page = started("session", session="s9")
    assert '<span class="code">set 3 (417 258 903)</span>' in html_of(page)
    choice(page, "what_happened").set_value("spilled").run()
    offered = choice(page, f"spilled_{sitting.sitting_id}_{seat.person_id}").proto.options
    assert plain_markdown("set 3 (417 258 903)") in [option.content for option in offered]


def test_somebodys_own_page_shows_the_codes_of_a_set_and_what_was_picked(monkeypatch):
    glasses = (
        FeedbackGlass(3, "", "Diacetyl, 0.5×, in 903", "picked 417", "missed", None, None, "", CODES),
        FeedbackGlass(4, "", "Diacetyl, 1×, in 258", "picked 258", "right", None, None, "", CODES),
    )  # fmt: skip
    view = replace(invented_feedback("p1"), glasses=glasses, compared="")
    monkeypatch.setattr(source, "the_desk", invented_desk)
    monkeypatch.setattr(feedback_steps, "feedback", lambda desk, session_id, person: view)
    html = html_of(started("feedback", session="s7", who="p1"))
    for code in CODES:
        assert f'<span class="code">{code}</span>' in html
    assert '<span class="unseen">picked wrong</span>' in html
    assert '<span class="unseen">picked right</span>' in html
    assert "picked 417" in html
    assert "How this compares" not in html
