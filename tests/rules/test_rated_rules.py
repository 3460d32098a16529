from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seatworthy.rules.counting import last_day_counted
from seatworthy.rules.facts import RatedGlass, RatedPair, RatedSeries
from seatworthy.rules.person_rules import DeviationRule, DuplicateDifference, OrderRule
from seatworthy.rules.rated import judge_deviation, judge_difference, judge_order, swaps_in
from seatworthy.rules.verdict import Standing

DAY = date(2026, 2, 2)
TODAY = date(2026, 6, 1)
DIFFERENCE = DuplicateDifference(at_most=2.0, pairs=4, months=6)
DEVIATION = DeviationRule(at_most=2.0, glasses=4, months=6)
ORDER = OrderRule(swaps_at_most=1, series=2, months=6)


def pairs(*differences, day=DAY):
    return [RatedPair(day, 5.0, 5.0 + difference) for difference in differences]


def rated(*distances, day=DAY):
    return [RatedGlass(day, 4.0 + distance, 4.0) for distance in distances]


def series(*ratings, day=DAY):
    return RatedSeries(day, "dms", ratings)


# Hidden pairs and the distance from the median: means of squares


BOTH = pytest.mark.parametrize(
    ("judge", "made", "rule"),
    [(judge_difference, pairs, DIFFERENCE), (judge_deviation, rated, DEVIATION)],
    ids=["difference", "deviation"],
)


@BOTH
@pytest.mark.parametrize(
    ("squares", "standing"), [((2, 2, 0, 0), Standing.MET), ((2, 2, 0.1, 0), Standing.NOT_MET)]
)
def test_the_mean_square_may_reach_its_limit_and_not_pass_it(judge, made, rule, squares, standing):
    """By hand: (4 + 4 + 0 + 0) / 4 = 2, the limit."""
    assert judge(made(*squares), TODAY, rule).standing is standing


@BOTH
@pytest.mark.parametrize("value", [0.0, 9.0])
def test_few_ratings_are_too_little_evidence_however_good_or_bad(judge, made, rule, value):
    assert judge(made(value, value, value), TODAY, rule).standing is Standing.TOO_LITTLE
    assert judge(made(*[value] * 4), TODAY, rule).standing is not Standing.TOO_LITTLE


@BOTH
def test_the_sign_of_a_difference_does_not_matter(judge, made, rule):
    ahead, back = made(1, 2, 1, 1), made(-1, 2, -1, 1)
    assert judge(ahead, TODAY, rule) == judge(back, TODAY, rule)


@BOTH
def test_ratings_count_for_the_months_of_the_rule(judge, made, rule):
    last = last_day_counted(DAY, 6)
    assert judge(made(0, 0, 0, 0), last, rule).standing is Standing.MET
    late = last + timedelta(days=1)
    assert judge(made(0, 0, 0, 0), late, rule).standing is Standing.TOO_LITTLE


@BOTH
def test_ratings_of_the_day_asked_count(judge, made, rule):
    assert judge(made(0, 0, 0, 0), DAY, rule).standing is Standing.MET


@BOTH
def test_later_ratings_do_not_count(judge, made, rule):
    later = made(9, day=TODAY + timedelta(days=1))
    assert judge([*made(0, 0, 0, 0), *later], TODAY, rule).standing is Standing.MET


@BOTH
@settings(max_examples=25, deadline=None)
@given(st.lists(st.integers(-4, 4), max_size=9))
def test_the_way_is_the_fewest_further_ratings_at_best(judge, made, rule, found):
    verdict = judge(made(*found), TODAY, rule)
    if verdict.standing is Standing.MET:
        assert verdict.change == ""
        return
    more = int(verdict.change.split()[0])
    assert judge(made(*found, *[0] * more), TODAY, rule).standing is Standing.MET
    fewer = judge(made(*found, *[0] * (more - 1)), TODAY, rule)
    assert fewer.standing is not Standing.MET


def test_a_difference_says_its_mean_its_limit_and_its_way():
    verdict = judge_difference(pairs(2, 2, 2, 1), TODAY, DIFFERENCE)
    assert verdict.rule == "duplicates"
    assert verdict.sentence == "Mean squared difference of 4 hidden pairs 3.25; at most 2."
    assert verdict.change == "3 more hidden pairs without a difference could meet it."


