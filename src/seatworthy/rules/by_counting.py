"""Judges a compound by a rule that counts, says until when it stands and what would change it."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cache, partial
from typing import Final

from seatworthy.rules.compound import CompoundVerdict
from seatworthy.rules.compound_rules import (
    NAMING,
    Counted,
    GuessingRule,
    KOfNRule,
    SequentialRule,
    ShareRule,
    ThresholdRule,
)
from seatworthy.rules.counting import (
    last_day_counted,
    levels_of,
    months_of,
    right_word,
)
from seatworthy.rules.facts import Glass, OwnEstimate
from seatworthy.rules.guessing import judge_guessing
from seatworthy.rules.k_of_n import judge_k_of_n
from seatworthy.rules.sequential import judge_sequential
from seatworthy.rules.share import judge_share
from seatworthy.rules.threshold_band import judge_threshold
from seatworthy.rules.verdict import Standing, counted
from seatworthy.stats.guessing import guess_rate

CountingRule = KOfNRule | ShareRule | GuessingRule | SequentialRule | ThresholdRule
Evidence = Sequence[Glass] | Sequence[OwnEstimate]

AFTER_ALL: Final = 10**9  # a position behind every glass that was poured
MOST_ANYWAY, MOST_DAYS = 80, 12  # no search goes further, whatever the rulebook asks
MOST_TRIED: Final = (
    40  # so many right in a row are no way on any more, unless the rule asks for more
)
_JUDGES: Final[Mapping[type, Callable[..., CompoundVerdict]]] = {
    KOfNRule: judge_k_of_n,
    ShareRule: judge_share,
    GuessingRule: judge_guessing,
    SequentialRule: judge_sequential,
    ThresholdRule: judge_threshold,
}


@dataclass(frozen=True, slots=True)
class Way:
    """The fewest further glasses that would meet a rule, and the days they need.

    Attributes:
        glasses: Further glasses, sets or estimates.
        days: Further days on which they are poured, as evenly as can be.
        right: The last so many must be right; for estimates, all near the middle of the band.
        in_any_order: Whether it is enough that so many are right, whichever.
        on_other_days: Whether they would not do if poured on the day asked.
    """

    glasses: int
    days: int
    right: int
    in_any_order: bool
    on_other_days: bool


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked of one panellist and compound; the evidence in any order."""

    evidence: Evidence
    today: date
    rule: CountingRule
    counting: Counted

    def judged(self, more: Evidence = (), day: date | None = None) -> CompoundVerdict:
        """The rule's own answer, on the day asked or a later one, with further evidence."""
        judge = _JUDGES[type(self.rule)]
        return judge([*self.evidence, *more], day or self.today, self.rule, self.counting)

    def is_met(self, more: Evidence = (), day: date | None = None) -> bool:
        """Whether that answer is met."""
        return self.judged(more, day).standing is Standing.MET


def judge_by_counting(
    glasses: Sequence[Glass],
    estimates: Sequence[OwnEstimate],
    today: date,
    rule: CountingRule,
    counting: Counted,
) -> CompoundVerdict:
    """Say where one panellist stands on one compound by counting.

    Args:
        glasses: Scored glasses and forced-choice sets of that person and compound, in any order.
        estimates: Own threshold estimates, in any order; only a threshold rule looks at them.
        today: The day asked; what is later does not count.
        rule: The rule in force.
        counting: Which glasses count where the rule says nothing.

    Returns:
        The verdict; ``until`` is the last day on which a met stands if nothing more is poured,
        ``change`` the shortest way to a met, found by trying, and ``more_right`` its number of
        glasses, sets or estimates.

    Raises:
        ValueError: if the rule does not count (``by = "chance"``).
    """
    asked = question(glasses, estimates, today, rule, counting)
    found = asked.judged()
    if found.standing is Standing.MET:
        return replace(found, until=_last_day_met(asked))
    way = cache(partial(shortest_way, asked))
    change = partial(_change_found, way, found.standing, asked)
    return replace(
        found, verdict=replace(found.verdict, way=change), fewest=partial(_fewest_found, way)
    )


def _change_found(find: Callable[[], Way | None], standing: Standing, asked: Question) -> str:
    return _change_text(find(), standing, asked)


def _fewest_found(find: Callable[[], Way | None]) -> int | None:
    way = find()
    return way.glasses if way else None


def question(
    glasses: Sequence[Glass],
    estimates: Sequence[OwnEstimate],
    today: date,
    rule: CountingRule,
    counting: Counted,
) -> Question:
    """The evidence that the rule looks at, with the rule; arguments as above."""
    if type(rule) not in _JUDGES:
        msg = f"A rule that counts glasses or estimates is needed, found {type(rule).__name__}."
        raise ValueError(msg)
    evidence = estimates if isinstance(rule, ThresholdRule) else glasses
    return Question([one for one in evidence if one.day <= today], today, rule, counting)


def shortest_way(asked: Question) -> Way | None:
    """The fewest further right glasses that would meet the rule; None if very many would be needed.

    They are poured from tomorrow on and judged on their last day, on as few days as will do. Then
    the least number right among them is looked for, the wrong ones first; not in a sequential
    rule, where a miss may end a run and so be "shorter".
    """
    most, most_days = _most_tried(asked.rule)
    for glasses in range(1, most + 1):
        least_days = glasses if isinstance(asked.rule, ThresholdRule) else 1
        for days in range(least_days, max(min(glasses, most_days), least_days) + 1):
            if _would_meet(asked, glasses, days, glasses):
                return _as_way(asked, glasses, days)
    return None


