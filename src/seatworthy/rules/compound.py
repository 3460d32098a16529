"""Judges one panellist on one compound, on their own answers alone."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from seatworthy.rules.rulebook import CompoundRule, Counted, InsensitiveRule
from seatworthy.rules.verdict import Standing, Verdict, counted, percent

RULE = "compound"


@dataclass(frozen=True, slots=True)
class CellDay:
    """What is known of one cell at the end of one day.

    Attributes:
        day: The day asked.
        chance: Chance on own answers that the rate of right names is high enough.
        glasses: Counted glasses in the window that ends on that day.
        hits: Of these, named right.
        days: Distinct days among them.
        chance_insensitive: Chance on own answers that the own threshold is above the limit.
        strong_glasses: Glasses in the window strong enough to show that.
    """

    day: date
    chance: float
    glasses: int
    hits: int
    days: int
    chance_insensitive: float = 0.0
    strong_glasses: int = 0


@dataclass(frozen=True, slots=True)
class CompoundVerdict:
    """Where a panellist stands on a compound.

    Attributes:
        verdict: Standing, sentence, what would change it.
        met_on: Last day on which it was met; None if it does not stand.
        until: Last day on which it stands if nothing more is poured; None if not met.
        is_fresh: Whether it would be met on today's evidence alone.
    """

    verdict: Verdict
    met_on: date | None = None
    until: date | None = None
    is_fresh: bool = False

    @property
    def standing(self) -> Standing:
        """The standing by itself."""
        return self.verdict.standing


def is_met_afresh(seen: CellDay, rule: CompoundRule) -> bool:
    """Whether the evidence of that day alone meets the rule."""
    enough = seen.glasses >= rule.glasses and seen.days >= rule.days
    return enough and seen.chance >= rule.met_when_sure


def is_not_met(seen: CellDay, rule: CompoundRule) -> bool:
    """Whether the evidence of that day alone says not met."""
    return seen.glasses >= rule.not_met_glasses and seen.chance <= rule.not_met_when_below


def last_met_day(seen: Sequence[CellDay], rule: CompoundRule) -> date | None:
    """Walk the days in order: a met stands for its weeks and ends at once when it must.

    Args:
        seen: Days with a closed sitting that touched the cell, and the day asked; ascending.
        rule: The rule in force.

    Returns:
        The day from which the met that stands at the end is counted; None if none stands.
    """
    met_on: date | None = None
    for day in seen:
        if is_met_afresh(day, rule):
            met_on = day.day
        elif (
            is_not_met(day, rule)
            or day.chance < rule.met_ends_below
            or met_on is not None
            and day.day > _stands_until(met_on, rule)
        ):
            met_on = None
    return met_on


def judge_compound(
    past: Sequence[CellDay],
    today: CellDay,
    ahead: Sequence[CellDay],
    chance_after: Sequence[float],
    counting: Counted,
    rule: CompoundRule,
    insensitive: InsensitiveRule,
) -> CompoundVerdict:
    """Say where one panellist stands on one compound on one day.

    Args:
        past: Days up to today on which the cell was touched, ascending.
        today: The day asked.
        ahead: Days to come if nothing more is poured, ascending, for the end of a met.
        chance_after: Chance if 0, 1, 2 ... more glasses were named right today.
        counting: Which glasses count.
        rule: The compound rule in force.
        insensitive: The rule for those who do not smell it.
    """
    met_on = last_met_day([*past, today], rule)
    if _is_insensitive(today, insensitive):
        return CompoundVerdict(_does_not_smell(today, insensitive))
    if met_on is not None:
        until = _end_of_met(past, today, ahead, met_on, rule)
        is_fresh = is_met_afresh(today, rule)
        return CompoundVerdict(_met(today, met_on, until, rule), met_on, until, is_fresh)
    way = shortest_way(today, chance_after, counting, rule)
    if is_not_met(today, rule):
        sentence = (
            f"{_named(today)}; only {percent(today.chance)} chance of at least "
            f"{percent(rule.named_right)} at {rule.reference_level:g}×."
        )
        return CompoundVerdict(Verdict(RULE, Standing.NOT_MET, sentence, _after_training(way)))
    return CompoundVerdict(Verdict(RULE, Standing.TOO_LITTLE, _unsure(today, rule), way))


def shortest_way(
    today: CellDay, chance_after: Sequence[float], counting: Counted, rule: CompoundRule
) -> str:
    """The fewest further right names that would meet the rule, as a sentence."""
    where = f"at {counting.lowest_level:g}× to {counting.highest_level:g}×"
    missing_days = max(rule.days - today.days, 0)
    least = max(rule.glasses - today.glasses, missing_days, 1)
    for more, chance in enumerate(chance_after):
        if more >= least and chance >= rule.met_when_sure:
            over = f" over {counted(missing_days, 'more day')}" if missing_days else ""
            glasses = "1 more glass" if more == 1 else f"{more} more glasses"
            return f"{glasses} named right {where}{over} could meet it."
    most = len(chance_after) - 1
    return f"More than {most} named right in a row would be needed: train first."


def _after_training(way: str) -> str:
    """The way on for somebody who does not meet it: few right names in a row come by luck."""
    return way if "train first" in way else f"Train first; then {way[0].lower()}{way[1:]}"


def _is_insensitive(today: CellDay, rule: InsensitiveRule) -> bool:
    return today.strong_glasses >= rule.strong_glasses and today.chance_insensitive >= rule.sure


def _stands_until(met_on: date, rule: CompoundRule) -> date:
    return met_on + timedelta(weeks=rule.met_stands_weeks)


def _end_of_met(
    past: Sequence[CellDay],
    today: CellDay,
    ahead: Sequence[CellDay],
    met_on: date,
    rule: CompoundRule,
) -> date:
    """Last day on which the met stands when each coming day is asked by itself."""
    until = today.day
    for day in ahead:
        if last_met_day([*past, day], rule) is None:
            touched = past and last_met_day(past, rule) or met_on
            bound = _stands_until(touched, rule)
            return bound if until < bound < day.day else until
        until = day.day
    return until


def _met(today: CellDay, met_on: date, until: date, rule: CompoundRule) -> Verdict:
    if is_met_afresh(today, rule):
        sentence = (
            f"{_named(today)}; {percent(today.chance)} sure of at least "
            f"{percent(rule.named_right)} at {rule.reference_level:g}×."
        )
        return Verdict(RULE, Standing.MET, sentence)
    sentence = (
        f"Met on {day_text(met_on)} and stands until {day_text(until)}; "
        f"{percent(today.chance)} sure today on {_named(today)}."
    )
    return Verdict(RULE, Standing.MET, sentence)


def _does_not_smell(today: CellDay, rule: InsensitiveRule) -> Verdict:
    sentence = (
        f"Doesn't smell it: own threshold above {rule.threshold_above:g}× with "
        f"{percent(today.chance_insensitive)} chance, on "
        f"{today.strong_glasses} glasses at {rule.strong_level:g}× or more. "
        "No fault; not counted on for it."
    )
    return Verdict(RULE, Standing.INSENSITIVE, sentence)


def _unsure(today: CellDay, rule: CompoundRule) -> str:
    if not today.glasses:
        return "No glasses counted yet."
    return (
        f"{_named(today)}; {percent(today.chance)} sure of at least "
        f"{percent(rule.named_right)}, {percent(rule.met_when_sure)} needed."
    )


def _named(today: CellDay) -> str:
    return f"{today.hits} of {today.glasses} named right"


def day_text(day: date) -> str:
    """A day as it stands in a sentence: 14 December 2026."""
    return f"{day.day} {day:%B %Y}"
