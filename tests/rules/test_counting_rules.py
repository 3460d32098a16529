from dataclasses import replace
from datetime import date, timedelta
from itertools import product
from random import Random

import duckdb
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from poured_glasses import COUNTED, FIRST, TODAY, estimates, glass, row

from seatworthy.rules.by_counting import (
    Question,
    Way,
    judge_by_counting,
    poured,
    question,
    shortest_way,
    way_text,
)
from seatworthy.rules.compound_rules import (
    ChanceRule,
    Glasses,
    GuessingRule,
    KOfNRule,
    SequentialRule,
    ShareRule,
    ThresholdRule,
)
from seatworthy.rules.counting import (
    first_day_counted,
    glasses_that_count,
    last_day_counted,
    limit_text,
    number_beside,
    percent_beside,
)
from seatworthy.rules.verdict import Standing

SHARE = ShareRule(share=0.7, glasses=5, days=2)
APART = KOfNRule(right=4, of=5, leave_at=2, windows="apart", days=2)
SLIDING = KOfNRule(right=3, of=4, leave_at=1, windows="sliding")
GUESSING = GuessingRule(methods=("triangle", "2afc"), improbable=0.05, glasses=4)
SEQUENTIAL = SequentialRule(poor=0.4, good=0.8, wrongly_met=0.1, wrongly_not_met=0.1)
BAND = ThresholdRule(
    lowest=0.5, highest=2.0, spread_at_most=2.3, estimates=4, days=3, last_estimates=6, months=12
)
RULES = [SHARE, APART, SLIDING, GUESSING, SEQUENTIAL, replace(SHARE, last_sessions=2)]


def kind_of(rule):
    return {"method": "triangle"} if isinstance(rule, GuessingRule) else {}


def judged(glasses, rule, today=TODAY):
    return judge_by_counting(glasses, (), today, rule, COUNTED)


def asked(glasses, rule, today=TODAY):
    return question(glasses, (), today, rule, COUNTED)


def days_of(glasses):
    return [one.day for one in glasses]


# Which glasses count


@pytest.mark.parametrize(
    ("level", "counts"),
    [(2.0, True), (1.999999, False), (4.0, True), (4.000001, False), (1.9999999, True),
     (4.0000004, True)],
)  # fmt: skip
def test_both_levels_count_and_levels_are_rounded_to_six_places(level, counts):
    found = glasses_that_count([glass(level=level)], TODAY, Glasses(), COUNTED)
    assert bool(found) is counts


def test_the_levels_and_months_of_a_rule_go_before_those_of_the_rulebook():
    own = Glasses(lowest_level=5.0, highest_level=6.0, months=1)
    glasses = [glass(1, TODAY, level=3.0), glass(2, TODAY, level=5.5), glass(3, FIRST, level=5.5)]
    assert glasses_that_count(glasses, TODAY, own, COUNTED) == (glasses[1],)


def test_only_the_methods_of_the_rule_count():
    glasses = [glass(1), glass(2, method="triangle"), glass(3, method="2afc")]
    assert glasses_that_count(glasses, TODAY, Glasses(), COUNTED) == (glasses[0],)
    forced = Glasses(methods=("triangle",))
    assert glasses_that_count(glasses, TODAY, forced, COUNTED) == (glasses[1],)


@pytest.mark.parametrize(
    ("day", "counts"),
    [
        (date(2025, 6, 2), True),
        (date(2025, 6, 1), False),
        (TODAY, True),
        (TODAY + timedelta(days=1), False),
    ],
)
def test_the_window_of_twelve_months_ends_today_and_holds_both_its_ends(day, counts):
    assert bool(glasses_that_count([glass(day=day)], TODAY, Glasses(), COUNTED)) is counts


def test_the_latest_sessions_are_told_by_distinct_days():
    glasses = row("11111", per_day=2)
    found = glasses_that_count(glasses, TODAY, Glasses(last_sessions=2), COUNTED)
    assert found == tuple(glasses[2:])


def test_a_day_without_a_glass_that_counts_is_no_session():
    glasses = [*row("11", per_day=1), glass(9, TODAY, level=9.0)]
    found = glasses_that_count(glasses, TODAY, Glasses(last_sessions=2), COUNTED)
    assert found == tuple(glasses[:2])


