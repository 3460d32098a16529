"""Every page and state of a ballot, in every language."""

from dataclasses import replace
from decimal import Decimal

import pytest
from html_checks import faults_of, read
from invented_ballots import DAY, NAMES, PAPERY, SIX, address, glass, view

from seatworthy.ballot.texts import LANGUAGES
from seatworthy.steps.ballot_views import (
    AWAY,
    CALLED_OFF,
    EARLY,
    HANDED_IN,
    OwnAnswer,
)

SPILLED = (*SIX[:2], glass(3, "417", state="spilled"), *SIX[3:])
ANSWERED = tuple(replace(one, state="answered", answer=PAPERY, answers=1) for one in SIX)
EVERY_STATE = {
    "some": view(),
    "fresh": view(glasses=(glass(1, "417"),)),
    "all": view(glasses=ANSWERED),
    "none": view(glasses=()),
    "spilled": view(glasses=SPILLED),
    "all spilled": view(glasses=(glass(1, "417", state="spilled"),)),
    "nudged": view(is_nudged=True, spits=True),
    "without time": view(starts_at=None),
    "early": view(state=EARLY),
    "handed in": view(state=HANDED_IN, glasses=SPILLED),
    "away": view(state=AWAY, is_own_word=True),
    "away by another's word": view(state=AWAY),
    "called off": view(state=CALLED_OFF),
}


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("state", EVERY_STATE)
def test_every_state_is_a_whole_page(steps, phone, state, language):
    steps.view = replace(EVERY_STATE[state], language=language)
    page = phone.get(address())
    assert page.status == 200
    assert faults_of(page) == []
    assert read(page).all_of("html")[0]["lang"] == language


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("place", range(1, 7))
def test_every_glass_is_a_whole_page(steps, phone, place, language):
    for state in (view(language=language), view(language=language, glasses=SPILLED)):
        steps.view = state
        page = phone.get(address(place))
        assert page.status == 200
        assert faults_of(page) == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_question_whether_somebody_is_unfit_is_a_whole_page(steps, phone, language):
    steps.view = view(language=language)
    page = phone.get(address("unfit"))
    assert faults_of(page) == []
    assert read(page).all_of("form", method="post")[0]["action"] == address("unfit")


def test_a_glass_shows_its_code_its_place_and_the_day_and_never_the_sessions_name(phone):
    text = read(phone.get(address(3))).text
    assert "Glass 3 of 5" in text
    assert "Thursday, 15 May, 14:00" in text
    assert "417" in text
    assert "Check the code on your glass." in text


def test_a_glass_that_is_named_offers_nothing_every_name_and_something(phone):
    page = read(phone.get(address(3)))
    offered = [found["value"] for found in page.all_of("input", type="radio", name="what")]
    assert offered == ["nothing", *(name.compound for name in NAMES), "something"]
    assert [found for found in page.all_of("input") if "checked" in found] == []
    assert page.all_of("input", type="hidden", name="seen")[0]["value"] == "0"


def test_own_words_know_every_name_and_wording(phone):
    page = read(phone.get(address(3)))
    assert page.all_of("input", name="words")[0]["list"] == "known"
    known = {found["value"] for found in page.all_of("option")}
    assert {"Papery", "cardboard", "wet paper", "Nelke", "Sour"} <= known
    assert "" not in known


def test_a_set_offers_its_codes_from_left_to_right_and_one_must_be_chosen(phone):
    page = read(phone.get(address(4)))
    radios = page.all_of("input", type="radio", name="what")
    assert [found["value"] for found in radios] == ["551", "302", "118"]
    assert all("required" in found for found in radios)
    assert "Which one differs from the other two?" in page.text
    assert page.all_of("input", name="words") == []


@pytest.mark.parametrize(
    ("method", "asks"),
    [
        ("3afc", "Which one has something in it?"),
        ("2afc", "Which one has something in it?"),
        ("duo_trio", "Which one differs from the reference glass?"),
    ],
)
def test_each_kind_of_set_asks_its_own_question(steps, phone, method, asks):
    steps.view = view(glasses=(glass(1, "551", "302", method=method),))
    assert asks in read(phone.get(address(1))).text


