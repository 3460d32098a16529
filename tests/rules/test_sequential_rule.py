from datetime import timedelta

import pytest
from poured_glasses import COUNTED, FIRST, TODAY, row

from seatworthy.rules.compound_rules import SequentialRule
from seatworthy.rules.counting import last_day_counted
from seatworthy.rules.sequential import judge_sequential
from seatworthy.rules.verdict import Standing

# Lines by hand: ln(.9/.1) / (ln 4 + ln 4) = .7925 at no answers, slope 1/2: two answers of one
# kind more than of the other end a run.
RULE = SequentialRule(poor=0.2, good=0.8, wrongly_met=0.1, wrongly_not_met=0.1)


def judged(pattern, today=TODAY, rule=RULE, **kind):
    return judge_sequential(row(pattern, **kind), today, rule, COUNTED)


@pytest.mark.parametrize(
    ("pattern", "standing"),
    [
        ("1", Standing.TOO_LITTLE),
        ("11", Standing.MET),
        ("0", Standing.TOO_LITTLE),
        ("00", Standing.NOT_MET),
        ("1010101", Standing.TOO_LITTLE),
        ("10101011", Standing.MET),
        ("01010100", Standing.NOT_MET),
    ],
)
def test_a_run_ends_on_its_line_and_not_before(pattern, standing):
    assert judged(pattern).standing is standing


@pytest.mark.parametrize(
    ("pattern", "standing"),
    [("1100", Standing.NOT_MET), ("0011", Standing.MET), ("110", Standing.MET)],
)
def test_a_new_run_starts_when_one_ends_and_the_last_that_ended_decides(pattern, standing):
    assert judged(pattern).standing is standing


def test_an_open_run_says_go_on_beside_the_one_that_decided():
    found = judged("110")
    assert found.verdict.sentence == (
        "A run of 2 glasses ended on 5 January 2026 with 2 named right. "
        "0 of 1 named right in the open run (too few to meet it yet, too few to fail it yet): "
        "go on."
    )
    assert not found.is_fresh


def test_an_open_run_says_which_numbers_would_end_it():
    assert judged("101").verdict.sentence == (
        "2 of 3 named right in the open run (3 would meet it, 0 would not): go on."
    )


def test_a_run_that_has_just_ended_is_fresh_and_dated():
    found = judged("1011", per_day=1)
    assert (found.met_on, found.is_fresh) == (FIRST + timedelta(days=21), True)
    assert found.behind == ("s000", "s001", "s002", "s003")


@pytest.mark.parametrize("pattern", ["11", "00"])
def test_what_a_run_decided_lapses_after_the_months(pattern):
    last = last_day_counted(FIRST, 12)
    assert judged(pattern, last).standing is not Standing.TOO_LITTLE
    lapsed = judged(pattern, last + timedelta(days=1))
    assert lapsed.standing is Standing.TOO_LITTLE
    assert "What a run decided on 5 January 2026 has lapsed" in lapsed.verdict.sentence


def test_a_run_over_several_days_lapses_with_its_last_glass():
    glasses = row("1011", per_day=1)
    last = last_day_counted(glasses[-1].day, 12)
    assert judge_sequential(glasses, last, RULE, COUNTED).standing is Standing.MET
    lapsed = judge_sequential(glasses, last + timedelta(days=1), RULE, COUNTED)
    assert lapsed.verdict.sentence.startswith("What a run decided on 26 January 2026 has lapsed.")


def test_a_number_exactly_on_a_line_is_said_to_reach_it():
    """By hand: ln(16) / (2 ln 4) = 1 at no answers, slope 1/2: 2 and 0 of 2 are on the lines."""
    rule = SequentialRule(poor=0.2, good=0.8, wrongly_met=1 / 17, wrongly_not_met=1 / 17)
    sentence = judged("10", rule=rule).verdict.sentence
    assert sentence == "1 of 2 named right in the open run (2 would meet it, 0 would not): go on."


def test_runs_stay_cut_as_they_were_while_old_glasses_leave_the_months():
    """The first glass alone, once gone, would turn 0 11 00 into 11 00."""
    glasses = row("01100", per_day=1, days_apart=30)
    later = last_day_counted(FIRST, 12) + timedelta(days=1)
    before = judge_sequential(glasses, glasses[-1].day, RULE, COUNTED)
    assert judge_sequential(glasses, later, RULE, COUNTED) == before


def test_behind_an_undecided_rule_stands_the_open_run():
    assert judged("101").behind == ("s000", "s001", "s002")


def test_behind_a_decided_rule_stands_the_run_that_decided():
    assert judged("00110").behind == ("s002", "s003")