def test_glasses_come_oldest_first_whatever_their_order():
    glasses = row("10110", per_day=2)
    shuffled = Random(3).sample(glasses, len(glasses))
    assert glasses_that_count(shuffled, TODAY, Glasses(), COUNTED) == tuple(glasses)


@given(st.dates(date(2020, 1, 1), date(2030, 12, 31)), st.integers(1, 60))
def test_a_day_counts_on_its_last_day_and_not_on_the_next(day, months):
    last = last_day_counted(day, months)
    assert first_day_counted(last, months) <= day
    assert first_day_counted(last + timedelta(days=1), months) > day


def test_the_window_begins_as_in_the_query_of_counted_glasses():
    """The frame of sql/queries/counted_glasses.sql: months back, then a day on."""
    days = [date(2023, 12, 28) + timedelta(days=n) for n in range(70)]
    connection = duckdb.connect()
    for months in (1, 6, 12):
        found = connection.execute(
            "select (day - (to_months($months) - to_days(1)))::date "
            "from (select unnest($days::date[]) as day)",
            {"days": days, "months": months},
        ).fetchall()
        assert [first_day_counted(day, months) for day in days] == [first for (first,) in found]


# How sentences say numbers


@pytest.mark.parametrize(
    ("share", "limit", "text"),
    [(16 / 23, 0.7, "69.6%"), (0.7, 0.7, "70%"), (0.75, 0.7, "75%"), (0.001, 0.05, "<1%")],
)
def test_a_share_just_beside_its_limit_is_said_with_a_decimal(share, limit, text):
    assert percent_beside(share, limit) == text


def test_a_limit_is_said_unrounded():
    assert (limit_text(0.55), limit_text(0.625), limit_text(0.0001)) == ("55%", "62.5%", "0.01%")


@pytest.mark.parametrize(
    ("number", "text"), [(2.3, "2.3"), (2.3004, "2.3004"), (2.31, "2.31"), (1.23456, "1.23")]
)
def test_a_number_just_beside_its_limit_is_said_with_more_digits(number, text):
    assert number_beside(number, 2.3) == text


# Until when


def test_a_share_stands_until_the_glass_leaves_without_which_it_is_not_met():
    glasses = row("11111", per_day=1, days_apart=30)
    found = judged(glasses, SHARE, glasses[-1].day)
    assert found.until == last_day_counted(FIRST, 12)


def test_a_miss_that_leaves_does_not_end_a_met():
    glasses = row("0111111", per_day=1, days_apart=30)
    today = glasses[-1].day
    assert judged(glasses, SHARE, today).until == last_day_counted(glasses[2].day, 12)


@pytest.mark.parametrize("rule", RULES)
def test_a_met_stands_on_its_last_day_and_not_on_the_next(rule):
    glasses = row("011111111", per_day=3, days_apart=60, **kind_of(rule))
    today = glasses[-1].day
    until = judged(glasses, rule, today).until
    assert until >= today
    assert judged(glasses, rule, until).standing is Standing.MET
    assert judged(glasses, rule, until + timedelta(days=1)).standing is not Standing.MET


def test_later_answers_do_not_lengthen_a_met():
    glasses = row("11111", per_day=1)
    later = [*glasses, glass(90, TODAY + timedelta(days=30))]
    assert judged(later, SHARE).until == judged(glasses, SHARE).until


def test_only_a_met_has_an_end():
    assert judged(row("00000"), SHARE).until is None


# The shortest way


@pytest.mark.parametrize("rule", [SHARE, APART, SLIDING, GUESSING, RULES[-1]])
@pytest.mark.parametrize("pattern", ["", "1", "0", "01", "0010", "10001", "010010"])
def test_no_fewer_glasses_and_no_fewer_right_would_meet_it(rule, pattern):
    """Brute force: every sequence of answers over every number of days, poured from tomorrow."""
    found = asked(row(pattern, **kind_of(rule)), rule)
    way = shortest_way(found)
    for glasses in range(1, way.glasses):
        for days, answers in product(range(1, glasses + 1), product((0, 1), repeat=glasses)):
            assert not found.is_met(*poured(found, glasses, days, answers.__getitem__))
    best = min(
        sum(answers)
        for answers in product((0, 1), repeat=way.glasses)
        if found.is_met(*poured(found, way.glasses, way.days, answers.__getitem__))
    )
    assert best == way.right


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize("pattern", ["", "0", "01", "00100", "0000000000"])
def test_the_shortest_way_truly_meets_it(rule, pattern):
    found = asked(row(pattern, **kind_of(rule)), rule)
    way = shortest_way(found)
    answers, day = poured(found, way.glasses, way.days, lambda n: n >= way.glasses - way.right)
    glasses = [*found.evidence, *answers]
    assert judged(glasses, rule, day).standing is Standing.MET


