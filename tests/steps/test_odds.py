"""What a rulebook does to people: its rules, the seat and the panel."""

from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from scipy.stats import binom

from seatworthy.rules.compound_rules import AlsoRule, ShareRule, ThresholdRule
from seatworthy.rules.person_rules import (
    DeviationRule,
    DuplicateDifference,
    KnowsBeerRule,
    OrderRule,
)
from seatworthy.rules.reading import rulebook_on_menu
from seatworthy.rules.rulebook import Asked, StartUpRule
from seatworthy.steps.odds import rule_odds
from seatworthy.steps.odds_words import of_ten

DEFAULT = rulebook_on_menu("default")
CRITICAL = DEFAULT.critical


def odds_of(book=DEFAULT, glasses=8, sessions=10, blanks=40, people=9):
    return rule_odds(book, glasses, sessions, blanks, people, CRITICAL)


@pytest.fixture(scope="module")
def at_eight():
    return odds_of()


def test_three_glasses_a_year_decide_nothing():
    rule = odds_of(glasses=3).rules[0]
    assert {row.too_little_at_end for row in rule.rows} == {1.0}
    assert "it decides nothing" in rule.sentence


def test_a_better_namer_is_met_more_often_and_not_met_less_often(at_eight):
    rows = at_eight.rules[0].rows
    met, bad = [row.met_at_end for row in rows], [row.not_met_at_end for row in rows]
    assert met == sorted(met)
    assert bad == sorted(bad, reverse=True)


def test_every_row_adds_up_and_ever_is_no_less_than_at_the_end(at_eight):
    for rule in at_eight.rules:
        for row in rule.rows:
            total = row.met_at_end + row.not_met_at_end + row.too_little_at_end
            assert total == pytest.approx(1, abs=1e-9)
            assert row.ever_met >= row.met_at_end - 1e-12
            assert row.ever_not_met >= row.not_met_at_end - 1e-12


def test_every_rule_of_the_default_is_there_but_attendance(at_eight):
    assert [rule.kind for rule in at_eight.rules] == ["chance", "false_calls", "duplicates"]
    assert [rule.asked_for for rule in at_eight.rules] == [True, True, False]


def test_of_ten_who_guess_none_would_meet_the_default(at_eight):
    assert at_eight.rules[0].sentence == (
        "Of ten people who guess, none would meet it within a year; "
        "of ten who name 85 in 100, seven."
    )


def test_the_seat_rests_on_the_single_rules(at_eight):
    """Four of six met and at most one not met; the group of two is met where one of it is."""
    row, good = at_eight.rules[0].rows[3], at_eight.seat[2]
    met, bad = row.met_at_end, row.not_met_at_end
    chances = [(met, bad)] * 5 + [(1 - (1 - met) ** 2, bad**2)]
    truth = 0.0
    for fates in product("mno", repeat=6):
        if fates.count("m") >= 4 and fates.count("n") <= 1:
            truth += np.prod([
                {"m": up, "n": down, "o": 1 - up - down}[fate]
                for fate, (up, down) in zip(fates, chances, strict=True)
            ])  # fmt: skip
    assert good.critical_met == pytest.approx(truth, abs=1e-9)
    false_calls = at_eight.rules[1].rows[3].met_at_end
    assert good.seat == pytest.approx(truth * false_calls, abs=1e-9)


def test_a_guesser_gets_no_seat_and_a_good_namer_mostly_does(at_eight):
    guesser, poor, good = at_eight.seat
    assert guesser.seat < 1e-6
    assert poor.seat < 0.01
    assert good.seat > 0.7


def test_the_start_up_seats_more(at_eight):
    for row in at_eight.seat[1:]:
        assert row.start_up_seat > row.seat
    asking_as_much = replace(DEFAULT, start_up=StartUpRule(4, DEFAULT.seat.critical_met))
    for row in odds_of(asking_as_much, glasses=4).seat:
        assert row.start_up_seat == row.seat
    assert odds_of(replace(DEFAULT, start_up=None), glasses=4).seat[2].start_up_seat is None


def test_a_panel_smaller_than_its_quorum_can_never_sit():
    assert odds_of(glasses=4, people=DEFAULT.panel.quorum - 1).panel.can_sit == 0
    assert odds_of(glasses=4, people=DEFAULT.panel.quorum).panel.can_sit > 0


def test_seats_are_people_times_the_chance_of_one(at_eight):
    assert at_eight.panel.seats == pytest.approx(9 * at_eight.seat[2].seat)
    assert at_eight.panel.unable_to_sit == pytest.approx(1 - at_eight.panel.can_sit)


def also(over, asked_for=True, met_in=0):
    rule = ShareRule(methods=("triangle",), share=0.6, glasses=4)
    return AlsoRule("Triangles", rule, over, ("dms", "t2n"), met_in, asked_for)


