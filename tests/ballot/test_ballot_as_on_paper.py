"""A phone says what the sheet of paper says: the control, no hint, whom to tell, when to rest."""

from dataclasses import replace

import pytest
from html_checks import faults_of, read
from invented_ballots import PAPERY, SIX, address, glass, view

from seatworthy.ballot.texts import LANGUAGES, texts_of
from seatworthy.paper.ballot_questions import NO_HINT
from seatworthy.steps.ballot_views import OwnAnswer

CONTROL = {
    "en": "First the control: the beer as it is, nothing added. No answer needed.",
    "de": "Zuerst die Kontrolle: das Bier, wie es ist, nichts zugesetzt. Keine Antwort nötig.",
    "es": "Primero el control: la cerveza tal cual, sin nada añadido. No hace falta contestar.",
}
FRESH = tuple(replace(one, state="waiting", answer=None, answers=0) for one in SIX)


@pytest.mark.parametrize("language", LANGUAGES)
def test_where_a_control_is_poured_it_comes_first(steps, phone, language):
    steps.view = view(language=language, glasses=FRESH, has_control=True)
    for rest, is_told in (("", True), (1, True), (2, False), (4, False)):
        page = phone.get(address(rest))
        assert faults_of(page) == []
        assert (CONTROL[language] in read(page).text) is is_told


def test_the_control_is_told_of_before_the_code_of_the_glass(steps, phone):
    """After it, the words would seem to be about that glass."""
    steps.view = view(glasses=FRESH, has_control=True)
    page = phone.get(address(1)).text
    assert page.index(CONTROL["en"]) < page.index('<h1 class="codes">')


def test_without_a_control_nothing_is_said_of_one(steps, phone):
    steps.view = view(glasses=FRESH, has_control=False)
    for rest in ("", 1):
        assert "control" not in phone.get(address(rest)).text


def test_once_the_first_glass_is_answered_the_control_is_behind_one(steps, phone):
    steps.view = view(has_control=True)
    for rest in ("", 1, 3):
        assert "control" not in phone.get(address(rest)).text


def test_a_question_about_a_compound_gives_no_hint(phone):
    assert texts_of("en").say("asks.no_hint") == NO_HINT
    for place, asks in ((1, False), (3, False), (4, False), (5, True), (6, True)):
        assert (NO_HINT in read(phone.get(address(place))).text) is asks


def test_yes_or_no_is_chosen_even_as_a_guess(phone):
    assert "Choose one, even if you have to guess." in read(phone.get(address(6))).text


@pytest.mark.parametrize(
    ("language", "words"),
    [
        ("en", ("Tell the leader quietly if a glass is spilled or short.", "Rest when the leader says so.")),
        ("de", ("verschüttet oder zu knapp eingeschenkt", "Mach Pause, wenn die Panelleitung es sagt.")),
        ("es", ("si un vaso se ha derramado o viene corto", "Descansa cuando lo diga quien dirige el panel.")),
    ],
)  # fmt: skip
@pytest.mark.parametrize("rest", ["", 3, 4])
def test_whom_to_tell_and_when_to_rest_stand_beside_the_glasses(
    steps, phone, rest, language, words
):
    steps.view = view(language=language)
    text = read(phone.get(address(rest))).text
    for word in words:
        assert word in text


def test_not_fit_is_said_of_a_person(phone):
    text = read(phone.get(address("unfit"))).text
    assert "You are noted as not tasting today" in text
    assert "seat" not in text


@pytest.mark.parametrize(("sureness", "aside"), [("guess", "as before"), ("", "if you like")])
def test_how_sure_somebody_was_is_shown_as_before(steps, phone, sureness, aside):
    steps.view = view(glasses=(glass(1, "208", said=replace(PAPERY, sureness=sureness)),))
    assert f"How sure are you? {aside}" in read(phone.get(address(1))).text


def test_a_form_that_comes_back_does_not_call_its_own_sureness_as_before(steps, phone):
    steps.view = view(glasses=(glass(1, "208", said=OwnAnswer("nothing", sureness="fairly")),))
    steps.done = ("refused", "two_things")
    page = phone.post(address(1), what="nothing", words="x", sure="guess")
    assert "How sure are you? if you like" in read(page).text
