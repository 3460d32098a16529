import json
from dataclasses import replace
from importlib.resources import files
from types import SimpleNamespace

import pytest
from invented_session import HOSTILE, NAMES, TODAY, button, html_of, invented_desk, started
from streamlit.proto.WidgetStates_pb2 import WidgetState, WidgetStates

from seatworthy.errors import PanelError
from seatworthy.pages import answers as answers_page
from seatworthy.pages import source
from seatworthy.steps import answers as answer_steps
from seatworthy.steps import asides
from seatworthy.steps import sheets as sheet_steps
from seatworthy.steps.sheet_views import Entered, SheetRow, SheetTab, SheetView

WORDS = (("Diacetyl", "Diacetyl"), ("butanedione", "Diacetyl"), ("dms", "DMS"))


def row(number, position, state="waiting", said=""):
    return SheetRow(f"g{number}-{position}", position, f"{number}{position}7", state, said, said, False)  # fmt: skip


def sheet_of(number, names=NAMES, is_open=True):
    rows = (row(number, 1, "answered", "DMS"), row(number, 2), row(number, 3, "spilled"))
    tabs = tuple(
        SheetTab(f"early-p{n}", f"p{n}", names[n - 1], "Early shift", 2, 1) for n in (1, 2, 3)
    )
    return SheetView(
        session_id="s9",
        session_on=TODAY,
        session_label="Thursday panel",
        key=f"early-p{number}",
        person_id=f"p{number}",
        name=names[number - 1],
        sitting="Early shift",
        is_open=is_open,
        rows=rows,
        sheets=tabs,
        words=WORDS,
        answer=f"{names[number - 1]}'s sheet: type what each glass was called",
        catch="3 glasses still wait.",
    )


@pytest.fixture
def taken(monkeypatch):
    """Every step that the page took; sheets are invented, answers are kept."""
    steps = []

    def enter(desk, session_id, key, code, said, *, keep_own_words=False, by=None):
        steps.append(("enter_answer", session_id, key, code, said, keep_own_words))
        return Entered("kept", code, said, said, f"{code}: {said}.")

    def correct(desk, *what, keep_own_words):
        steps.append(("correct_answer", *what))
        return "It was corrected & kept."

    def set_aside(desk, *what):
        steps.append(("set_glass_aside", *what))
        return "It is set aside."

    def sheets(desk, session_id):
        return tuple(sheet_of(number) for number in (1, 2, 3)) if session_id == "s9" else ()

    monkeypatch.setattr(sheet_steps, "sheets", sheets)
    monkeypatch.setattr(answer_steps, "enter_answer", enter)
    monkeypatch.setattr(answer_steps, "correct_answer", correct)
    monkeypatch.setattr(asides, "set_glass_aside", set_aside)
    monkeypatch.setattr(source, "the_desk", invented_desk)
    people = [SimpleNamespace(person_id=f"p{n}", name=name) for n, name in enumerate(NAMES, 1)]
    monkeypatch.setattr(answers_page, "everybody", lambda desk: people)
    return steps


def grid_of(page):
    return page.get("bidi_component")[0].proto


def told(page):
    """What the browser was told."""
    return json.loads(grid_of(page).mixed.json or grid_of(page).json)


def line(code="227", said="dms", sheet="early-p2", *, keep=False):
    return {"id": "g2-2", "sheet": sheet, "code": code, "said": said, "keep": keep}


def send(page, *lines, number=1, to=None):
    """Send a parcel as the browser does."""
    parcel = {"number": number, "lines": lines, "open": to}
    state = WidgetState(
        id=f"$$STREAMLIT_INTERNAL_KEY_{grid_of(page).id}__events",
        json_trigger_value=json.dumps([{"event": "sent", "value": parcel}]),
    )
    page._run(WidgetStates(widgets=[state]))
    assert not page.exception


def entered(steps):
    return [step for step in steps if step[0] == "enter_answer"]


def test_the_page_opens_with_its_sentence_and_the_first_sheet_that_waits(taken):
    page = started("answers", session="s9")
    assert "Maren Thode&#x27;s sheet: type what each glass was called; <em>3" in html_of(page)
    assert told(page)["key"] == "early-p1"


def test_an_address_without_sheets_leads_to_the_list(taken):
    html = html_of(started("answers", session="x"))
    assert "There are no sheets of that session." in html
    assert '<a href="sessions"' in html


def test_the_address_opens_a_sheet(taken):
    assert told(started("answers", session="s9", sheet="early-p3"))["key"] == "early-p3"


def test_the_browser_is_told_every_sheet_so_that_going_on_needs_no_waiting(taken):
    said = told(started("answers", session="s9"))
    assert {sheet["key"] for sheet in said["sheets"]} == {"early-p1", "early-p2", "early-p3"}


def test_a_parcel_is_taken_in_line_by_line_and_answered_by_its_number(taken):
    page = started("answers", session="s9")
    send(page, line(), line("237", "wet dog", keep=True), number=41)
    assert entered(taken) == [
        ("enter_answer", "s9", "early-p2", "227", "dms", False),
        ("enter_answer", "s9", "early-p2", "237", "wet dog", True),
    ]
    done = told(page)["done"]
    assert done["number"] == 41
    assert [one["sentence"] for one in done["entered"]] == ["227: dms.", "237: wet dog."]


