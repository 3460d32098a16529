"""Where somebody stands, in words: glasses and sets counted apart, and whoever is waited for."""

from dataclasses import replace

import pytest
from html_checks import faults_of, read
from invented_ballots import PAPERY, address, glass, view

from seatworthy.ballot.pages import words_of
from seatworthy.ballot.standing import MOST_CODES, standing
from seatworthy.ballot.texts import LANGUAGES
from seatworthy.steps.ballot_views import HANDED_IN, OwnAnswer

PICKED = OwnAnswer("picked", picked="302")


def poured(singles, sets, answered=()):
    """So many glasses, then so many sets; those at the places named are answered."""
    codes = [(str(200 + place),) for place in range(1, singles + 1)]
    codes += [(f"5{n}1", "302", f"1{n}8") for n in range(10, 10 + sets)]
    return tuple(
        glass(
            place,
            *stands,
            method="triangle" if len(stands) > 1 else "naming",
            said=(PICKED if len(stands) > 1 else PAPERY) if place in answered else None,
        )
        for place, stands in enumerate(codes, start=1)
    )


def said(language, *what):
    asked = view(language=language, glasses=poured(*what))
    return standing(words_of(asked), asked)


@pytest.mark.parametrize(
    ("what", "en", "de", "es"),
    [
        ((6, 3), "Anneke Brandt, six glasses and three sets wait for you.",
         "Anneke Brandt, sechs Gläser und drei Reihen warten auf dich.",
         "Anneke Brandt, te esperan seis vasos y tres series."),
        ((0, 1), "Anneke Brandt, one set waits for you.",
         "Anneke Brandt, eine Reihe wartet auf dich.", "Anneke Brandt, te espera una serie."),
        ((1, 1), "Anneke Brandt, one glass and one set wait for you.",
         "Anneke Brandt, ein Glas und eine Reihe warten auf dich.",
         "Anneke Brandt, te esperan un vaso y una serie."),
        ((6, 2, (1, 2, 7)), "Two glasses and one set in; four glasses and one set still wait.",
         "Beantwortet: zwei Gläser und eine Reihe; vier Gläser und eine Reihe fehlen noch.",
         "Contestado: dos vasos y una serie; faltan cuatro vasos y una serie."),
        ((1, 1, (1,)), "One glass in; one set still waits.",
         "Beantwortet: ein Glas; eine Reihe fehlt noch.", "Contestado: un vaso; falta una serie."),
        ((2, 1, (1, 2, 3)), "All in: two glasses and one set.",
         "Alles beantwortet: zwei Gläser und eine Reihe.", "Todo contestado: dos vasos y una serie."),
        ((3, 0, (1,)), "One of three in; two still wait.",
         "Eins von drei beantwortet; zwei fehlen noch.", "Contestados: uno de tres; faltan dos."),
        ((3, 0, (1, 2, 3)), "All three are in.", "Alle drei sind beantwortet.",
         "Los tres están contestados."),
    ],
)  # fmt: skip
def test_glasses_and_sets_are_counted_apart(what, en, de, es):
    assert (said("en", *what), said("de", *what), said("es", *what)) == (en, de, es)


def test_a_page_says_which_of_the_glasses_or_of_the_sets_it_is_about(steps, phone):
    mixed = poured(3, 2)
    order = (mixed[0], mixed[3], mixed[1], mixed[4], mixed[2])
    steps.view = view(
        glasses=tuple(replace(one, place=place) for place, one in enumerate(order, start=1))
    )
    tops = [read(phone.get(address(place))).text for place in range(1, 6)]
    for text, where in zip(
        tops,
        ("Glass 1 of 3", "Set 1 of 2", "Glass 2 of 3", "Set 2 of 2", "Glass 3 of 3"),
        strict=True,
    ):
        assert where in text


@pytest.mark.parametrize(
    ("waiting", "told"),
    [
        (MOST_CODES, "207, 208."),
        (MOST_CODES + 1, "207, 208 and one more."),
        (MOST_CODES + 3, "207, 208 and three more."),
    ],
)
def test_a_reminder_names_a_few_codes_and_counts_the_rest(steps, phone, waiting, told):
    steps.view = view(is_nudged=True, glasses=poured(waiting, 0))
    text = read(phone.get(address())).text
    assert f"The leader is waiting for: 201, 202, 203, 204, 205, 206, {told}" in text


@pytest.mark.parametrize(
    ("language", "told"),
    [("de", "208 und noch drei."), ("es", "208 y tres más.")],
)
def test_a_reminder_counts_in_every_language(steps, phone, language, told):
    steps.view = view(language=language, is_nudged=True, glasses=poured(MOST_CODES + 3, 0))
    assert told in read(phone.get(address())).text


KEEP = {
    "en": "Keep this link: what was in the glasses stands here after the reveal.",
    "de": "Behalte diesen Link: Nach der Auflösung steht hier, was in den Gläsern war.",
    "es": "Guarda este enlace: cuando se desvele la sesión, aquí verás lo que había en los vasos.",
}


@pytest.mark.parametrize("language", LANGUAGES)
def test_whoever_is_done_is_told_to_keep_the_link(steps, phone, language):
    done = view(language=language, glasses=poured(2, 0, (1, 2)))
    for told in (done, replace(done, state=HANDED_IN)):
        steps.view = told
        assert KEEP[language] in read(phone.get(address())).text
    steps.view = view(language=language)
    assert KEEP[language] not in read(phone.get(address())).text


def test_a_person_with_one_glass_is_told_all_of_it(steps, phone):
    steps.view = view(glasses=poured(1, 0, (1,)))
    page = phone.get(address())
    assert faults_of(page) == []
    assert "Your one glass is in." in read(page).text