@pytest.mark.parametrize("pattern", ["", "0", "0101", "00100"])
def test_no_fewer_right_in_a_row_would_end_a_sequential_run_well(pattern):
    found = asked(row(pattern), SEQUENTIAL)
    way = shortest_way(found)
    assert way.right == way.glasses
    assert not found.is_met(*poured(found, way.glasses - 1, 1, lambda _: True))


def test_the_way_is_said_with_glasses_days_levels_and_least_right():
    change = judged(row("11"), replace(SHARE, days=3)).verdict.change
    assert change == (
        "3 more glasses at 2× to 4× over 2 more days, at least 2 of them named right, could meet "
        "it."
    )


def test_a_day_that_cannot_be_today_is_asked_for():
    change = judged(row("1111", per_day=4, first=TODAY), SHARE).verdict.change
    assert change == "1 more glass at 2× to 4× over 1 more day, right or not, could meet it."


def test_one_more_glass_on_a_day_that_may_be_today_is_said_so():
    glasses = [*row("1110", per_day=2, first=TODAY - timedelta(days=7))]
    change = judged(glasses, SHARE, TODAY).verdict.change
    assert change == "1 more glass named right at 2× to 4× could meet it."


def test_a_glass_that_may_be_missed_is_called_right_or_not():
    change = judged(row("1111", per_day=1), SHARE).verdict.change
    assert change == "1 more glass at 2× to 4×, right or not, could meet it."


def test_the_last_so_many_are_named_where_the_order_matters():
    asked_for = asked((), SLIDING)
    way = Way(glasses=5, days=1, right=3, in_any_order=False, on_other_days=False)
    assert way_text(way, asked_for) == "5 more glasses at 2× to 4×, the last 3 named right,"


def test_only_the_last_of_them_need_be_right_where_the_first_end_a_lost_window():
    change = judged(row("0010"), APART).verdict.change
    assert change == (
        "6 more glasses at 2× to 4× over 2 more days, the last 4 named right, could meet it."
    )


def test_a_window_on_many_days_is_reached_after_a_lost_one():
    rule = replace(APART, days=5)
    found = asked(row("00"), rule)
    way = shortest_way(found)
    assert way.glasses == 8
    assert found.is_met(*poured(found, 8, way.days, lambda n: n >= 8 - way.right))


def test_a_large_window_is_reached_after_a_lost_one():
    rule = KOfNRule(right=45, of=50, leave_at=20, windows="apart")
    assert shortest_way(asked(row("000000"), rule)).glasses == 44 + 50


def test_sets_are_called_sets():
    change = judged(row("11", method="triangle"), replace(GUESSING, glasses=5)).verdict.change
    assert change == "3 more sets at 2× to 4×, at least 2 of them right, could meet it."


def test_a_not_met_is_trained_first():
    change = judged(row("10000"), SHARE).verdict.change
    assert change.startswith("Train first; then ")


@pytest.mark.parametrize(
    ("right", "of", "more"),
    [(0, 17, 40), (4, 23, None)],
)
def test_forty_right_in_a_row_are_a_way_and_forty_one_are_not(right, of, more):
    """By hand: (0 + 40) / (17 + 40) = .702; (4 + 41) / (23 + 41) = .703, with 40 it is .698."""
    assert judged(row("1" * right + "0" * (of - right)), SHARE).more_right == more


def test_a_very_long_way_is_no_way():
    change = judged(row("0" * 40), SHARE).verdict.change
    assert change == "More than 40 named right in a row would be needed: train first."


