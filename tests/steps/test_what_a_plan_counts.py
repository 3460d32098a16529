"""Which levels and methods a plan says count, read from the rulebook."""

from dataclasses import replace
from decimal import Decimal

import pytest

from seatworthy.rules.compound_rules import AlsoRule, GuessingRule, KOfNRule
from seatworthy.rules.reading import rulebook_on_menu
from seatworthy.steps.plan_shelf import what_counts

GUESSING = GuessingRule(methods=("3afc", "triangle"), improbable=0.05, glasses=6)


@pytest.mark.parametrize("name", ["default", "strict", "micro", "plain"])
def test_glasses_to_be_named_count_at_the_levels_of_the_rulebook(name):
    assert what_counts(rulebook_on_menu(name)) == ((Decimal(2), Decimal(4)), ("naming",))


def test_series_that_give_thresholds_count_at_any_level():
    assert what_counts(rulebook_on_menu("olfactometry")) == (None, ("3afc",))


def test_a_rule_that_counts_names_its_methods():
    rule = KOfNRule(methods=("naming", "2afc"), right=7, of=10, leave_at=5, windows="sliding")
    book = replace(rulebook_on_menu("default"), compound=rule)
    assert what_counts(book)[1] == ("naming", "2afc")


@pytest.mark.parametrize(
    ("asked_for", "methods"), [(True, ("naming", "3afc", "triangle")), (False, ("naming",))]
)
def test_a_further_rule_counts_only_where_a_seat_asks_for_it(asked_for, methods):
    also = AlsoRule("Sets", GUESSING, "each", (), 0, asked_for)
    book = replace(rulebook_on_menu("default"), also=(also,))
    assert what_counts(book)[1] == methods
