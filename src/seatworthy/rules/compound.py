"""Judges one panellist on one compound by the chance that they name it often enough.

On their own answers alone: colleagues' answers make nobody met or not met.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import partial

from seatworthy.rules.compound_rules import ChanceRule, Counted
from seatworthy.rules.person_rules import InsensitiveRule
from seatworthy.rules.rulebook import Asked, Rulebook
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
        behind: Ids of the servings behind it, where the rule counts them itself.
        fewest: Fewest further right answers that would meet it; None if it is met, or if more
            would be needed than can be said; a function where it takes long. Read it as
            `more_right`.
    """

    verdict: Verdict
    met_on: date | None = None
    until: date | None = None
    is_fresh: bool = False
    behind: tuple[str, ...] = ()
    fewest: int | Callable[[], int | None] | None = field(default=None, compare=False)

    @property
    def more_right(self) -> int | None:
        """Fewest further right answers that would meet it; None if none, or too many to say."""
        return self.fewest() if callable(self.fewest) else self.fewest

    @property
    def standing(self) -> Standing:
        """The standing by itself."""
        return self.verdict.standing


@dataclass(frozen=True, slots=True)
class After:
    """Chances if more glasses were poured today at the reference level.

    Attributes:
        all_right: After 0, 1, 2 ... more, all named right.
        one_missed: After one missed and 0, 1, 2 ... named right; () where nobody asked.
    """

    all_right: Sequence[float]
    one_missed: Sequence[float] = ()


def is_met_afresh(seen: CellDay, rule: ChanceRule) -> bool:
    """Whether the evidence of that day alone meets the rule."""
    enough = seen.glasses >= rule.glasses and seen.days >= rule.days
    return enough and seen.chance >= rule.met_when_sure


def is_not_met(seen: CellDay, rule: ChanceRule) -> bool:
    """Whether the evidence of that day alone says not met."""
    return seen.glasses >= rule.not_met_glasses and seen.chance <= rule.not_met_when_below


def last_met_day(seen: Sequence[CellDay], rule: ChanceRule) -> date | None:
    """Walk the days in order: a met stands for its weeks and ends at once when it must.

    Args:
        seen: Days with a closed sitting that touched the cell, and the day asked; ascending.
        rule: The rule in force.

    Returns:
        The day from which the met that stands at the end is counted; None if none stands.
    """
    met_on: date | None = None
    for day in seen:
        met_on = _met_after(met_on, day, rule)
    return met_on


def _met_after(met_on: date | None, day: CellDay, rule: ChanceRule) -> date | None:
    """The day from which a met is counted once one more day is over; None if none stands."""
    if is_met_afresh(day, rule):
        return day.day
    if met_on is None or is_not_met(day, rule) or day.chance < rule.met_ends_below:
        return None
    return met_on if day.day <= _stands_until(met_on, rule) else None


def judge_compound(
    past: Sequence[CellDay],
    today: CellDay,
    ahead: Sequence[CellDay],
    after: After,
    book: Rulebook,
    rule: ChanceRule,
) -> CompoundVerdict:
    """Say where one panellist stands on one compound on one day.

    Args:
        past: Days up to today on which the cell was touched, ascending.
        today: The day asked.
        ahead: Days to come if nothing more is poured, ascending, for the end of a met.
        after: Chances with more glasses.
        book: The rulebook in force.
        rule: Its rule for compounds.
    """
    met_before = last_met_day(past, rule)
    met_on = _met_after(met_before, today, rule)
    if blind := judge_insensitive(today, book.insensitive):
        return CompoundVerdict(blind)
    if met_on is not None:
        until = _end_of_met(met_before, today, ahead, met_on, rule)
        is_fresh = is_met_afresh(today, rule)
        met = _met(today, met_on, until, rule, book.asked)
        return CompoundVerdict(met, met_on, until, is_fresh)
    more = partial(fewest_right, today, after.all_right, rule)
    way = partial(shortest_way, today, after, book.counted, rule)
    if is_not_met(today, rule):
        sentence = (
            f"{_named(today)}; only {percent(today.chance)} chance of at least "
            f"{percent(book.asked.named_right)} at {book.asked.reference_level:g}×."
        )
        verdict = Verdict(RULE, Standing.NOT_MET, sentence, partial(_after_training, way))
        return CompoundVerdict(verdict, fewest=more)
    unsure = Verdict(RULE, Standing.TOO_LITTLE, _unsure(today, rule, book.asked), way)
    return CompoundVerdict(unsure, fewest=more)