def test_estimates_near_the_middle_of_the_band_are_the_way_of_a_threshold():
    found = judge_by_counting((), estimates(1.0, 1.2), TODAY, BAND, COUNTED)
    assert found.verdict.change == "2 more estimates near 1×, one a day, could meet it."


def test_a_single_estimate_is_asked_for_on_any_day():
    found = judge_by_counting((), estimates(1.0, 1.2, 0.9), TODAY, BAND, COUNTED)
    assert found.verdict.change == "1 more estimate near 1× could meet it."


def test_a_threshold_outside_its_band_is_not_to_be_trained():
    found = judge_by_counting((), estimates(0.3, 0.3, 0.3, 0.3), TODAY, BAND, COUNTED)
    assert found.standing is Standing.NOT_MET
    assert found.verdict.change == "3 more estimates near 1×, one a day, could meet it."


def test_the_way_of_a_threshold_truly_meets_it_and_no_shorter_one_does():
    found = question((), estimates(4.0, 4.0, 4.0, 4.0), TODAY, BAND, COUNTED)
    way = shortest_way(found)
    assert found.is_met(*poured(found, way.glasses, way.days, bool))
    assert not found.is_met(*poured(found, way.glasses - 1, way.days - 1, bool))


def test_the_number_of_further_glasses_is_kept_beside_the_sentence():
    assert judged(row("11"), SHARE).more_right == 3
    assert judged(row("0" * 40), SHARE).more_right is None
    assert judged(row("11111"), SHARE).more_right is None


# All kinds


@pytest.mark.parametrize("rule", RULES)
def test_without_a_glass_there_is_too_little_evidence(rule):
    found = judged((), rule)
    assert found.standing is Standing.TOO_LITTLE
    assert "counted yet" in found.verdict.sentence
    assert (found.met_on, found.until, found.is_fresh, found.behind) == (None, None, False, ())


def test_a_rule_of_chance_does_not_count():
    chance = ChanceRule(0.85, 4, 2, 0.05, 6, 26, 0.5)
    with pytest.raises(ValueError, match="A rule that counts .* found ChanceRule"):
        judged((), chance)


PATTERNS = st.text("01", max_size=14)


@settings(max_examples=25, deadline=None)
@given(PATTERNS, st.integers(1, 4), st.randoms(use_true_random=False), st.sampled_from(RULES))
def test_the_order_in_which_glasses_are_handed_over_does_not_matter(pattern, per_day, dice, rule):
    glasses = row(pattern, per_day, **kind_of(rule))
    shuffled = dice.sample(glasses, len(glasses))
    assert judged(shuffled, rule) == judged(glasses, rule)


@settings(max_examples=60, deadline=None)
@given(PATTERNS.filter(lambda p: "0" in p), st.sampled_from([SHARE, APART, SLIDING, GUESSING]))
def test_a_miss_turned_right_never_ends_a_met(pattern, rule):
    better = pattern.replace("0", "1", 1)
    if _standing(pattern, rule) is Standing.MET:
        assert _standing(better, rule) is Standing.MET


@settings(max_examples=60, deadline=None)
@given(PATTERNS, st.sampled_from([SHARE, GUESSING]))
def test_a_right_one_more_on_the_same_day_never_ends_a_met(pattern, rule):
    if _standing(pattern, rule) is Standing.MET:
        assert _standing(pattern + "1", rule, per_day=len(pattern) // 2 + 1) is Standing.MET


@settings(max_examples=60, deadline=None)
@given(st.text("01", min_size=5, max_size=5), st.sampled_from(["apart", "sliding"]))
def test_a_right_one_more_never_ends_the_met_of_a_single_window(pattern, windows):
    rule = replace(APART, windows=windows, days=1)
    glasses = row(pattern, per_day=5)
    if Question(glasses, TODAY, rule, COUNTED).is_met():
        more = [*glasses, glass(99, glasses[-1].day)]
        assert Question(more, TODAY, rule, COUNTED).is_met()


def _standing(pattern, rule, per_day=None):
    """Standing on one day or two, so that a glass more stays on a day that has one."""
    per_day = per_day or len(pattern) // 2 + 1
    glasses = row(pattern, per_day, **kind_of(rule))
    return Question(glasses, TODAY, rule, COUNTED).judged().standing
