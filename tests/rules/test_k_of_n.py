from dataclasses import replace
from datetime import timedelta

import pytest
from poured_glasses import COUNTED, FIRST, TODAY, row

from seatworthy.rules.compound_rules import KOfNRule
from seatworthy.rules.counting import glasses_that_count, last_day_counted
from seatworthy.rules.k_of_n import judge_k_of_n
from seatworthy.rules.verdict import Standing

APART = KOfNRule(right=4, of=5, leave_at=2, windows="apart")
SLIDING = KOfNRule(right=4, of=5, leave_at=2, windows="sliding")
BOTH = pytest.mark.parametrize("rule", [APART, SLIDING], ids=["apart", "sliding"])


def judged(pattern, rule, today=TODAY, **kind):
    return judge_k_of_n(row(pattern, **kind), today, rule, COUNTED)


@BOTH
@pytest.mark.parametrize(
    ("pattern", "standing"),
    [
        ("11110", Standing.MET),
        ("11100", Standing.TOO_LITTLE),
        ("11000", Standing.NOT_MET),
        ("1111", Standing.TOO_LITTLE),
    ],
)
def test_a_full_window_is_met_left_or_between(rule, pattern, standing):
    assert judged(pattern, rule).standing is standing


@BOTH
@pytest.mark.parametrize("first", ["11110", "11000"])
def test_between_the_two_numbers_a_standing_stays_what_it_was(rule, first):
    before = judged(first, rule, per_day=5).standing
    assert judged(f"{first}11100", rule, per_day=5).standing is before


@BOTH
def test_the_latest_window_that_decides_gives_the_standing(rule):
    assert judged("1111111000", rule, per_day=5).standing is Standing.NOT_MET
    assert judged("0000011110", rule, per_day=5).standing is Standing.MET


def test_a_glass_counts_in_one_window_only_when_they_are_cut_apart():
    assert judged("000111110", APART, per_day=1).standing is Standing.NOT_MET
    assert judged("000111110", SLIDING, per_day=1).standing is Standing.MET


def test_sliding_windows_are_looked_at_after_a_day_and_not_after_each_glass():
    assert judged("111100", SLIDING, per_day=6).standing is Standing.TOO_LITTLE
    assert judged("111100", SLIDING, per_day=5).standing is Standing.MET


@BOTH
@pytest.mark.parametrize("pattern", ["11110", "11000"])
def test_a_standing_lapses_after_the_months_of_its_last_glass(rule, pattern):
    last = last_day_counted(FIRST, 12)
    found = judged(pattern, rule, last, per_day=5)
    assert found.standing is not Standing.TOO_LITTLE
    lapsed = judged(pattern, rule, last + timedelta(days=1), per_day=5)
    assert lapsed.standing is Standing.TOO_LITTLE
    assert lapsed.verdict.sentence == "What was found up to 5 January 2026 is too old to count."


def test_windows_between_do_not_lengthen_a_standing():
    after = row("1111011100", per_day=5, days_apart=30)
    last = last_day_counted(FIRST, 12)
    assert judge_k_of_n(after, last, APART, COUNTED).standing is Standing.MET
    day = last + timedelta(days=1)
    assert judge_k_of_n(after, day, APART, COUNTED).standing is Standing.TOO_LITTLE


def test_windows_apart_stay_cut_as_they_were_while_old_glasses_leave_the_months():
    glasses = row("000011111", per_day=1, days_apart=30)
    for day in (glasses[-1].day, last_day_counted(glasses[2].day, 12)):
        assert judge_k_of_n(glasses, day, APART, COUNTED).standing is Standing.NOT_MET


def test_a_sliding_window_holds_only_glasses_of_its_months():
    glasses = row("11111", per_day=1, days_apart=100)
    assert judge_k_of_n(glasses, glasses[-1].day, SLIDING, COUNTED).standing is Standing.TOO_LITTLE


@BOTH
@pytest.mark.parametrize(("per_day", "standing"), [(5, Standing.TOO_LITTLE), (4, Standing.MET)])
def test_a_window_on_too_few_days_decides_nothing(rule, per_day, standing):
    two_days = KOfNRule(right=4, of=5, leave_at=2, windows=rule.windows, days=2)
    assert judged("11111", two_days, per_day=per_day).standing is standing


