"""The rules on compounds in plain words."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any, Final

from seatworthy.rules.compound_rules import (
    ChanceRule,
    CompoundRule,
    Counted,
    Glasses,
    GuessingRule,
    KOfNRule,
    SequentialRule,
    ShareRule,
    ThresholdRule,
)
from seatworthy.rules.verdict import counted

Sentences = Iterator[str]

_POURED: Final[Mapping[str, str]] = {
    "naming": "glasses to be named",
    "3afc": "sets of three with the strongest to be found (3-AFC)",
    "triangle": "triangles",
    "duo_trio": "duo-trios",
    "2afc": "pairs with the stronger to be found (2-AFC)",
}


def compound_sentences(rule: CompoundRule, counting: Counted) -> Sentences:
    """What a rule on compounds says, finished sentences.

    Args:
        rule: The rule, of any kind.
        counting: Which glasses count where the rule itself does not say.
    """
    yield from _BY_KIND[type(rule)](rule)
    if isinstance(rule, Glasses):
        yield _glasses(rule, counting)


def in_percent(share: float) -> str:
    """A number of the rulebook in percent, with all its digits."""
    return f"{100 * share:.6g}%"


def in_the_last(months: int) -> str:
    """A window of time in words."""
    return "in the last month" if months == 1 else f"in the last {months} months"


def joined(words: Sequence[str], last: str = "and") -> str:
    """Words as an enumeration; "" without any."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def _chance(rule: ChanceRule) -> Sentences:
    alone = rule.answers == "own"
    yield (
        f"Met: at least {in_percent(rule.met_when_sure)} sure of what the estimate is asked, "
        f"{'on their own answers alone' if alone else 'with the answers of colleagues'}, on at "
        f"least {counted(rule.glasses, 'counted glass')} over at least {counted(rule.days, 'day')}."
    )
    yield (
        f"Not met: at most {in_percent(rule.not_met_when_below)} sure, on at least "
        f"{counted(rule.not_met_glasses, 'counted glass')}."
    )
    yield (
        f"A met stands {counted(rule.met_stands_weeks, 'week')} from the last day it was met; it "
        f"ends at once with not met or when less than {in_percent(rule.met_ends_below)} sure."
    )
    if alone:
        yield "Nobody is judged on other people's answers."


def _k_of_n(rule: KOfNRule) -> Sentences:
    yield (
        f"Met: at least {rule.right} right of {counted(rule.of, 'glass')} over at least "
        f"{counted(rule.days, 'day')}."
    )
    yield f"Not met: {rule.leave_at or 'none'}{' or fewer' if rule.leave_at else ''} right of them."
    between = range(rule.leave_at + 1, rule.right)
    if between:
        numbers = f"{between[0]} to {between[-1]}" if len(between) > 1 else f"{between[0]}"
        yield f"With {numbers} right it stays what it was."
    if rule.windows == "apart":
        yield "Each glass is in one window only, and the last full window decides."
    else:
        yield "The window slides: the latest glasses are looked at after every session."


def _share(rule: ShareRule) -> Sentences:
    least = "all" if rule.share == 1 else f"at least {in_percent(rule.share)}"
    yield (
        f"Met: {least} right, on at least "
        f"{counted(rule.glasses, 'glass')} over at least {counted(rule.days, 'day')}; "
        "not met: a smaller share on as many."
    )


def _guessing(rule: GuessingRule) -> Sentences:
    yield (
        "Met: so many right that guessing alone does as well with a chance of at most "
        f"{in_percent(rule.improbable)}, on at least {counted(rule.glasses, 'set')} over at "
        f"least {counted(rule.days, 'day')}."
    )
    yield (
        "Not met: not that, and somebody halfway between guessing and always right would get so "
        f"few right with a chance below {in_percent(rule.improbable)}."
    )


def _sequential(rule: SequentialRule) -> Sentences:
    yield (
        "After every answer two lines say met, not met or go on: they tell somebody right "
        f"{in_percent(rule.poor)} of the time from somebody right {in_percent(rule.good)}."
    )
    yield (
        f"The first of these is wrongly met with a chance of {in_percent(rule.wrongly_met)}, the "
        f"second wrongly not met with a chance of {in_percent(rule.wrongly_not_met)}."
    )


def _threshold(rule: ThresholdRule) -> Sentences:
    yield (
        f"Met: the geometric mean of own threshold estimates lies at {rule.lowest:g} to "
        f"{rule.highest:g} times the working threshold, and they spread by a factor of at most "
        f"{rule.spread_at_most:g}."
    )
    yield (
        f"At least {counted(rule.estimates, 'estimate')} over at least {counted(rule.days, 'day')} "
        f"are needed; only the latest {rule.last_estimates} {in_the_last(rule.months)} count."
    )


_BY_KIND: Final[Mapping[type, Callable[[Any], Sentences]]] = {
    ChanceRule: _chance,
    KOfNRule: _k_of_n,
    ShareRule: _share,
    GuessingRule: _guessing,
    SequentialRule: _sequential,
    ThresholdRule: _threshold,
}

# Where windows and runs are cut over all glasses, the months say how long what they gave stands.
_STANDING: Final[Mapping[object, str]] = {
    "apart": "what a window gave lapses",
    SequentialRule: "what a run decided lapses",
}


def _glasses(rule: Glasses, counting: Counted) -> str:
    lowest = counting.lowest_level if rule.lowest_level is None else rule.lowest_level
    highest = counting.highest_level if rule.highest_level is None else rule.highest_level
    months = counting.months if rule.months is None else rule.months
    poured = joined([_POURED[name] for name in rule.methods])
    latest = f", of the latest {counted(rule.last_sessions, 'session')} only" * bool(
        rule.last_sessions
    )
    standing = _STANDING.get(getattr(rule, "windows", "")) or _STANDING.get(type(rule))
    if standing:
        return (
            f"Looked at are {poured} at {lowest:g} to {highest:g} times the working threshold"
            f"{latest}; {standing} {counted(months, 'month')} after its last glass."
        )
    return (
        f"Looked at are {poured} at {lowest:g} to {highest:g} times the working threshold, poured "
        f"{in_the_last(months)}{latest}."
    )