def test_a_deviation_says_its_mean_its_limit_and_its_way():
    verdict = judge_deviation(rated(2, 2, 1, 0, 0.1), TODAY, DeviationRule(1.8, 4, 6))
    assert verdict.rule == "deviation"
    assert verdict.sentence == (
        "Mean squared distance from the panel's median of 5 rated glasses 1.802; at most 1.8."
    )
    assert verdict.change == "1 more rated glass on the median could meet it."


def test_few_pairs_are_counted():
    verdict = judge_difference(pairs(0), TODAY, DIFFERENCE)
    assert verdict.sentence == "1 hidden pair in 6 months; judged from 4 on."
    assert verdict.change == "3 more hidden pairs without a difference could meet it."


def test_rounding_of_a_square_does_not_pass_the_limit():
    """In floats (3.1 - 3.0) squared is a bit more than 0.01."""
    rule = DuplicateDifference(at_most=0.01, pairs=4, months=6)
    found = [RatedPair(DAY, 3.0, 3.1)] * 4
    assert judge_difference(found, TODAY, rule).standing is Standing.MET
    few = judge_difference(found[:3], TODAY, rule)
    assert few.change == "1 more hidden pair without a difference could meet it."


@pytest.mark.parametrize(
    ("differences", "way"), [((12, 8, 0, 0), "100 more"), ((14, 3, 2, 1), "More than 100")]
)
def test_a_hundred_further_pairs_are_a_way_and_more_are_not(differences, way):
    """By hand: 144 + 64 = 208 = 2 x 104; 196 + 9 + 4 + 1 = 210 = 2 x 105."""
    assert judge_difference(pairs(*differences), TODAY, DIFFERENCE).change.startswith(way)


def test_a_very_long_way_of_ratings_is_no_way():
    verdict = judge_difference(pairs(*[15] * 4), TODAY, DIFFERENCE)
    assert verdict.change == "More than 100 without a difference would be needed: train first."


# Order


@pytest.mark.parametrize(
    ("ratings", "swaps"),
    [((1, 2, 3), 0), ((1, 1, 3), 0), ((2, 1, 3), 1), ((3, 2, 1), 2), ((1, 3, 2, 4, 3), 2)],
)
def test_a_swap_is_a_stronger_neighbour_rated_lower(ratings, swaps):
    assert swaps_in(series(*ratings)) == swaps


@pytest.mark.parametrize(
    ("worst", "standing"), [((2, 1, 3), Standing.MET), ((3, 2, 1), Standing.NOT_MET)]
)
def test_the_worst_series_decides(worst, standing):
    assert judge_order([series(1, 2, 3), series(*worst)], TODAY, ORDER).standing is standing


@pytest.mark.parametrize("ratings", [(1, 2, 3), (3, 2, 1)])
def test_few_series_are_too_little_evidence(ratings):
    verdict = judge_order([series(*ratings)], TODAY, ORDER)
    assert verdict.standing is Standing.TOO_LITTLE
    assert verdict.sentence == "1 rated series in 6 months; judged from 2 on."
    assert verdict.change == ("1 more of three levels or more in ascending order could meet it.")


def test_a_series_of_two_levels_says_nothing():
    found = [series(1, 2, 3), series(2, 1)]
    assert judge_order(found, TODAY, ORDER).standing is Standing.TOO_LITTLE


def test_a_series_out_of_order_counts_until_it_leaves_its_months():
    found = [series(3, 2, 1), *[series(1, 2, 3, day=TODAY)] * 2]
    last = last_day_counted(DAY, 6)
    before = judge_order(found, last, ORDER)
    assert before.standing is Standing.NOT_MET
    assert before.change == (
        "The series of 2 February 2026 counts until 1 August 2026; after that 2 in order could "
        "meet it."
    )
    assert judge_order(found, last + timedelta(days=1), ORDER).standing is Standing.MET


def test_the_latest_series_out_of_order_says_until_when():
    found = [
        series(3, 2, 1),
        series(3, 2, 1, day=DAY + timedelta(days=7)),
        series(2, 1, 3, day=DAY + timedelta(days=14)),
    ]
    change = judge_order(found, TODAY, ORDER).change
    assert change.startswith("The series of 9 February 2026 counts until 8 August 2026;")


def test_the_order_says_its_swaps_and_their_day():
    verdict = judge_order([series(1, 2, 3), series(2, 1, 3)], TODAY, ORDER)
    assert verdict.sentence == (
        "1 swap of neighbours in the worst of 2 rated series, on 2 February 2026; 1 at most."
    )
