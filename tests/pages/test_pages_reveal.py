from dataclasses import replace
from datetime import datetime

import pytest
from invented_session import (
    HOSTILE,
    NAMES,
    button,
    html_of,
    invented_desk,
    invented_feedback,
    invented_reveal,
    invented_session,
    started,
)

from seatworthy.pages import reveal, source
from seatworthy.steps import asides, closing, feedback, supposing
from seatworthy.steps import sessions as session_steps
from seatworthy.steps.reveal_views import ChangeLine


@pytest.fixture
def revealed(monkeypatch):
    monkeypatch.setattr(source, "the_desk", invented_desk)
    monkeypatch.setattr(closing, "reveal", lambda desk, session_id: invented_reveal())
    monkeypatch.setattr(
        session_steps, "session", lambda desk, session_id: invented_session("closed")
    )


@pytest.mark.usefixtures("revealed")
def test_the_reveal_opens_with_what_changed_and_which_bottle_to_look_at():
    html = html_of(started("reveal", session="s7"))
    assert "Three standings changed; <em>look at the bottle first: D (papery).</em>" in html


@pytest.mark.usefixtures("revealed")
def test_where_nothing_changed_that_is_said_once(monkeypatch):
    unchanged = replace(invented_reveal(), changes=())
    monkeypatch.setattr(closing, "reveal", lambda desk, session_id: unchanged)
    html = html_of(started("reveal", session="s7"))
    assert "What changed" not in html
    assert html.index("The jugs") < html.index("Where to go from here")


@pytest.mark.usefixtures("revealed")
def test_a_change_shows_before_and_now_with_mark_and_word():
    html = html_of(started("reveal", session="s7"))
    now = html.split('class="after"')[2]
    assert "mark-met" in now
    assert "<span>met</span>" in now
    assert "too little evidence" in html
    assert "can sit" in html


@pytest.mark.usefixtures("revealed")
def test_only_the_suspect_jug_carries_its_sentence():
    html = html_of(started("reveal", session="s7"))
    assert html.count("is-suspect") == 1
    assert "Everybody missed it, and most usually find it." in html


@pytest.mark.usefixtures("revealed")
def test_a_jug_says_how_many_named_it_right_of_how_many():
    assert "<b>14</b> of 16" in html_of(started("reveal", session="s7"))


@pytest.mark.usefixtures("revealed")
def test_whoever_was_not_counted_is_named_with_the_reason():
    html = html_of(started("reveal", session="s7"))
    assert "Iker Solana prepared the glasses, so those answers are kept and not counted." in html


@pytest.mark.usefixtures("revealed")
def test_everybodys_feedback_and_the_board_are_one_link_away():
    html = html_of(started("reveal", session="s7"))
    assert "feedback?session=s7&amp;who=p8" in html
    assert '<a href="./" target="_self">To the board</a>' in html


@pytest.mark.usefixtures("revealed")
@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ((), "Without it no standing of today would change."),
        (invented_reveal().changes[:1], "Without it these standings of today would change:"),
    ],
)
def test_what_a_jug_set_aside_would_change_is_shown_before_it_is_signed(
    monkeypatch, changes, words
):
    monkeypatch.setattr(supposing, "if_set_aside", lambda desk, sample: changes)
    page = started("reveal", session="s7")
    page.selectbox(key="aside_jug").set_value("early-D").run()
    assert words in html_of(page)


@pytest.mark.usefixtures("revealed")
def test_a_suspect_jug_can_be_set_aside_here(monkeypatch):
    taken = []
    monkeypatch.setattr(supposing, "if_set_aside", lambda desk, sample: ())
    monkeypatch.setattr(
        asides, "set_sample_aside", lambda desk, *what: taken.append(what) or "Set aside."
    )
    page = started("reveal", session="s7")
    page.selectbox(key="aside_jug").set_value("early-D")
    page.text_input(key="aside_reason").set_value("no stock was added")
    page.selectbox(key="aside_by").set_value("p9")
    button(page, "Set it aside, or put it back").click().run()
    assert taken == [("early-D", "no stock was added", "p9")]


def test_nothing_is_shown_before_the_session_is_closed(monkeypatch):
    monkeypatch.setattr(source, "the_desk", invented_desk)
    monkeypatch.setattr(closing, "reveal", lambda desk, session_id: None)
    html = html_of(started("reveal", session="s9"))
    assert "What was in the glasses is shown once the session is closed." in html
    assert "<table" not in html


def test_everybodys_pages_are_drawn_in_the_order_of_the_list(monkeypatch):
    drawn = []
    monkeypatch.setattr(
        feedback, "feedback", lambda desk, session_id, person: invented_feedback(person)
    )
    monkeypatch.setattr(
        reveal.papers_made,
        "feedback_pdf",
        lambda views, size: drawn.append(([view.name for view in views], size)) or b"%PDF",
        raising=False,
    )
    assert reveal.all_feedback(invented_desk(), invented_reveal(), "A4") == b"%PDF"
    assert drawn == [(list(NAMES[:8]), "A4")]


@pytest.mark.usefixtures("revealed")
def test_a_hostile_name_in_a_change_stays_plain_words(monkeypatch):
    view = invented_reveal(names=(HOSTILE, *NAMES[1:]))
    monkeypatch.setattr(closing, "reveal", lambda desk, session_id: view)
    html = html_of(started("reveal", session="s7"))
    assert "<img" not in html
    assert "&lt;img src=x onerror=alert(1)&gt;" in html


def test_corrections_are_shown_escaped():
    line = ChangeLine(datetime(2026, 10, 29, 15, 5), "417", HOSTILE, "corrected", HOSTILE, "dms",
                      HOSTILE, "Maren Thode")  # fmt: skip
    html = reveal.corrections_table((line,))
    assert "<img" not in html
    assert "Maren Thode, 15:05, 29 Oct 2026" in html
