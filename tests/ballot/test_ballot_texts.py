"""The texts in every language: the same keys and placeholders, and the look.md's manner."""

import re
import string
from datetime import date, datetime
from decimal import Decimal
from importlib.resources import files

import pytest

from seatworthy import ballot
from seatworthy.ballot.texts import LANGUAGES, texts_of
from seatworthy.steps import ballot_languages


def spelled(language):
    """Each key with what stands there; of plural forms every form for itself."""
    found = {}
    for key, text in texts_of(language).sentences.items():
        if isinstance(text, str):
            found[key] = text
        else:
            found |= {f"{key}:{form}": words for form, words in text.items()}
    return found


def placeholders(text):
    return {name for _, name, _, _ in string.Formatter().parse(text) if name is not None}


def test_every_language_a_person_may_have_has_its_texts():
    assert set(LANGUAGES) == set(ballot_languages.LANGUAGES)


@pytest.mark.parametrize("language", LANGUAGES[1:])
def test_every_language_says_the_same_things(language):
    english, other = spelled("en"), spelled(language)
    assert other.keys() == english.keys()
    for key, text in other.items():
        assert text.strip() == text, key
        assert text, key
        if not key.endswith(":one"):  # a language may write "one" out
            assert placeholders(text) == placeholders(english[key]), key
        assert placeholders(text) <= placeholders(english[key].replace(" one ", " {count} ")), key


@pytest.mark.parametrize("language", LANGUAGES)
def test_numbers_and_days_have_all_their_words(language):
    texts = texts_of(language)
    assert (len(texts.numbers), len(texts.weekdays), len(texts.months)) == (13, 7, 12)
    for words in (texts.numbers, texts.weekdays, texts.months):
        assert len(set(words)) == len(words)
    assert texts.number(12) == texts.numbers[12]
    assert texts.number(13) == "13"


@pytest.mark.parametrize("language", LANGUAGES)
def test_texts_speak_plainly(language):
    banned = re.compile(
        r"!|¡|\b(please|bitte|por favor|error|fehler|conforms|well done|bravo|great|super|perfect)\b",
        re.IGNORECASE,
    )
    for key, text in spelled(language).items():
        assert not banned.search(text), key
        assert not re.search(r"[≤≥→←<>]", text), key  # the faces lack them


def test_days_are_written_as_each_language_does():
    day = date(2031, 3, 5)
    assert texts_of("en").day(day) == "Wednesday, 5 March"
    assert texts_of("de").day(day) == "Mittwoch, 5. März"
    assert texts_of("es").day(day) == "miércoles, 5 de marzo"
    assert texts_of("en").day_at(datetime(2031, 3, 5, 9, 5)) == "Wednesday, 5 March, 09:05"


@pytest.mark.parametrize(
    ("number", "en", "de"),
    [("8.0", "8", "8"), ("7.50", "7.5", "7,5"), ("10", "10", "10"), ("1E+1", "10", "10"),
     ("0.25", "0.25", "0,25"), ("0", "0", "0")],
)  # fmt: skip
def test_amounts_have_the_languages_mark_and_no_empty_decimals(number, en, de):
    assert texts_of("en").amount(Decimal(number)) == en
    assert texts_of("de").amount(Decimal(number)) == de
    assert texts_of("es").amount(Decimal(number)) == de


@pytest.mark.parametrize(
    ("language", "one", "three"),
    [
        ("en", "Ada, one glass waits for you.", "Ada, three glasses wait for you."),
        ("de", "Ada, ein Glas wartet auf dich.", "Ada, drei Gläser warten auf dich."),
        ("es", "Ada, te espera un vaso.", "Ada, te esperan tres vasos."),
    ],
)
def test_one_and_many_have_their_own_forms(language, one, three):
    say = texts_of(language).say
    assert say("overview.fresh", 1, name="Ada") == one
    assert say("overview.fresh", 3, name="Ada") == three


def test_nothing_that_is_filled_in_is_read_as_a_placeholder():
    said = texts_of("en").say("overview.whose", name="{0.__class__}{count}")
    assert "{0.__class__}{count}" in said


def test_a_sentence_without_its_filling_is_a_slip():
    with pytest.raises(KeyError, match="name"):
        texts_of("en").say("overview.whose")


def test_every_text_is_used_and_every_text_that_is_used_is_there():
    folder = files(ballot)
    sources = [path for path in folder.iterdir() if path.name.endswith(".py")]
    sources += list((folder / "templates").iterdir())
    written = "".join(path.read_text(encoding="utf-8") for path in sources)
    made = re.compile(r"^(said|sure|asks|refused|note|outcome|overview)\.")  # joined from a prefix
    for key in texts_of("en").sentences:
        assert f'"{key}"' in written or made.match(key), key
    for key in re.findall(r'say\(\s*"([a-z_0-9]+\.[a-z_0-9]+)"', written):
        assert key in texts_of("en").sentences, key
