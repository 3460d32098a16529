"""The ballot of a release sitting, of the talk, and of a beer that people should know, as phones see it."""

from dataclasses import replace

import pytest
from invented_ballots import PAPERY, SECRET, feedback, glass, view

from seatworthy.ballot.pages import feedback_page, glass_page, overview_page
from seatworthy.ballot.texts import LANGUAGES, texts_of
from seatworthy.steps.ballot_views import TALK, OwnAnswer

AS_IT_SHOULD_BE = OwnAnswer("nothing")


def page_of(made):
    return made.body.decode()


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_glass_asks_the_same_in_every_language(language):
    shown = view(language=language, is_release=True)
    page = page_of(glass_page(shown, glass(1, "208"), SECRET))
    say = texts_of(language).say
    for key in ("asks", "nothing", "other", "something", "words_hint"):
        assert say(f"release.{key}") in page
    for key in ("asks", "nothing", "something"):
        assert say(f"naming.{key}") not in page
    assert 'name="when"' not in page


@pytest.mark.parametrize("language", LANGUAGES)
def test_what_was_said_is_told_in_the_words_of_the_question(language):
    told = glass(1, "208", said=AS_IT_SHOULD_BE)
    page = page_of(overview_page(view(language=language, is_release=True, glasses=(told,)), SECRET))
    say = texts_of(language).say
    assert say("release.said_nothing") in page
    assert say("said.nothing") not in page


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_talk_shows_both_answers_and_takes_the_one_after(language):
    glasses = (
        replace(glass(1, "208", said=AS_IT_SHOULD_BE), after=PAPERY, afters=1),
        glass(2, "639", said=PAPERY),
        glass(3, "417"),
    )
    shown = view(language=language, is_release=True, state=TALK, glasses=glasses)
    say = texts_of(language).say
    page = page_of(overview_page(shown, SECRET))
    assert say("talk.head") in page
    assert say("talk.waits") in page
    assert say("talk.silent") in page
    assert f"/b/{SECRET}/2" in page
    assert f"/b/{SECRET}/3" not in page
    assert "/unfit" not in page
    one = page_of(glass_page(shown, glasses[0], SECRET))
    assert '<input type="hidden" name="when" value="after">' in one
    assert '<input type="hidden" name="seen" value="1">' in one
    assert say("talk.asks") in one
    assert say("sure.asks") not in one


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_beer_that_people_should_know_is_asked_about_by_its_name(language):
    asked = replace(glass(1, "208", method="a_not_a"), asks_beer="House <Pils>")
    page = page_of(glass_page(view(language=language, glasses=(asked,)), asked, SECRET))
    say = texts_of(language).say
    assert say("asks.beer", beer="House &lt;Pils&gt;") in page
    assert say("asks.beer_no_hint") in page
    assert say("asks.no_hint") not in page


def test_ones_own_page_tells_the_batch_with_both_answers():
    own = feedback(is_release=True)
    told = replace(
        own.glasses[0], beer="Tank <12>, House Pils", said=AS_IT_SHOULD_BE, after=PAPERY,
        outcome="judged", note="",
    )  # fmt: skip
    page = page_of(feedback_page(replace(own, glasses=(told,)), ()))
    assert "Tank &lt;12&gt;, House Pils" in page
    assert "After the talk" in page
    assert "there is no right or wrong" in page
