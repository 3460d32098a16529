"""Judges a compound by the share of right answers over all glasses of a window."""

from collections.abc import Sequence
from datetime import date

from seatworthy.rules.compound import RULE, CompoundVerdict
from seatworthy.rules.compound_rules import Counted, ShareRule
from seatworthy.rules.counting import (
    days_of,
    glasses_that_count,
    limit_text,
    percent_beside,
    right_of,
    right_word,
    servings_of,
)
from seatworthy.rules.facts import Glass
from seatworthy.rules.verdict import Standing, Verdict, counted


def judge_share(
    glasses: Sequence[Glass], today: date, rule: ShareRule, counting: Counted
) -> CompoundVerdict:
    """Met at the share or above, not met below, too little with fewer glasses or days.

    Args:
        glasses: Glasses of one panellist and compound, in any order.
        today: The day asked.
        rule: The rule in force.
        counting: Which glasses count where the rule says nothing.

    Returns:
        The verdict without its end and without what would change it; behind it stand all glasses
        that count.
    """
    seen = glasses_that_count(glasses, today, rule, counting)
    if len(seen) < rule.glasses or days_of(seen) < rule.days:
        sentence = _too_little(seen, rule)
        return CompoundVerdict(
            Verdict(RULE, Standing.TOO_LITTLE, sentence), behind=servings_of(seen)
        )
    share = right_of(seen) / len(seen)
    sentence = (
        f"{right_of(seen)} of {counted(len(seen), 'glass')} {right_word(rule)} "
        f"({percent_beside(share, rule.share)}); {limit_text(rule.share)} are asked for."
    )
    if share >= rule.share:
        met = Verdict(RULE, Standing.MET, sentence)
        return CompoundVerdict(met, met_on=today, is_fresh=True, behind=servings_of(seen))
    return CompoundVerdict(Verdict(RULE, Standing.NOT_MET, sentence), behind=servings_of(seen))


def _too_little(seen: Sequence[Glass], rule: ShareRule) -> str:
    if not seen:
        return "No glasses counted yet."
    return (
        f"{right_of(seen)} of {counted(len(seen), 'glass')} {right_word(rule)} over "
        f"{counted(days_of(seen), 'day')}; judged from {counted(rule.glasses, 'glass')} "
        f"over {counted(rule.days, 'day')} on."
    )