def judge_insensitive(today: CellDay, rule: InsensitiveRule | None) -> Verdict | None:
    """The verdict on somebody who does not smell it; None where that is not shown."""
    if rule is None or today.strong_glasses < rule.strong_glasses:
        return None
    return _does_not_smell(today, rule) if today.chance_insensitive >= rule.sure else None


def fewest_right(
    today: CellDay, chances: Sequence[float], rule: ChanceRule, missed: int = 0
) -> int | None:
    """Fewest further right names that would meet the rule; None if more than the chances tell."""
    missing = rule.glasses - today.glasses - missed
    least = max(missing, rule.days - today.days, 1)
    return next(
        (more for more, c in enumerate(chances) if more >= least and c >= rule.met_when_sure), None
    )


def shortest_way(today: CellDay, after: After, counting: Counted, rule: ChanceRule) -> str:
    """The fewest further right names that would meet the rule, as a sentence.

    Beside it, where it is known, how many it takes if one of them is missed.
    """
    more = fewest_right(today, after.all_right, rule)
    if more is None:
        most = len(after.all_right) - 1
        return f"More than {most} named right in a row would be needed: train first."
    where = f"at {counting.lowest_level:g}× to {counting.highest_level:g}×"
    missing_days = max(rule.days - today.days, 0)
    over = f" over {counted(missing_days, 'more day')}" if missing_days else ""
    glasses = "1 more glass" if more == 1 else f"{more} more glasses"
    one_missed = fewest_right(today, after.one_missed, rule, missed=1)
    other = f", or {one_missed} of {one_missed + 1}" if one_missed else ""
    return f"{glasses} named right {where}{over} could meet it{other}."


def _after_training(find: Callable[[], str]) -> str:
    """The way on for somebody who does not meet it: few right names in a row come by luck."""
    way = find()
    return way if "train first" in way else f"Train first; then {way[0].lower()}{way[1:]}"


def _stands_until(met_on: date, rule: ChanceRule) -> date:
    return met_on + timedelta(weeks=rule.met_stands_weeks)


def _end_of_met(
    met_before: date | None,
    today: CellDay,
    ahead: Sequence[CellDay],
    met_on: date,
    rule: ChanceRule,
) -> date:
    """Last day on which the met stands when each coming day is asked by itself."""
    until = today.day
    for day in ahead:
        if _met_after(met_before, day, rule) is None:
            bound = _stands_until(met_before or met_on, rule)
            return bound if until < bound < day.day else until
        until = day.day
    return until


def _met(today: CellDay, met_on: date, until: date, rule: ChanceRule, asked: Asked) -> Verdict:
    if is_met_afresh(today, rule):
        sentence = (
            f"{_named(today)}; {percent(today.chance)} sure of at least "
            f"{percent(asked.named_right)} at {asked.reference_level:g}×."
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


def _unsure(today: CellDay, rule: ChanceRule, asked: Asked) -> str:
    if not today.glasses:
        return "No glasses counted yet."
    return (
        f"{_named(today)}; {percent(today.chance)} sure of at least "
        f"{percent(asked.named_right)}, {percent(rule.met_when_sure)} needed."
    )


def _named(today: CellDay) -> str:
    return f"{today.hits} of {today.glasses} named right"


def day_text(day: date) -> str:
    """A day as it stands in a sentence: 14 December 2026."""
    return f"{day.day} {day:%B %Y}"
