"""The page on which the person concerned reads a proposal and answers it."""

import pytest
from invented_session import button, html_of, started
from sampled import PALE, PIN, appointed, waiting

from seatworthy.steps.decisions import sign_decision
from seatworthy.steps.proposals import put_forward, replies_to

HOSTILE = "Not <b>me</b> & not that jug."


@pytest.fixture
def put(brewery):
    return put_forward(brewery, waiting(brewery).person_id, PALE, None)


def say(page, kind, words=""):
    page.radio(key="word_kind").set_value(kind)
    page.text_area(key="word_words").set_value(words)
    button(page, "Put it on record").click().run()
    assert not page.exception


def kinds(desk, proposal_id):
    return [reply.kind for reply in replies_to(desk, proposal_id)]


@pytest.mark.parametrize("address", [{}, {"proposal": "<b>none"}])
def test_without_such_a_proposal_a_sentence_leads_to_the_seats(empty_desk, address):
    page = started("word", **address)
    assert 'href="seats"' in html_of(page)
    assert "<b>none" not in html_of(page)
    assert not page.radio


def test_it_says_what_is_proposed_and_on_what_it_rests(brewery, put):
    words = html_of(started("word", proposal=put))
    assert (
        "Aoife, a first seat is proposed for you, for the pale lagers: on probation until" in words
    )
    assert '<details class="reason" open="open">' in words
    assert "the person concerned sees it first" in words


def test_a_remark_needs_words(brewery, put):
    page = started("word", proposal=put)
    say(page, "remark")
    assert "A remark has words" in html_of(page)
    assert kinds(brewery, put) == []


def test_a_remark_is_kept_and_shown_escaped(brewery, put):
    page = started("word", proposal=put)
    say(page, "remark", HOSTILE)
    assert "The remark stands with the proposal." in html_of(page)
    assert "Not &lt;b&gt;me&lt;/b&gt; &amp; not that jug." in html_of(page)
    assert "<b>me" not in html_of(page)
    assert page.text_area(key="word_words").value == ""


def test_a_recheck_is_asked_for_and_taken_back(brewery, put):
    page = started("word", proposal=put)
    assert "I take my wish for a recheck back" not in page.radio(key="word_kind").options
    say(page, "recheck")
    assert "I take my wish for a recheck back" in page.radio(key="word_kind").options
    say(page, "withdrawn")
    assert kinds(brewery, put) == ["recheck", "withdrawn"]


def test_after_a_signature_nothing_more_can_be_said(brewery, put):
    one = waiting(brewery)
    sign_decision(
        brewery, person_id=one.person_id, family=PALE, state=one.proposed,
        until_on=one.until_on, signer=appointed(brewery), pin=PIN,
    )  # fmt: skip
    page = started("word", proposal=put)
    assert "Something was signed about this seat since" in html_of(page)
    assert not page.radio
