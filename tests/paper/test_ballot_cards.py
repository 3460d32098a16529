"""Cards with the links to ballots: eight a page, each complete in itself, none telling of another."""

from dataclasses import replace
from datetime import date, datetime
from functools import cache
from io import BytesIO

import pytest
from printed_text import overprinted, pages_of, size_of, texts_of
from pypdf import PdfReader
from pypdf.generic import ContentStream

from seatworthy.paper import ballot_cards_pdf
from seatworthy.paper.ballot_card_words import CARD_WORDS, BallotCard
from seatworthy.steps.ballot_languages import LANGUAGES

MADE_AT = datetime(2026, 12, 1, 9, 30)
CARD = BallotCard(
    name="Bo Larsen",
    address="http://192.0.2.20:8501/b/Zx3vJ0q7LkT5yWm2nR8aBg",
    session_on=date(2026, 12, 3),
    starts_at=datetime(2026, 12, 3, 14, 0),
    expires_on=date(2026, 12, 17),
    language="en",
)
LONG = replace(
    CARD,
    name="Wilhelmina-Constantia van der Oudekerke-Zuidhollandse van den Langenamenberg",
    address="https://the-longest-name-of-a-brewery-laptop.cellar.example:18501/b/Zx3vJ0q7LkT5yWm2nR8aBg",
)
NAMES = [f"Person {number}" for number in range(1, 10)]
NINE = tuple(
    replace(CARD, name=name, address=f"http://192.0.2.20:8501/b/secret-of-{number}")
    for number, name in enumerate(NAMES, start=1)
)


@cache
def made(cards, size="A4"):
    return ballot_cards_pdf(cards, size, MADE_AT)


def words_of(pdf):
    return [" ".join(text.split()) for text in texts_of(pdf)]


def test_eight_cards_stand_on_a_page_and_the_ninth_on_the_next():
    first, second = words_of(made(NINE))
    assert all(name in first for name in NAMES[:8])
    assert NAMES[8] not in first
    assert NAMES[8] in second


@pytest.mark.parametrize(("size", "width"), [("A4", 210.0), ("Letter", 215.9)])
def test_cards_come_on_both_papers(size, width):
    assert size_of(made(NINE, size))[0][0] == pytest.approx(width, abs=0.1)


def test_a_card_says_whose_it_is_when_it_is_and_where_it_leads_in_whole():
    (text,) = words_of(made((CARD,)))
    for words in (
        "Bo Larsen",
        "Thursday 3 December 2026, 14:00",
        CARD.address,
        "works until 17 December",
        "yours alone",
        "no driving afterwards",
        "by choice",
        "Of age",
        "spit cup",
    ):
        assert words in text


@pytest.mark.parametrize(
    ("language", "day", "last"),
    [
        ("en", "Thursday 3 December 2026, 14:00", "until 17 December"),
        ("de", "Donnerstag, 3. Dezember 2026, 14:00", "bis 17. Dezember"),
        ("es", "jueves, 3 de diciembre de 2026, 14:00", "hasta el 17 de diciembre"),
    ],
)
def test_a_card_speaks_the_language_of_its_person(language, day, last):
    (text,) = words_of(made((replace(CARD, language=language),)))
    assert day in text
    assert last in text
    assert CARD_WORDS[language].what_to_do in text


def test_cards_speak_every_language_that_ballots_speak():
    assert set(CARD_WORDS) == set(LANGUAGES)


@pytest.mark.parametrize("language", sorted(CARD_WORDS))
def test_a_year_has_twelve_months_and_a_week_seven_days(language):
    words = CARD_WORDS[language]
    days = {words.whole_day(date(2026, 6, day)) for day in range(1, 8)}
    assert (len(set(words.weekdays)), len(set(words.months)), len(days)) == (7, 12, 7)


@pytest.mark.parametrize("size", ["A4", "Letter"])
@pytest.mark.parametrize("language", sorted(CARD_WORDS))
def test_the_longest_name_and_address_stay_on_their_card_and_whole(size, language):
    cards = (replace(LONG, language=language), *NINE[:7])
    pieces = pages_of(made(cards, size))[0]
    assert overprinted(pieces) == []
    width, height = size_of(made(cards, size))[0]
    own = [p for p in pieces if p.left < width / 2 and p.top < height / 4]
    assert all(piece.right <= width / 2 and piece.bottom <= height / 4 + 2.5 for piece in own)
    assert LONG.address in "".join(piece.text for piece in own)


def test_what_somebody_typed_cannot_leave_its_card():
    hostile = replace(CARD, name="\u202eBo\u0000 Larsen\n\n" + "x" * 300)
    (pieces,) = pages_of(made((hostile,)))
    assert overprinted(pieces) == []
    assert max(piece.right for piece in pieces) < 105


def test_the_same_cards_at_the_same_moment_are_the_same_bytes():
    assert made(NINE) == ballot_cards_pdf(NINE, "A4", MADE_AT)


def test_the_title_tells_no_session_and_no_secret():
    about = str(PdfReader(BytesIO(made(NINE))).metadata)
    assert "secret" not in about
    assert "one card a person" in about


def test_the_picture_has_modules_that_a_phone_can_tell_apart():
    """0.75 mm and more; common practice, no source."""
    dark = dark_boxes(made((LONG,)))
    assert min(height for *_, height in dark) > 0.75
    left = min(x for x, *_ in dark)
    top = min(y for _, y, *_ in dark)
    assert left > 10 + 4 + 3  # the white around it lies within the card
    assert top > 10 + 4 + 3


def test_another_address_is_another_picture():
    one, other = (dark_boxes(made((card,))) for card in NINE[:2])
    assert one != other


def dark_boxes(pdf):
    """Left, top, width and height of every dark box of the first page, mm."""
    page = PdfReader(BytesIO(pdf)).pages[0]
    high, mm = float(page.mediabox.height), 25.4 / 72
    found = []
    for operands, operator in ContentStream(page.get_contents(), page.pdf).operations:
        if operator == b"re":
            x, y, width, height = (float(value) for value in operands)
            found.append((x * mm, (high - y) * mm, width * mm, abs(height) * mm))
    return found
