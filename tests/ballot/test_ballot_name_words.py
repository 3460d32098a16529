"""What is said of a compound, in the panellist's language; and names that don't lose their number."""

from dataclasses import replace

import pytest
from html_checks import faults_of, read
from invented_ballots import address, told, view

from seatworthy.ballot.name_words import in_language, name_words
from seatworthy.ballot.shown import found_names, well_broken
from seatworthy.ballot.texts import LANGUAGES
from seatworthy.intake.tables import vocabulary_rows
from seatworthy.steps.ballot_views import NameOffered, OwnAnswer
from seatworthy.steps.labels import describing_word

OTHERS = LANGUAGES[1:]
PAPERY = NameOffered("t2n", "Papery", "cardboard", ("wet paper",))
DIACETYL = NameOffered("diacetyl", "Diacetyl", "butterscotch")
OWN_WORD = NameOffered("dms", "DMS", "sweetcorn")
OWN_COMPOUND = NameOffered("house_note", "Cellar", "damp stone")
NAMES = (PAPERY, DIACETYL, OWN_WORD, OWN_COMPOUND)


def shipped_words():
    return {
        str(row["compound"]): describing_word(str(row["label"]), str(row["descriptors"]))
        for table, row in vocabulary_rows()
        if table == "compound"
    }


@pytest.mark.parametrize("language", OTHERS)
def test_every_word_translates_the_shipped_one(language):
    shipped, words = shipped_words(), name_words(language)
    assert {key for key, word in shipped.items() if word} <= words.keys() <= shipped.keys()
    for compound, said in words.items():
        assert said.english == shipped[compound], compound
        assert said.word.strip() == said.word, compound
        assert 1 <= len(said.word.replace(",", "").split()) <= 3, compound


def test_english_is_as_shipped():
    assert in_language(NAMES, "en") == NAMES


@pytest.mark.parametrize(
    ("language", "papery", "diacetyl"),
    [
        ("de", "Pappe, nasses Papier", "Butter, Karamell"),
        ("es", "cartón, papel mojado", "mantequilla, caramelo"),
    ],
)
def test_the_word_is_in_the_ballots_language_and_the_name_as_the_brewery_wrote_it(
    steps, phone, language, papery, diacetyl
):
    steps.view = view(names=NAMES, language=language)
    page = phone.get(address(3))
    assert faults_of(page) == []
    assert f"Papery {papery}" in read(page).text
    assert f"Diacetyl {diacetyl}" in read(page).text


def test_a_word_that_the_brewery_changed_stands(steps, phone):
    steps.view = view(names=NAMES, language="de")
    text = read(phone.get(address(3))).text
    assert "DMS sweetcorn" in text
    assert "Cellar damp stone" in text
    assert "gekochter Mais" not in text


def test_a_name_that_is_the_word_itself_does_not_say_it_twice():
    own = replace(DIACETYL, label="Butter, Karamell")
    assert in_language([own], "de") == (own,)


def test_a_name_is_found_in_both_languages(steps, phone):
    names = in_language(NAMES, "de")
    for find in ("pappe", "cardboard", "nasses", "wet", "Papery"):
        assert [name.compound for name in found_names(names, find)] == ["t2n"], find
    many = tuple(NameOffered(f"c{n}", f"Name {n}", "") for n in range(20))
    steps.view = view(names=(*NAMES, *many), language="de")
    for find in ("karamell", "butterscotch"):
        page = read(phone.get(address(f"3?find={find}")))
        offered = [one["value"] for one in page.all_of("input", type="radio", name="what")]
        assert offered == ["nothing", "diacetyl", "something"]


def test_what_is_offered_for_own_words_is_read_as_an_answer(steps, phone):
    """A translated word stands beside its name only: as an answer it would wait for a meaning."""
    steps.view = view(names=NAMES, language="de")
    page = phone.get(address(3))
    values = {one["value"] for one in read(page).all_of("option")}
    assert {"Papery", "cardboard", "wet paper", "Diacetyl", "butterscotch"} <= values
    assert not values & {"Pappe, nasses Papier", "Butter, Karamell"}
    assert '<option value="Papery">Pappe, nasses Papier</option>' in page.text


def test_the_value_that_is_sent_is_the_compound(steps, phone):
    steps.view = view(
        names=(NameOffered("phenylethanol", "2-Phenylethanol", "rose-like"),), language="de"
    )
    page = phone.get(address(3))
    assert read(page).all_of("input", id="what-1")[0]["value"] == "phenylethanol"
    assert '<option value="2-Phenylethanol">' in page.text
    assert '<span class="name">2-\u2060Phenyl\u00adethanol</span>' in page.text


@pytest.mark.parametrize(
    ("name", "seen"),
    [
        ("2-Phenylethanol", "2-\u2060Phenyl\u00adethanol"),
        ("2,3-Pentanedione", "2,3-\u2060Pentane\u00addione"),
        (
            "4-Methyl-4-sulfanylpentan-2-one",
            "4-\u2060Methyl-4-\u2060sulfanyl\u00adpentan-2-\u2060one",
        ),
        ("Beta-Damascenone", "Beta-Damascenone"),
        ("Phenylacetaldehyde", "Phenyl\u00adacetaldehyde"),
        ("Ethyl acetate", "Ethyl acetate"),
        ("DMS", "DMS"),
        ("3-", "3-"),
    ],
)
def test_a_line_ends_after_a_part_of_a_name_and_never_after_its_number(name, seen):
    assert well_broken(name) == seen
    assert well_broken(seen) == seen


def test_after_the_reveal_names_keep_their_number_too(steps, phone):
    steps.reveal(
        glasses=(told(1, "2-Phenylethanol", OwnAnswer("nothing"), "missed"),), mixed_up=None
    )
    assert "2-\u2060Phenyl\u00adethanol" in phone.get(address()).text


def test_what_came_of_looking_begins_with_a_capital(steps, phone):
    many = tuple(NameOffered(f"c{n}", f"Name {n}", "") for n in range(20))
    for language, begins in (("de", "Zwei Namen passen"), ("es", "Dos nombres coinciden")):
        steps.view = view(names=many, language=language)
        assert begins in read(phone.get(address("3?find=8"))).text  # 8 and 18
