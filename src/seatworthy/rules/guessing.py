"""Judges a compound by whether more sets are right than guessing would give."""

from collections.abc import Sequence
from datetime import date

from seatworthy.rules.compound import RULE, CompoundVerdict
from seatworthy.rules.compound_rules import Counted, GuessingRule
from seatworthy.rules.counting import (
    ROUNDING,
    days_of,
    glasses_that_count,
    limit_text,
    percent_beside,
    right_of,
    servings_of,
)
from seatworthy.rules.facts import Glass
from seatworthy.rules.verdict import Standing, Verdict, counted
from seatworthy.stats.agreement import chance_of_so_few
from seatworthy.stats.guessing import guess_rate


def judge_guessing(
    glasses: Sequence[Glass], today: date, rule: GuessingRule, counting: Counted
) -> CompoundVerdict:
    """Met when guessing would hardly do as well; not met when a finder would hardly do so badly.

    "Not better than guessing" alone never means not met, since a few sets cannot show it. It is
    not met only if, besides, somebody halfway between guessing and always right would get so few
    right with a chance below ``improbable``. All else is too little evidence.

    Args:
        glasses: Forced-choice sets of one panellist and compound, in any order.
        today: The day asked.
        rule: The rule in force.
        counting: Which sets count where the rule says nothing.

    Returns:
        The verdict without its end and without what would change it; behind it stand all sets
        that count.
    """
    seen = glasses_that_count(glasses, today, rule, counting)
    behind = servings_of(seen)
    if len(seen) < rule.glasses or days_of(seen) < rule.days:
        few = Verdict(RULE, Standing.TOO_LITTLE, _too_few(seen, rule))
        return CompoundVerdict(few, behind=behind)
    by_guessing, halfway = chance_by_guessing(seen), chance_halfway(seen)
    sentence = _beside_guessing(seen, by_guessing, rule)
    if by_guessing <= rule.improbable + ROUNDING:
        met = Verdict(RULE, Standing.MET, sentence)
        return CompoundVerdict(met, met_on=today, is_fresh=True, behind=behind)
    sentence += (
        " Somebody halfway between guessing and always right would get so few with a chance of "
        f"{percent_beside(halfway, rule.improbable)}."
    )
    is_clear = halfway < rule.improbable - ROUNDING
    standing = Standing.NOT_MET if is_clear else Standing.TOO_LITTLE
    return CompoundVerdict(Verdict(RULE, standing, sentence), behind=behind)


def chance_by_guessing(sets: Sequence[Glass]) -> float:
    """Exact chance of so many right or more by guessing; the methods may differ."""
    wrong = len(sets) - right_of(sets)
    return chance_of_so_few(wrong, [1 - guess_rate(glass.method) for glass in sets])


def chance_halfway(sets: Sequence[Glass]) -> float:
    """Exact chance of so few right or fewer at rates halfway between guessing and 1."""
    return chance_of_so_few(right_of(sets), [(1 + guess_rate(glass.method)) / 2 for glass in sets])


def _beside_guessing(seen: Sequence[Glass], by_guessing: float, rule: GuessingRule) -> str:
    chance = percent_beside(by_guessing, rule.improbable)
    return (
        f"{_counts(seen)}; by guessing alone that or better has a chance of {chance}, at most "
        f"{limit_text(rule.improbable)} is asked for."
    )


def _counts(seen: Sequence[Glass]) -> str:
    return f"{right_of(seen)} of {counted(len(seen), 'set')} right"


def _too_few(seen: Sequence[Glass], rule: GuessingRule) -> str:
    if not seen:
        return "No sets counted yet."
    return (
        f"{_counts(seen)} over {counted(days_of(seen), 'day')}; judged from "
        f"{counted(rule.glasses, 'set')} over {counted(rule.days, 'day')} on."
    )
