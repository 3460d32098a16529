from dataclasses import replace

import pytest

from seatworthy.rules.compound_rules import KOfNRule, SequentialRule, ShareRule, ThresholdRule
from seatworthy.rules.person_rules import (
    DeviationRule,
    DuplicateDifference,
    DuplicateShare,
    FalseCallShare,
    OrderRule,
)
from seatworthy.rules.reading import examples, menu, read_rulebook, rulebook_on_menu
from seatworthy.rules.texts import rulebook_text
from seatworthy.stats.guessing import binomial_tail

ALL = (*menu(), *examples())
SHELF = ("diacetyl", "acetaldehyde", "dms", "t2n", "h2s", "acetic_acid", "lactic_acid")


def words_of_comments(name):
    """All comments of a rulebook as one text."""
    lines = [line.partition("#")[2].strip() for line in rulebook_text(name).splitlines()]
    return " ".join(line for line in lines if line)


def renamed(book, default):
    """A rulebook with the name and the words of the default, to compare the rules alone."""
    return replace(book, name=default.name, about=default.about)


def test_four_rulebooks_are_on_the_menu():
    assert menu() == ("default", "strict", "micro", "plain")


def test_four_examples_show_published_practice():
    assert examples() == ("olive_oil", "olfactometry", "triangles", "matching")


@pytest.mark.parametrize("name", ALL)
def test_each_is_read_on_an_ordinary_shelf(name):
    assert read_rulebook(name, rulebook_text(name), SHELF).name == name


@pytest.mark.parametrize("name", ALL)
def test_each_says_on_screens_that_it_is_an_example(name):
    assert "example, not a standard" in rulebook_on_menu(name).about


@pytest.mark.parametrize("name", ALL)
def test_each_explains_its_words_in_the_file(name):
    assert "# The words. " in rulebook_text(name)


@pytest.mark.parametrize("name", ALL)
def test_each_key_is_followed_by_words_that_can_be_read_aloud(name):
    keys = [line for line in rulebook_text(name).splitlines() if " = " in line.split("#")[0]]
    silent = [line for line in keys if "#" not in line]
    top = ("name", "version", "counts_from", "about", "follows", "highest_level", "[[also]]")
    assert [line for line in silent if line.split(" = ")[0] not in top] == []


@pytest.mark.parametrize("name", examples())
def test_each_example_names_what_it_follows_and_where_to_check(name):
    follows = rulebook_on_menu(name).follows
    assert follows.startswith("After ")
    assert "from memory" in follows
    assert "check the standard itself" in follows


@pytest.mark.parametrize("name", menu())
def test_the_menu_is_our_own(name):
    assert rulebook_on_menu(name).follows == ""


@pytest.mark.parametrize("name", ALL)
def test_none_claims_to_conform_to_a_standard(name):
    text = rulebook_text(name).lower()
    assert "conform" not in text
    assert "complies" not in text


def test_strict_is_the_default_but_for_how_sure_it_asks_to_be():
    default, strict = rulebook_on_menu("default"), rulebook_on_menu("strict")
    assert strict.compound == replace(default.compound, met_when_sure=0.90)
    assert renamed(replace(strict, compound=default.compound), default) == default


def test_micro_judges_people_as_the_default_does():
    default, micro = rulebook_on_menu("default"), rulebook_on_menu("micro")
    same = replace(micro, panel=default.panel, start_up=default.start_up)
    assert renamed(same, default) == default


def test_micro_lets_a_compound_rest_on_one_of_three_people():
    panel = rulebook_on_menu("micro").panel
    assert (panel.quorum, panel.people_per_compound, panel.from_other_crews) == (3, 1, 1)


def test_plain_counts_windows_of_twelve_that_stand_apart():
    book = rulebook_on_menu("plain")
    assert book.compound == KOfNRule(right=10, of=12, leave_at=7, windows="apart", days=3)


def test_plain_asks_nothing_that_needs_the_estimate():
    book = rulebook_on_menu("plain")
    assert book.insensitive is None
    assert book.false_calls == FalseCallShare(ceiling=0.10, blanks=10, months=12)
    assert book.duplicates == DuplicateShare(share=0.75, pairs=6, months=12, asked_for=False)


def test_plain_allows_one_call_in_ten_blanks_as_the_default_does():
    assert rulebook_on_menu("plain").false_calls.ceiling == 1 / 10


@pytest.mark.parametrize(
    ("rate", "said"),
    [
        (0.9, "right 90 % of the time {} in 100"),
        (0.8, "at 80 % it is {},"),
        (0.7, "at 70 % {},"),
        (0.6, "at 60 % {},"),
        (0.5, "at 50 % {}."),
    ],
)
def test_the_sums_beside_the_plain_rulebook_are_right(rate, said):
    met = round(100 * float(binomial_tail(10, 12, rate)))
    assert said.format(met) in words_of_comments("plain")


def test_the_share_that_plain_puts_out_by_bad_luck_is_right():
    not_met = 1 - float(binomial_tail(8, 12, 0.8))
    assert f"{100 * not_met:.0f} in 100 have seven or fewer" in words_of_comments("plain")


def test_what_a_pass_mark_on_duplicates_would_do_is_right():
    agree = 0.8**2 + 0.2**2
    fails = 1 - float(binomial_tail(5, 6, agree))
    assert f"fails {100 * fails:.0f} in 100 of those right 80 %" in words_of_comments("plain")


def test_olive_oil_watches_ratings_over_at_most_six_months():
    book = rulebook_on_menu("olive_oil")
    assert book.duplicates == DuplicateDifference(at_most=2.0, pairs=6, months=6)
    assert book.deviation == DeviationRule(at_most=2.0, glasses=6, months=6, asked_for=False)


def test_olfactometry_asks_for_thresholds_within_a_factor_of_two():
    rule = ThresholdRule(
        lowest=0.5,
        highest=2.0,
        spread_at_most=2.3,
        estimates=10,
        days=3,
        last_estimates=20,
        months=12,
    )
    assert rulebook_on_menu("olfactometry").compound == rule


def test_triangles_go_on_until_two_lines_decide():
    rule = SequentialRule(
        methods=("triangle",), poor=0.333, good=0.68, wrongly_met=0.05, wrongly_not_met=0.10
    )
    assert rulebook_on_menu("triangles").compound == rule


def test_matching_asks_for_four_kinds_of_test():
    book = rulebook_on_menu("matching")
    assert book.compound == ShareRule(share=0.80, glasses=5, days=2)
    assert [(rule.name, rule.rule.share, rule.over) for rule in book.also] == [
        ("Triangles", 1.0, "together"),
        ("Naming", 0.65, "together"),
    ]
    assert book.order == OrderRule(swaps_at_most=1, series=2, months=12)


def test_five_kinds_of_rule_on_a_compound_are_shown():
    shown = {type(rulebook_on_menu(name).compound).__name__ for name in ALL}
    assert shown == {"ChanceRule", "KOfNRule", "ShareRule", "SequentialRule", "ThresholdRule"}