def test_a_parcel_is_taken_in_once_however_often_the_page_is_drawn(taken):
    page = started("answers", session="s9")
    send(page, line())
    page.run()
    assert len(entered(taken)) == 1


def test_a_line_that_the_store_refuses_is_told_with_its_reason(taken, monkeypatch):
    def refuse(*what, **more):
        message = "The disk is full. Nothing was recorded."
        raise PanelError(message)

    page = started("answers", session="s9")
    monkeypatch.setattr(answer_steps, "enter_answer", refuse)
    send(page, line())
    one = told(page)["done"]["entered"][0]
    assert (one["outcome"], one["sentence"]) == ("refused", "The disk is full. Nothing was recorded.")  # fmt: skip


def test_the_address_follows_to_the_sheet_that_the_browser_shows(taken):
    page = started("answers", session="s9")
    send(page, to="early-p3")
    assert page.query_params["sheet"] == "early-p3"
    assert "Łucja Wrzos&#x27;s sheet" in html_of(page)


def test_the_browser_is_told_every_wording_and_nothing_of_what_was_poured(taken):
    said = told(started("answers", session="s9"))
    assert said["words"] == [list(pair) for pair in WORDS]
    assert set(said["sheets"][0]["rows"][0]) == {
        "id", "position", "code", "state", "said", "readAs", "isAside",
    }  # fmt: skip


def test_a_closed_session_can_only_be_read(taken, monkeypatch):
    closed = sheet_of(1, is_open=False)
    monkeypatch.setattr(sheet_steps, "sheets", lambda desk, session_id: (closed,))
    page = started("answers", session="s9")
    assert told(page)["isOpen"] is False
    assert "Enter saves" not in html_of(page)


def test_a_hostile_name_is_escaped_on_the_page(taken, monkeypatch):
    view = sheet_of(1, names=(HOSTILE, *NAMES[1:]))
    monkeypatch.setattr(sheet_steps, "sheets", lambda desk, session_id: (view,))
    page = started("answers", session="s9")
    assert "<img" not in html_of(page)
    assert told(page)["sheets"][0]["name"] == HOSTILE


def test_the_browsers_script_never_writes_html():
    scripts = [file for file in files("seatworthy.pages").iterdir() if file.name.endswith(".js")]
    script = "".join(file.read_text(encoding="utf-8") for file in scripts)
    assert "function fold" in script
    assert not any(word in script for word in ("innerHTML", "insertAdjacentHTML", "eval("))


def fill(page, form, **fields):
    key = f"{form}_early-p2"
    page.selectbox(key=f"{key}_glass").set_value(fields["glass"])
    page.text_input(key=f"{key}_reason").set_value(fields["reason"])
    page.selectbox(key=f"{form}_by").set_value("p3")
    if "said" in fields:
        page.text_input(key=f"{key}_said").set_value(fields["said"])


def test_an_answer_is_corrected_with_a_reason_and_an_author(taken):
    page = started("answers", session="s9", sheet="early-p2")
    fill(page, "correct", glass="g2-1", said="Diacetyl", reason="misread")
    button(page, "Correct it").click().run()
    assert ("correct_answer", "g2-1", "Diacetyl", "misread", "p3") in taken
    assert "It was corrected &amp; kept." in html_of(page)


def test_only_answered_glasses_are_offered_for_correction(taken):
    page = started("answers", session="s9", sheet="early-p2")
    assert page.selectbox(key="correct_early-p2_glass").options == ["217, DMS"]


def test_a_refused_correction_stays_in_the_form(taken, monkeypatch):
    def refuse(*what, **how):
        message = "Say why in a few words."
        raise PanelError(message)

    page = started("answers", session="s9", sheet="early-p2")
    monkeypatch.setattr(answer_steps, "correct_answer", refuse)
    fill(page, "correct", glass="g2-1", said="Diacetyl", reason="")
    button(page, "Correct it").click().run()
    assert "Say why in a few words." in html_of(page)
    assert page.text_input(key="correct_early-p2_said").value == "Diacetyl"


def test_a_glass_is_set_aside_with_a_reason_and_an_author(taken):
    page = started("answers", session="s9", sheet="early-p2")
    fill(page, "glass_aside", glass="g2-2", reason="lipstick on the rim")
    button(page, "Set it aside, or put it back").click().run()
    assert ("set_glass_aside", "g2-2", "lipstick on the rim", "p3") in taken


def test_a_glass_that_is_set_aside_is_put_back_by_the_same_form(taken, monkeypatch):
    view = sheet_of(2)
    view = replace(view, rows=(replace(view.rows[0], is_aside=True), *view.rows[1:]))
    monkeypatch.setattr(sheet_steps, "sheets", lambda desk, session_id: (view,))
    monkeypatch.setattr(
        asides, "put_glass_back", lambda desk, *what: taken.append(("back", *what)) or "It counts."
    )
    page = started("answers", session="s9", sheet="early-p2")
    fill(page, "glass_aside", glass="g2-1", reason="it was fine")
    button(page, "Set it aside, or put it back").click().run()
    assert ("back", "g2-1", "it was fine", "p3") in taken


def test_a_form_without_a_glass_records_nothing(taken):
    page = started("answers", session="s9")
    button(page, "Correct it").click().run()
    assert "Choose a glass first. Nothing was recorded." in html_of(page)
    assert taken == []
