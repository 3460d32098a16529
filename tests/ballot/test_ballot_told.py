"""Somebody's own glasses after the reveal."""

import pytest
from html_checks import faults_of, read
from invented_ballots import address, told

from seatworthy.ballot.texts import LANGUAGES
from seatworthy.steps.ballot_views import OwnAnswer


@pytest.mark.parametrize("language", LANGUAGES)
def test_ones_own_glasses_are_a_whole_page(steps, phone, language):
    steps.reveal(language=language)
    page = phone.get(address())
    assert page.status == 200
    assert faults_of(page) == []


def test_ones_own_page_says_how_many_were_right_and_what_passed_for_what(steps, phone):
    steps.reveal()
    text = read(phone.get(address())).text
    assert "Three of five right. Papery passed for acetaldehyde." in text
    assert "202 In it papery, 3× You said acetaldehyde Result another name" in text
    assert "203 In it diacetyl, 2.5× You said diacetyl, certain Result right" in text
    assert "Result noticed, no name Your words wait until somebody says what they mean." in text
    assert "551/302/118 In it papery, 3× in 302 You said 302 Result picked right" in text
    assert "noticed something where nothing was added It doesn't count: it was set aside." in text
    assert "You said 7 of 10 Result a rating; there is no right or wrong" in text
    assert "You said no answer Result not answered" in text
    assert "You can read this page until Thursday, 29 May." in text


def test_ones_own_page_in_other_languages_has_the_decimal_comma(steps, phone):
    steps.reveal(language="de", right=0)
    text = read(phone.get(address())).text
    assert "Keins von fünf richtig. Papery ging als Acetaldehyde durch." in text
    assert "Diacetyl, 2,5×" in text
    steps.reveal(language="es", right=1)
    assert "Jueves, 15 de mayo" in read(phone.get(address())).text
    assert "Uno de cinco bien. Papery pasó por Acetaldehyde." in read(phone.get(address())).text


@pytest.mark.parametrize(
    ("one", "words"),
    [
        (told(1, "DMS", OwnAnswer("picked", picked="302"), "missed", codes=("302", "118"), odd="118",
              held_by_others=True), "DMS, 3× in all but 118 You said 302 Result picked another glass"),
        (told(1, "DMS", OwnAnswer("words", "sweetcorn"), "right", said_label="DMS"),
         "You said “sweetcorn”, read as DMS Result right"),
        (told(1, "DMS", OwnAnswer("yes"), "right", level=None, note="prepared"),
         "In it DMS You said yes Result right It doesn't count: you prepared it."),
        (told(1, "DMS", OwnAnswer("nothing"), "missed", note="unfit"),
         "It doesn't count: it was not prepared as it should be."),
        (told(1, "DMS", None, "spilled"), "201 In it DMS, 3× Result spilled"),
    ],
)  # fmt: skip
def test_each_outcome_has_its_words(steps, phone, one, words):
    steps.reveal(glasses=(one,), mixed_up=None)
    assert words in read(phone.get(address())).text


def test_where_nothing_counts_no_share_is_made_up(steps, phone):
    steps.reveal(counted=0, right=0, mixed_up=None)
    text = read(phone.get(address())).text
    assert "None of these glasses counts. Here is what was in them." in text
    assert "of none" not in text


@pytest.mark.parametrize(
    ("language", "sentence", "unanswered"),
    [
        ("en", "You did not taste that day. Here is what was in your glasses.", "not answered"),
        (
            "de",
            "Du hast an dem Tag nicht verkostet. Das war in deinen Gläsern.",
            "nicht beantwortet",
        ),
        ("es", "Ese día no cataste. Esto es lo que había en tus vasos.", "sin contestar"),
    ],
)
def test_whoever_did_not_taste_is_told_so_once(steps, phone, language, sentence, unanswered):
    none = tuple(told(place, "DMS", None, "") for place in range(1, 10))
    steps.reveal(
        language=language, glasses=none, right=0, counted=0, mixed_up=None, has_tasted=False
    )
    page = phone.get(address())
    text = read(page).text
    assert faults_of(page) == []
    assert text.count(sentence) == 1
    assert unanswered not in text
    assert text.count("DMS, 3×") == 9


def test_what_somebody_sent_before_they_stopped_is_still_told(steps, phone):
    sent = told(1, "DMS", OwnAnswer("words", "DMS"), "right", said_label="DMS", note="aside")
    steps.reveal(glasses=(sent,), right=0, counted=0, mixed_up=None, has_tasted=False)
    text = read(phone.get(address())).text
    assert "In it DMS, 3× You said DMS Result right It doesn't count: it was set aside." in text