def poured(
    asked: Question, glasses: int, days: int, is_right: Callable[[int], bool], after: int = 1
) -> tuple[Evidence, date]:
    """Further evidence that the rule would count, and its last day.

    Args:
        asked: The question it belongs to.
        glasses: How many, one on each of the days and what is left on the last.
        days: On how many days in a row, as evenly as can be.
        is_right: Whether the first (0), second (1) ... is right; estimates all are mid-band.
        after: Days from the day asked to the first of them.
    """
    dates = [asked.today + timedelta(days=after + n * days // glasses) for n in range(glasses)]
    rule = asked.rule
    if isinstance(rule, ThresholdRule):
        return [OwnEstimate(day, _mid_band(rule)) for day in dates], dates[-1]
    low, _ = levels_of(rule, asked.counting)
    method = _method_of(rule)
    further = [
        Glass(f"~{n:04}", day, "~", "", method, low, is_right(n), AFTER_ALL + n)
        for n, day in enumerate(dates)
    ]
    return further, dates[-1]


def _would_meet(asked: Question, glasses: int, days: int, right: int) -> bool:
    """Whether it would be met if the last so many were right, poured from tomorrow on."""
    return asked.is_met(*poured(asked, glasses, days, lambda n: n >= glasses - right))


def _as_way(asked: Question, glasses: int, days: int) -> Way:
    if isinstance(asked.rule, ThresholdRule):
        return Way(glasses, days, glasses, in_any_order=False, on_other_days=True)
    right = glasses
    if not isinstance(asked.rule, SequentialRule):
        while right and _would_meet(asked, glasses, days, right - 1):
            right -= 1
    same_day = poured(asked, glasses, 1, lambda n: n >= glasses - right, after=0)
    return Way(
        glasses,
        days,
        right,
        in_any_order=asked.is_met(*poured(asked, glasses, days, lambda n: n < right)),
        on_other_days=not asked.is_met(*same_day),
    )


def _most_tried(rule: CountingRule) -> tuple[int, int]:
    """Most further glasses, and most further days, that are tried."""
    if isinstance(rule, ThresholdRule):
        return rule.last_estimates, rule.last_estimates
    size = rule.of if isinstance(rule, KOfNRule) else getattr(rule, "glasses", 0)
    # twice: a window cut apart may lie in the second half of what is poured
    days = 2 * rule.days if isinstance(rule, KOfNRule) else getattr(rule, "days", 1)
    return max(MOST_TRIED, 2 * size), max(days, rule.last_sessions or 1)


def _mid_band(rule: ThresholdRule) -> float:
    return (rule.lowest * rule.highest) ** 0.5


def _last_day_met(asked: Question) -> date:
    """Last day on which a met stands if nothing more is poured.

    Tried on the day after each on which a glass leaves the window; between them nothing changes.
    """
    rule = asked.rule
    months = rule.months if isinstance(rule, ThresholdRule) else months_of(rule, asked.counting)
    ends = sorted({last_day_counted(one.day, months) for one in asked.evidence})
    return next(
        last
        for last in ends
        if last >= asked.today and not asked.is_met(day=last + timedelta(days=1))
    )


def _change_text(way: Way | None, standing: Standing, asked: Question) -> str:
    """The shortest way as a sentence; a threshold outside its band is nothing to train."""
    rule = asked.rule
    most, _ = _most_tried(rule)
    if isinstance(rule, ThresholdRule):
        near = f"near {_mid_band(rule):.2g}×"
        if way is None:
            return f"More than {most} estimates {near} would be needed."
        daily = ", one a day," if way.glasses > 1 else ""
        return f"{counted(way.glasses, 'more estimate')} {near}{daily} could meet it."
    if way is None:
        return f"More than {most} {right_word(rule)} in a row would be needed: train first."
    first = "Train first; then " if standing is Standing.NOT_MET else ""
    return f"{first}{way_text(way, asked)} could meet it."


def way_text(way: Way, asked: Question) -> str:
    """What would have to be poured and found, as the beginning of a sentence."""
    rule, counting = asked.rule, asked.counting
    thing = "set" if isinstance(rule, GuessingRule) else "glass"
    more = counted(way.glasses, f"more {thing}")
    low, high = levels_of(rule, counting)
    where = f"at {low:g}× to {high:g}×"
    over = f" over {counted(way.days, 'more day')}" if way.on_other_days else ""
    if way.right == way.glasses:
        return f"{more} {right_word(rule)} {where}{over}"
    if not way.right:
        return f"{more} {where}{over}, right or not,"
    which = f"at least {way.right} of them" if way.in_any_order else f"the last {way.right}"
    return f"{more} {where}{over}, {which} {right_word(rule)},"


def _thing(rule: CountingRule, number: int) -> str:
    """What would have to be poured; of several methods the one by which the way was found."""
    if not isinstance(rule, GuessingRule):
        return counted(number, "glass").split()[1]
    method = f"{_METHODS[_method_of(rule)]} " if len(rule.methods) > 1 else ""
    return f"{method}{counted(number, 'set').split()[1]}"


def _method_of(rule: CountingRule) -> str:
    """The method by which most is shown: naming, else the hardest to guess."""
    return min(rule.methods, key=lambda name: 0.0 if name == NAMING else guess_rate(name))


_METHODS: Final = {
    "3afc": "3-AFC", "triangle": "triangle", "duo_trio": "duo-trio", "2afc": "2-AFC",
}  # fmt: skip
