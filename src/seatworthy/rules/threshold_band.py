"""Judges a compound by own threshold estimates: their mean in a band, their spread small."""

import math
from collections.abc import Sequence
from datetime import date
from statistics import fmean, stdev

from seatworthy.rules.compound import RULE, CompoundVerdict
from seatworthy.rules.compound_rules import Counted, ThresholdRule
from seatworthy.rules.counting import ROUNDING, first_day_counted, number_beside
from seatworthy.rules.facts import OwnEstimate
from seatworthy.rules.verdict import Standing, Verdict, counted


def judge_threshold(
    estimates: Sequence[OwnEstimate],
    today: date,
    rule: ThresholdRule,
    counting: Counted,
) -> CompoundVerdict:
    """Met when geometric mean and spread are within their limits, too little with few estimates.

    Args:
        estimates: Estimates of one panellist and compound, in any order.
        today: The day asked.
        rule: The rule in force; it says itself which estimates count.
        counting: Not looked at; here so that every kind is asked alike.

    Returns:
        The verdict without its end and without what would change it. Servings are not known of
        an estimate, so none stand behind it.
    """
    seen = estimates_that_count(estimates, today, rule)
    if len(seen) < rule.estimates or len({e.day for e in seen}) < rule.days:
        return CompoundVerdict(Verdict(RULE, Standing.TOO_LITTLE, _too_little(seen, rule)))
    mean, spread = mean_and_spread(seen)
    sentence = (
        f"Mean of {len(seen)} own thresholds {number_beside(mean, _nearer(mean, rule))}×, "
        f"{rule.lowest:g}× to {rule.highest:g}× asked for; spread a factor "
        f"{number_beside(spread, rule.spread_at_most)}, at most {rule.spread_at_most:g}."
    )
    is_within = (
        math.log10(rule.lowest) - ROUNDING
        <= math.log10(mean)
        <= math.log10(rule.highest) + ROUNDING
    )
    if is_within and math.log10(spread) <= math.log10(rule.spread_at_most) + ROUNDING:
        return CompoundVerdict(Verdict(RULE, Standing.MET, sentence), met_on=today, is_fresh=True)
    return CompoundVerdict(Verdict(RULE, Standing.NOT_MET, sentence))


def estimates_that_count(
    estimates: Sequence[OwnEstimate], today: date, rule: ThresholdRule
) -> tuple[OwnEstimate, ...]:
    """The latest estimates in the window of months that ends today, oldest first."""
    first = first_day_counted(today, rule.months)
    recent = [estimate for estimate in estimates if first <= estimate.day <= today]
    ordered = sorted(recent, key=lambda estimate: (estimate.day, estimate.threshold))
    return tuple(ordered[-rule.last_estimates :])


def mean_and_spread(estimates: Sequence[OwnEstimate]) -> tuple[float, float]:
    """Geometric mean, a multiple, and antilog of the SD (n - 1) of the log10 estimates, a factor.

    Source:
        EN 13725, the criteria for assessors, from memory; check the standard itself.
    """
    logs = [math.log10(estimate.threshold) for estimate in estimates]
    return 10 ** fmean(logs), 10 ** stdev(logs)


def _nearer(mean: float, rule: ThresholdRule) -> float:
    """The limit of the band that the mean lies nearer to."""
    return min(rule.lowest, rule.highest, key=lambda limit: abs(math.log(mean / limit)))


def _too_little(seen: Sequence[OwnEstimate], rule: ThresholdRule) -> str:
    days = len({estimate.day for estimate in seen})
    asked = f"{counted(rule.estimates, 'estimate')} over {counted(rule.days, 'day')}"
    if not seen:
        return f"No own thresholds estimated yet; judged from {asked} on."
    found = f"{counted(len(seen), 'own threshold')} over {counted(days, 'day')}"
    return f"{found}; judged from {asked} on."
