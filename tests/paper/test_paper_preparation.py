"""The preparation list."""

from dataclasses import replace
from datetime import datetime
from functools import cache

from invented_papers import LATE, LONG_ADDITION, SAMPLES, invented_paper, invented_recipes
from printed_text import texts_of

from seatworthy.paper import preparation_pdf

ONE_SITTING = (("Ada", "Bo"), ())
RECIPES = invented_recipes()


@cache
def as_lines(view, size="A4"):
    return texts_of(preparation_pdf(view, size))


def as_sentences(view, page=0):
    return " ".join(as_lines(view)[page].split())


def test_every_sitting_has_a_page_of_its_own():
    early, late = as_lines(invented_paper())
    assert "Early shift at 10:30" in early
    assert "Late shift at 14:30" in late


def test_the_sentence_says_how_much_to_pour_and_when_to_start():
    view = invented_paper(people=(LATE, LATE), glasses=6, spares=0)
    assert "Six vessels for three people: pour 18 glasses of 40 ml, start at 10:30." in (
        as_sentences(view)
    )


def test_spare_orders_are_told_and_counted():
    assert (
        "Six vessels for nine people and one spare order: pour 80 glasses of 40 ml, start at 10:30."
        in as_sentences(invented_paper())
    )


def test_a_sitting_without_a_time_is_given_none():
    view = invented_paper()
    sitting = replace(view.sittings[0], starts_at=datetime.min)
    text = as_sentences(replace(view, sittings=(sitting,)))
    assert "pour 80 glasses of 40 ml." in text
    assert "start at" not in text


def test_each_vessel_has_its_letter_compound_level_addition_and_volume():
    lines = as_lines(invented_paper())[0].splitlines()
    start = lines.index("Papery")
    assert lines[start - 1 : start + 4] == ["D", "Papery", "12 µl in 1.2 l", "3×", "400 ml"]


def test_a_long_addition_is_printed_whole():
    assert LONG_ADDITION in as_sentences(invented_paper())


def test_a_blank_has_no_level():
    lines = as_lines(invented_paper())[0].splitlines()
    start = lines.index("nothing added")
    assert lines[start : start + 2] == ["nothing added", "800 ml"]


def test_it_says_which_letters_are_poured_twice():
    assert "A and B are each poured twice: hidden pairs." in as_sentences(invented_paper())


def test_a_single_pair_is_called_a_pair():
    view = invented_paper(people=ONE_SITTING, glasses=3, spares=0, samples=SAMPLES[:2])
    assert "A is poured twice: a hidden pair." in as_sentences(view)


def test_nothing_poured_once_is_called_hidden():
    view = invented_paper(people=ONE_SITTING, glasses=1, spares=0, samples=SAMPLES[:1])
    assert "hidden" not in as_sentences(view)


def test_what_fades_is_said():
    text = as_sentences(invented_paper())
    assert "C and F fade within hours: add last, pour soon." in text
    assert "A fades within a day: make it the same day." in text


def test_a_caution_shared_by_two_vessels_stands_once():
    assert as_sentences(invented_paper()).count("Gloves and eye cover") == 1


def test_the_control_is_told_only_if_there_is_one():
    with_it = as_sentences(invented_paper())
    without = as_sentences(invented_paper(control_ml=0))
    assert "Control: the beer as it is, nothing added, ten glasses of 40 ml;" in with_it
    assert "Control" not in without


def test_preparers_who_taste_are_told_who_puts_the_codes_on():
    sentence = "The preparer marks vessels with letters only."
    assert sentence in as_sentences(invented_paper())
    assert sentence not in as_sentences(invented_paper(preparers=()))


def test_no_code_is_on_it():
    view = invented_paper(people=(LATE, LATE), glasses=6)
    words = set(as_sentences(view).split())
    assert words.isdisjoint(g.code for order in view.sittings[0].orders for g in order.glasses)


def test_it_asks_for_what_was_really_added():
    assert (
        "Write down what you really added, and state it on the session's page: the level is counted "
        "from that." in as_sentences(invented_paper())
    )


def test_care_stands_before_the_door_is_opened():
    text = as_sentences(invented_paper())
    for words in (
        "Water, plain bread and a spittoon at nine places.",
        "No perfume, no talk",
        "of age and tastes by choice. No driving or machine work afterwards.",
        "hold 13.6 g of alcohol",
        "Goran Petrić is not to be served DMS.",
        "gluten from barley or wheat, and sulfites",
    ):
        assert words in text


def test_its_foot_says_that_it_holds_the_key():
    assert (
        "Ottersgrund Brewery. This sheet holds the key: keep it out of the tasting room. Training "
        "samples, not for sale." in as_sentences(invented_paper())
    )


def test_twelve_vessels_go_on_over_the_page_with_the_heads_again():
    many = tuple((letter, *SAMPLES[2][1:]) for letter in "ABCDEFGHIJKL")
    pages = as_lines(invented_paper(samples=many), "Letter")
    assert len(pages) == 4
    assert "what is added" in pages[0]
    assert "continued" in pages[1]


def test_local_law_is_pointed_to_on_both_kinds_of_sheet():
    words = "How much may be drunk, at work and before driving, is local law"
    assert words in as_sentences(invented_paper())
    assert words in as_sentences(RECIPES, 1)


def test_first_aid_is_not_told_where_only_blanks_are_prepared():
    view = invented_paper(people=ONE_SITTING, glasses=1, spares=0, samples=SAMPLES[1:2])
    assert "section 4" not in as_sentences(view)
    assert "section 4" in as_sentences(invented_paper())