def test_a_forced_choice_of_a_single_glass_is_left_to_paper(steps, phone):
    steps.view = view(glasses=(glass(1, "551", method="triangle"),))
    page = read(phone.get(address(1)))
    assert "answered on paper" in page.text
    assert page.all_of("form") == []


def test_a_rating_has_eleven_numbers_and_says_what_its_ends_mean(phone):
    page = read(phone.get(address(5)))
    radios = page.all_of("input", type="radio", name="rating")
    assert [found["value"] for found in radios] == [str(number) for number in range(11)]
    assert all("required" in found for found in radios)
    assert "How strong is diacetyl?" in page.text
    assert "0: not there" in page.text
    assert "10: very strong" in page.text


def test_a_rating_without_a_compound_asks_for_what_is_noticed(steps, phone):
    steps.view = view(glasses=(glass(1, "551", method="intensity"),))
    assert "How strong is what you notice?" in read(phone.get(address(1))).text


def test_yes_or_no_is_asked_of_a_compound(phone):
    page = read(phone.get(address(6)))
    assert "Is diacetyl in it?" in page.text
    radios = page.all_of("input", type="radio", name="what")
    assert [found["value"] for found in radios] == ["yes", "no"]


@pytest.mark.parametrize(
    ("place", "said", "id_"),
    [
        (3, OwnAnswer("nothing"), "what-nothing"),
        (3, OwnAnswer("something"), "what-something"),
        (3, OwnAnswer("words", "papery"), "what-19"),
        (3, OwnAnswer("words", "t2n"), "what-19"),
        (4, OwnAnswer("picked", picked="302"), "what-2"),
        (5, OwnAnswer("rating", rating=Decimal("7.0")), "rating-7"),
        (6, OwnAnswer("no"), "what-no"),
    ],
)
def test_what_is_on_record_is_chosen_already(steps, phone, place, said, id_):
    kept = replace(
        SIX[place - 1], state="answered", answer=replace(said, sureness="certain"), answers=3
    )
    steps.view = view(glasses=(*SIX[: place - 1], kept, *SIX[place:]))
    page = read(phone.get(address(place)))
    checked = [found["id"] for found in page.all_of("input") if "checked" in found]
    assert checked == [id_, "sure-certain"]
    assert page.all_of("input", name="seen")[0]["value"] == "3"
    assert "On record: " in page.text
    assert "You may change it until the table closes." in page.text


def test_own_words_on_record_stand_in_their_field(steps, phone):
    steps.view = view(glasses=(glass(1, "208", said=OwnAnswer("words", "theatre foyer")),))
    page = read(phone.get(address(1)))
    assert page.all_of("input", name="words")[0]["value"] == "theatre foyer"
    assert [found for found in page.all_of("input") if "checked" in found] == []
    assert "On record: “theatre foyer”." in page.text


def test_a_spilled_glass_has_no_form_and_says_whom_to_tell(steps, phone):
    steps.view = view(glasses=SPILLED)
    page = read(phone.get(address(3)))
    assert "noted as spilled" in page.text
    assert "Tell the panel leader" in page.text
    assert page.all_of("form") == []


@pytest.mark.parametrize("rest", ["", 3, "unfit"])
@pytest.mark.parametrize("language", LANGUAGES)
def test_care_stands_on_every_open_page(steps, phone, rest, language):
    steps.view = view(language=language, alcohol_limit_g=Decimal("7.50"))
    text = read(phone.get(address(rest))).text
    words = {
        "en": (
            "Of age and by choice",
            "stop at any time",
            "Spit if you can",
            "7.5 g",
            "No driving",
        ),
        "de": (
            "Volljährige und freiwillig",
            "jederzeit aufhören",
            "Spuck aus",
            "7,5 g",
            "nicht fahren",
        ),
        "es": (
            "mayores de edad y por voluntad",
            "parar en cualquier",
            "Escupe",
            "7,5 g",
            "ni conducir",
        ),
    }
    for word in words[language]:
        assert word in text