@pytest.mark.parametrize(("met_in", "of_both"), [(0, 2), (2, 2), (1, 1)])
def test_a_further_rule_is_asked_for_in_so_many_compounds(at_eight, met_in, of_both):
    found = odds_of(replace(DEFAULT, also=(also("each", met_in=met_in),)))
    each = found.rules[1].rows[3].met_at_end
    share = each**2 if of_both == 2 else 1 - (1 - each) ** 2
    assert found.seat[2].others == pytest.approx(at_eight.seat[2].others * share, abs=1e-9)


def test_a_further_rule_over_all_together_has_all_their_glasses(at_eight):
    found = odds_of(replace(DEFAULT, also=(also("together"),)))
    truth = binom.sf(9, 16, 0.85)
    assert found.rules[1].rows[3].met_at_end == pytest.approx(truth, abs=1e-9)
    assert found.seat[2].others == pytest.approx(at_eight.seat[2].others * truth, abs=1e-9)


def test_a_further_rule_that_is_only_shown_costs_nobody_a_seat(at_eight):
    found = odds_of(replace(DEFAULT, also=(also("each", asked_for=False),)))
    assert [row.seat for row in found.seat] == [row.seat for row in at_eight.seat]
    assert found.rules[1].asked_for is False


def test_without_false_calls_in_the_book_nobody_fails_by_them():
    found = odds_of(replace(DEFAULT, false_calls=None), glasses=4)
    assert {row.others for row in found.seat} == {1.0}
    assert "false calls" not in {rule.rule for rule in found.rules}


def test_nothing_poured_decides_nothing():
    for found in (odds_of(glasses=0, blanks=0), odds_of(sessions=0)):
        assert max(row.ever_met for rule in found.rules[:2] for row in rule.rows) == 0
        assert found.panel.can_sit == 0


def test_a_part_of_a_glass_is_taken_to_the_nearest_whole():
    assert odds_of(glasses=0.4).glasses == 0
    assert odds_of(glasses=0.6).glasses == 1


def test_negative_numbers_are_refused():
    with pytest.raises(ValueError, match="must not be negative"):
        odds_of(people=-1)


@pytest.mark.parametrize(
    ("chance", "words"),
    [(0.0049, "none"), (0.0051, "hardly any"), (0.049, "hardly any"), (0.051, "one"),
     (0.64, "six"), (0.949, "nine"), (0.951, "nearly all"), (0.9951, "all")],
)  # fmt: skip
def test_a_chance_is_said_of_ten_people(chance, words):
    assert of_ten(chance) == words


THRESHOLDS = ThresholdRule(0.5, 2.0, 2.3, estimates=5, days=3, last_estimates=10, months=12)


def test_rows_go_from_the_worst_to_the_best_in_every_rule_but_flags():
    book = replace(
        DEFAULT,
        compound=THRESHOLDS,
        duplicates=DuplicateDifference(at_most=2.0, pairs=3, months=12),
        deviation=DeviationRule(at_most=2.0, glasses=3, months=12),
        order=OrderRule(swaps_at_most=0, series=2, months=12),
    )
    found = odds_of(book, glasses=10)
    kinds = [rule.kind for rule in found.rules]
    assert kinds == ["threshold", "false_calls", "duplicates", "deviation", "order"]
    for rule in found.rules:
        met = [row.met_at_end for row in rule.rows]
        assert met == sorted(met)
        assert met[0] < 0.2 < met[-1]


def test_ratings_cost_nobody_a_seat_in_the_odds_and_it_is_said(at_eight):
    order = OrderRule(swaps_at_most=0, series=2, months=12)
    found = odds_of(replace(DEFAULT, order=order))
    assert [row.seat for row in found.seat] == [row.seat for row in at_eight.seat]
    assert "ratings are taken as met" in found.seat_assumed


def test_the_rate_asked_stands_in_the_table_once_also_where_it_is_one_of_the_others():
    rules = odds_of(replace(DEFAULT, asked=Asked(named_right=0.85)), glasses=4).rules
    assert [row.truth for row in rules[0].rows] == [1 / 12, 0.5, 0.85, 0.95]
    rules = odds_of(replace(DEFAULT, asked=Asked(named_right=0.60)), glasses=4).rules
    assert [row.truth for row in rules[0].rows] == [1 / 12, 0.5, 0.6, 0.85, 0.95]


def test_shorter_windows_of_months_hold_fewer_glasses():
    shorter = replace(DEFAULT, counted=replace(DEFAULT.counted, months=2))
    assert {row.too_little_at_end for row in odds_of(shorter, glasses=6).rules[0].rows} == {1.0}
    assert odds_of(glasses=6).rules[0].rows[-1].met_at_end > 0.5


def test_knowing_a_beer_is_taken_as_met_and_said_to_be():
    rule = KnowsBeerRule(apart=1.0, sure=0.8, own_glasses=6, other_glasses=6, months=12)
    asked = replace(DEFAULT, knows_beer=rule)
    shown = replace(asked, knows_beer=replace(rule, asked_for=False))
    words = [odds_of(book).seat_assumed for book in (asked, shown)]
    assert ["Knowing a beer is taken as met" in one for one in words] == [True, False]