def test_too_few_days_are_said():
    two_days = KOfNRule(right=4, of=5, leave_at=2, windows="apart", days=2)
    sentence = judged("11111", two_days, per_day=5).verdict.sentence
    assert sentence == (
        "5 of 5 glasses named right (on 5 January 2026), over 1 day; 2 days are asked for."
    )


def test_only_the_latest_sessions_hold_a_standing_up():
    two = KOfNRule(right=4, of=5, leave_at=2, windows="apart", last_sessions=2)
    assert judged("1111110", two, per_day=5).standing is Standing.MET
    assert judged("1111110", two, per_day=1).standing is Standing.TOO_LITTLE


def test_a_met_says_its_window_its_day_and_its_glasses():
    found = judged("1111011", APART, per_day=5)
    assert found.verdict.sentence == (
        "4 of 5 glasses named right (on 5 January 2026); 4 are asked for."
    )
    assert (found.met_on, found.is_fresh) == (FIRST, True)
    assert found.behind == ("s000", "s001", "s002", "s003", "s004")


def test_a_met_that_only_stays_says_until_when():
    found = judged("1111011100", APART, per_day=5)
    assert not found.is_fresh
    assert found.verdict.sentence == (
        "4 of 5 glasses named right (on 5 January 2026); 4 are asked for. "
        "It stands until 4 January 2027: 3 of the latest 5 change nothing."
    )


def test_a_window_over_several_days_is_met_on_its_last():
    found = judged("1111011100", APART, per_day=2)
    assert found.met_on == FIRST + timedelta(days=14)
    assert found.verdict.sentence == (
        "4 of 5 glasses named right (5 January 2026 to 19 January 2026); 4 are asked for. "
        "It stands until 18 January 2027: 3 of the latest 5 change nothing."
    )


def test_a_window_over_several_days_lapses_with_its_last_glass():
    glasses = row("11110", per_day=2)
    last = last_day_counted(glasses[-1].day, 12)
    assert judge_k_of_n(glasses, last, APART, COUNTED).standing is Standing.MET
    lapsed = judge_k_of_n(glasses, last + timedelta(days=1), APART, COUNTED)
    assert lapsed.verdict.sentence == "What was found up to 19 January 2026 is too old to count."


def test_a_not_met_says_both_numbers():
    found = judged("11000", APART, per_day=5)
    assert found.verdict.sentence == (
        "2 of 5 glasses named right (on 5 January 2026); 4 meet it, 2 or fewer do not."
    )
    assert len(found.behind) == 5


def test_an_old_window_that_lapsed_leaves_the_open_one():
    glasses = [*row("11111", per_day=5), *row("10", first=TODAY, per_day=5)]
    day = last_day_counted(FIRST, 12) + timedelta(days=1)
    sentence = judge_k_of_n(glasses, day, APART, COUNTED).verdict.sentence
    assert sentence == "1 of 2 glasses named right so far; judged on a full window of 5."


def test_an_open_window_is_said_with_its_glasses():
    found = judged("110", APART)
    assert found.verdict.sentence == (
        "2 of 3 glasses named right so far; judged on a full window of 5."
    )
    assert found.behind == ("s000", "s001", "s002")


def test_a_number_in_between_is_said_to_decide_nothing():
    sentence = judged("11100", APART, per_day=5).verdict.sentence
    assert sentence.endswith("4 meet it, 2 or fewer do not, between the two nothing is decided.")


def test_one_number_may_be_both_limits():
    bare = KOfNRule(right=4, of=5, leave_at=3, windows="apart")
    assert judged("11110", bare).standing is Standing.MET
    assert judged("11100", bare).standing is Standing.NOT_MET


def test_glasses_of_one_session_are_counted_in_the_order_in_which_they_were_served():
    glasses = zip(row("1100", per_day=4), "dcba", (1, 2, 3, 4), strict=True)
    session = [replace(one, serving=name, position=place) for one, name, place in glasses]
    counted = glasses_that_count(session, TODAY, APART, COUNTED)
    assert [one.is_right for one in counted] == [True, True, False, False]