def test_where_everybody_spits_the_care_says_so(steps, phone):
    steps.view = view(spits=True)
    assert "Everybody spits: at most 8 g" in read(phone.get(address())).text


def test_the_overview_says_what_was_said_and_leads_to_each_glass(phone):
    page = read(phone.get(address()))
    assert "Two glasses in; three glasses and one set still wait." in page.text
    assert "208 nothing added Change" in page.text
    assert "639 papery, fairly Change" in page.text
    assert "417 waits Answer" in page.text
    links = [found["href"] for found in page.all_of("a")]
    assert links[0] == address(3)  # the next one that waits
    assert links[1:7] == [address(place) for place in range(1, 7)]
    assert links[7] == address("unfit")


@pytest.mark.parametrize(
    ("state", "sentence"),
    [
        ("fresh", "Anneke Brandt, one glass waits for you."),
        ("all", "All in: five glasses and one set."),
        ("none", "Anneke Brandt, no glass is poured for you yet."),
        ("all spilled", "Anneke Brandt, no glass is poured for you yet."),
        ("spilled", "Two glasses in; two glasses and one set still wait."),
        ("early", "Your ballot opens on Thursday, 15 May."),
        ("away", "Anneke Brandt, you are noted as not tasting today."),
        ("called off", "This session was called off."),
        ("handed in", "The table is closed."),
    ],
)
def test_the_sentence_on_top_says_where_one_stands(steps, phone, state, sentence):
    steps.view = EVERY_STATE[state]
    assert sentence in read(phone.get(address())).text


def test_when_all_are_in_nothing_is_left_to_do(steps, phone):
    steps.view = EVERY_STATE["all"]
    page = read(phone.get(address()))
    assert "Nothing more to do; you may change an answer until the table closes." in page.text
    assert all(found.get("class") != "button" for found in page.all_of("a"))


def test_whoever_is_waited_for_is_told_which_codes(steps, phone):
    steps.view = view(is_nudged=True)
    for rest in ("", 3):
        text = read(phone.get(address(rest))).text
        assert "The leader is waiting for: 417, 551/302/118, 774, 926." in text
    steps.view = view(is_nudged=True, glasses=ANSWERED)
    assert "waiting for" not in read(phone.get(address())).text


def test_before_its_day_a_ballot_shows_no_glass(steps, phone):
    steps.view = EVERY_STATE["early"]
    page = phone.get(address())
    assert "417" not in page.text
    assert read(page).all_of("form") == []
    assert phone.get(address(3)).location == address()


def test_a_table_that_is_closed_shows_what_was_said_and_takes_nothing(steps, phone):
    steps.view = EVERY_STATE["handed in"]
    page = read(phone.get(address()))
    assert "Keep this link: what was in the glasses stands here after the reveal." in page.text
    assert "639 papery, fairly" in page.text
    assert "417 spilled" in page.text
    assert page.all_of("form") == page.all_of("a") == []
    assert phone.get(address("unfit")).location == address()


def test_only_ones_own_word_can_be_taken_back(steps, phone):
    steps.view = EVERY_STATE["away"]
    assert read(phone.get(address())).all_of("form", method="post")[0]["action"] == address("fit")
    steps.view = EVERY_STATE["away by another's word"]
    page = read(phone.get(address()))
    assert page.all_of("form") == []
    assert "tell the panel leader" in page.text


def test_days_are_written_in_the_language(steps, phone):
    for language, day in (
        ("de", "Donnerstag, 15. Mai, 14:00"),
        ("es", "Jueves, 15 de mayo, 14:00"),
    ):
        steps.view = view(language=language)
        assert day in read(phone.get(address())).text
    steps.view = view(language="es", state=EARLY)
    assert "se abre el jueves, 15 de mayo." in read(phone.get(address())).text
    assert DAY.weekday() == 3
