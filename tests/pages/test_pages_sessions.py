from dataclasses import replace

import pytest
from invented_session import (
    HOSTILE,
    html_of,
    invented_desk,
    invented_sessions,
    no_sessions,
    started,
)

from seatworthy.pages import going, source
from seatworthy.steps import sessions as session_steps


@pytest.fixture
def some_sessions(monkeypatch):
    monkeypatch.setattr(source, "the_desk", invented_desk)
    monkeypatch.setattr(session_steps, "sessions", lambda desk: invented_sessions())


@pytest.mark.usefixtures("some_sessions")
def test_the_list_opens_with_its_sentence_and_its_catch():
    html = html_of(started("sessions"))
    assert "Thursday&#x27;s session is planned for nine, today; <em>print the papers.</em>" in html


@pytest.mark.usefixtures("some_sessions")
def test_every_session_says_how_it_stands_and_what_is_next():
    html = html_of(started("sessions"))
    assert "answers coming in" in html
    assert (
        '<a href="session?session=s8" target="_self" class="way">23 without an answer.</a>' in html
    )
    assert '<a href="reveal?session=s7" target="_self" class="way">See what came of it.</a>' in html


@pytest.mark.usefixtures("some_sessions")
def test_only_a_session_with_a_plan_that_is_done_can_be_planned_again():
    html = html_of(started("sessions"))
    assert "plan?again=s7" in html
    assert "plan?again=s6" in html
    assert html.count("plan?again=") == 2


@pytest.mark.usefixtures("some_sessions")
def test_the_button_leads_to_the_plan(monkeypatch):
    gone = []
    monkeypatch.setattr(going, "go_to", lambda page, **asked: gone.append((page, asked)))
    started("sessions").button[0].click().run()
    assert gone == [("plan", {})]


def test_an_empty_list_says_what_to_do_first(monkeypatch):
    monkeypatch.setattr(source, "the_desk", invented_desk)
    monkeypatch.setattr(session_steps, "sessions", lambda desk: no_sessions())
    html = html_of(started("sessions"))
    assert "No session yet; <em>plan the first one.</em>" in html
    assert all(f'<a href="{page}"' in html for page in ("people", "shelf", "plan"))
    assert "<table" not in html


def test_a_hostile_name_of_a_session_stays_plain_words(monkeypatch):
    view = invented_sessions()
    lines = tuple(replace(line, label=HOSTILE) for line in view.sessions)
    monkeypatch.setattr(source, "the_desk", invented_desk)
    monkeypatch.setattr(
        session_steps, "sessions", lambda desk: replace(view, sessions=lines, answer=HOSTILE)
    )
    html = html_of(started("sessions"))
    assert "<img" not in html
    assert "&lt;img src=x onerror=alert(1)&gt;" in html


@pytest.mark.usefixtures("some_sessions")
def test_sessions_from_files_are_folded_away_with_their_number():
    html = html_of(started("sessions"))
    assert "<details><summary>1 session brought in from files</summary>" in html
    assert "Early autumn" in html.split("<details>")[1]


def test_sessions_from_files_alone_are_not_folded(monkeypatch):
    view = invented_sessions()
    monkeypatch.setattr(source, "the_desk", invented_desk)
    monkeypatch.setattr(
        session_steps, "sessions", lambda desk: replace(view, sessions=view.sessions[-1:])
    )
    assert "<details open>" in html_of(started("sessions"))
