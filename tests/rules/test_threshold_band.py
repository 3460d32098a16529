from dataclasses import replace
from datetime import timedelta
from math import sqrt

import pytest
from poured_glasses import COUNTED, FIRST, TODAY, estimates

from seatworthy.rules.compound_rules import ThresholdRule
from seatworthy.rules.counting import last_day_counted
from seatworthy.rules.threshold_band import estimates_that_count, judge_threshold, mean_and_spread
from seatworthy.rules.verdict import Standing

RULE = ThresholdRule(
    lowest=0.5, highest=2.0, spread_at_most=2.3, estimates=4, days=3, last_estimates=6, months=12
)


def judged(*thresholds, rule=RULE, today=TODAY, per_day=1):
    return judge_threshold(estimates(*thresholds, per_day=per_day), today, rule, COUNTED)


@pytest.mark.parametrize(
    ("mean", "standing"),
    [(0.5, Standing.MET), (0.4999, Standing.NOT_MET), (2.0, Standing.MET),
     (2.0001, Standing.NOT_MET)],
)  # fmt: skip
def test_the_mean_lies_in_the_band_both_limits_allowed(mean, standing):
    assert judged(mean, mean, mean, mean).standing is standing


@pytest.mark.parametrize(("factor", "standing"), [(2.3, Standing.MET), (2.3001, Standing.NOT_MET)])
def test_the_spread_is_the_antilog_of_the_standard_deviation(factor, standing):
    """Of two values f^2 apart each way the SD (n - 1) of 4 logs is log f x sqrt(4/3)."""
    step = factor ** (sqrt(3) / 2)
    assert judged(step, step, 1 / step, 1 / step).standing is standing


def test_rounding_in_the_logarithms_puts_no_mean_out_of_its_band():
    rule = replace(RULE, highest=1.87)
    assert judged(1.87, 1.87, 1.87, 1.87, rule=rule).standing is Standing.MET


@pytest.mark.parametrize(("number", "standing"), [(4, Standing.MET), (3, Standing.TOO_LITTLE)])
def test_fewer_estimates_are_too_little_evidence(number, standing):
    assert judged(*[1.0] * number).standing is standing


def test_fewer_estimates_out_of_the_band_are_too_little_evidence_too():
    assert judged(9.0, 9.0, 9.0).standing is Standing.TOO_LITTLE


@pytest.mark.parametrize(("per_day", "standing"), [(1, Standing.MET), (2, Standing.TOO_LITTLE)])
def test_fewer_days_are_too_little_evidence(per_day, standing):
    assert judged(1.0, 1.0, 1.0, 1.0, per_day=per_day).standing is standing


def test_only_the_latest_estimates_count():
    assert judged(9.0, *[1.0] * 6).standing is Standing.MET
    assert judged(9.0, *[1.0] * 5).standing is Standing.NOT_MET


def test_an_estimate_counts_for_the_months_of_the_rule():
    last = last_day_counted(FIRST, 12)
    assert judged(1.0, 1.0, 1.0, 1.0, today=last).standing is Standing.MET
    late = last + timedelta(days=1)
    assert judged(1.0, 1.0, 1.0, 1.0, today=late).standing is Standing.TOO_LITTLE


def test_a_later_estimate_does_not_count():
    assert estimates_that_count(estimates(1.0, 2.0), FIRST, RULE) == tuple(estimates(1.0))


def test_mean_and_spread_are_those_of_the_logarithms():
    """By hand: log10 of .1, 1, 10 is -1, 0, 1; mean 0, SD (n - 1) 1."""
    assert mean_and_spread(estimates(0.1, 1.0, 10.0)) == pytest.approx((1.0, 10.0))


def test_the_sentence_says_mean_spread_and_limits():
    assert judged(1.0, 1.0, 2.0, 2.0).verdict.sentence == (
        "Mean of 4 own thresholds 1.41×, 0.5× to 2× asked for; spread a factor 1.49, at most 2.3."
    )


@pytest.mark.parametrize(("mean", "text"), [(0.49996, "0.49996×"), (2.0004, "2.0004×")])
def test_a_mean_just_outside_the_band_is_said_with_more_digits(mean, text):
    assert f"thresholds {text}, 0.5× to 2×" in judged(*[mean] * 4).verdict.sentence


def test_a_threshold_met_today_is_fresh_and_has_no_servings():
    found = judged(1.0, 1.0, 1.0, 1.0)
    assert (found.met_on, found.is_fresh, found.behind) == (TODAY, True, ())


def test_too_few_estimates_are_counted():
    assert judged(1.0).verdict.sentence == (
        "1 own threshold over 1 day; judged from 4 estimates over 3 days on."
    )
    assert judged().verdict.sentence == (
        "No own thresholds estimated yet; judged from 4 estimates over 3 days on."
    )


def test_one_and_the_same_value_has_no_spread():
    strict = replace(RULE, spread_at_most=1.01)
    assert judged(1.3, 1.3, 1.3, 1.3, rule=strict).standing is Standing.MET
