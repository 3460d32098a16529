"""Rules on compounds that no evidence could meet, or that guessing would."""

from collections.abc import Iterator, Sequence
from typing import Any, Final

from seatworthy.rules.compound_rules import (
    ChanceRule,
    Counted,
    Glasses,
    GuessingRule,
    KOfNRule,
    SequentialRule,
    ShareRule,
    ThresholdRule,
)
from seatworthy.rules.verdict import counted
from seatworthy.stats.guessing import GUESS_RATES, smallest_right

Finding = tuple[str, str]  # the key to change, and why

LONGEST_MONTH: Final = 31
MOST_A_SESSION: Final = 24  # glasses; no plan pours more
_ROUNDED: Final = 0.005  # a guess rate of one in three is written 0.33 by some
_MOST_SETS: Final = 200


def findings_in(rule: Any, counting: Counted | None) -> Iterator[Finding]:  # noqa: ANN401
    """What is impossible or contradictory within one rule on compounds.

    Args:
        rule: A rule of any kind of ``COMPOUND_KINDS``.
        counting: Which glasses count by default; None where that is not known.
    """
    yield from _BY_KIND[type(rule)](rule)
    months = getattr(rule, "months", None) or (counting.months if counting else None)
    if months is not None:
        yield from _window(rule, months)
    if isinstance(rule, Glasses):
        yield from _band(rule, counting)
        yield from _sessions(rule)


def _chance(rule: ChanceRule) -> Iterator[Finding]:
    yield from _more_days(rule.days, rule.glasses, "glasses")
    if rule.not_met_when_below >= rule.met_when_sure:
        yield (
            "not_met_when_below",
            (
                f"not_met_when_below is {rule.not_met_when_below:g} and met_when_sure is "
                f"{rule.met_when_sure:g}: one chance would be both met and not met; "
                "make not_met_when_below the smaller."
            ),
        )
    if rule.met_ends_below > rule.met_when_sure:
        yield (
            "met_ends_below",
            (
                f"met_ends_below is {rule.met_ends_below:g}, above met_when_sure "
                f"({rule.met_when_sure:g}): a met would end on the day it is met; lower it."
            ),
        )


def _k_of_n(rule: KOfNRule) -> Iterator[Finding]:
    if rule.right > rule.of:
        yield (
            "right",
            f"{rule.right} right of {rule.of} can't be; make right at most {rule.of}.",
        )
    if rule.leave_at >= rule.right:
        yield (
            "leave_at",
            (
                f"leave_at is {rule.leave_at} and right is {rule.right}: one count would be both "
                f"met and not met; make leave_at at most {rule.right - 1}."
            ),
        )
    yield from _more_days(rule.days, rule.of, "of")
    yield from _met_by_guessing("right", rule.right / rule.of, rule.methods)


def _share(rule: ShareRule) -> Iterator[Finding]:
    yield from _more_days(rule.days, rule.glasses, "glasses")
    yield from _met_by_guessing("share", rule.share, rule.methods)


def _guessing(rule: GuessingRule) -> Iterator[Finding]:
    yield from _more_days(rule.days, rule.glasses, "glasses")
    method = max(rule.methods, key=lambda name: GUESS_RATES[name])
    rate = GUESS_RATES[method]
    if smallest_right(rule.glasses, rate, rule.improbable) is None:
        enough = next(
            sets
            for sets in range(1, _MOST_SETS + 1)
            if smallest_right(sets, rate, rule.improbable) is not None
        )
        yield (
            "glasses",
            (
                f"even {rule.glasses} right of {rule.glasses} by {method} would come by guessing with "
                f"a chance above {rule.improbable:g}; ask for at least {enough} glasses, a greater "
                "improbable, or leave that method out."
            ),
        )


def _sequential(rule: SequentialRule) -> Iterator[Finding]:
    if rule.good <= rule.poor:
        yield (
            "good",
            f"good is {rule.good:g} and poor is {rule.poor:g}: good must be the greater.",
        )
    elif all(name in GUESS_RATES for name in rule.methods):
        rate = max(GUESS_RATES[name] for name in rule.methods)
        if rule.poor < rate - _ROUNDED:
            yield (
                "poor",
                (
                    f"poor is {rule.poor:g}, but guessing alone is right {rate:.3g} of the time; "
                    "make poor at least that."
                ),
            )


def _threshold(rule: ThresholdRule) -> Iterator[Finding]:
    if rule.lowest >= rule.highest:
        yield (
            "lowest",
            (
                f"lowest is {rule.lowest:g} and highest is {rule.highest:g}: no threshold lies "
                "between; make lowest the smaller."
            ),
        )
    if rule.estimates > rule.last_estimates:
        yield (
            "estimates",
            (
                f"{rule.estimates} estimates are asked for, but only the last "
                f"{rule.last_estimates} count; make last_estimates at least {rule.estimates}."
            ),
        )
    yield from _more_days(rule.days, rule.estimates, "estimates")


_BY_KIND: Final = {
    ChanceRule: _chance,
    KOfNRule: _k_of_n,
    ShareRule: _share,
    GuessingRule: _guessing,
    SequentialRule: _sequential,
    ThresholdRule: _threshold,
}


def _more_days(days: int, glasses: int, key: str) -> Iterator[Finding]:
    if days > glasses:
        yield (
            "days",
            (
                f"days is {days} and {key} is {glasses}: every one would need more than one day; "
                f"make days at most {glasses}."
            ),
        )


def _met_by_guessing(key: str, share: float, methods: Sequence[str]) -> Iterator[Finding]:
    rates = [GUESS_RATES.get(name, 0.0) for name in methods]
    if share <= min(rates):
        yield (
            key,
            (
                f"{key} asks for a share of {share:.3g}, which guessing alone reaches "
                f"({min(rates):.3g} by {methods[rates.index(min(rates))]}); ask for more."
            ),
        )


def _window(rule: Any, months: int) -> Iterator[Finding]:  # noqa: ANN401
    days, longest = getattr(rule, "days", 0), LONGEST_MONTH * months
    if days > longest:
        yield (
            "days",
            (
                f"{days} days are asked for in a window of {counted(months, 'month')}, which has at most "
                f"{longest}; make days fewer or months more."
            ),
        )


def _sessions(rule: Glasses) -> Iterator[Finding]:
    if rule.last_sessions is None:
        return
    days, latest = getattr(rule, "days", 0), counted(rule.last_sessions, "session")
    if days > rule.last_sessions:
        yield (
            "last_sessions",
            (f"the last {latest} can't stand on {days} days; make last_sessions at least {days}."),
        )
    key, glasses = _asked_at_once(rule)
    if glasses > MOST_A_SESSION * rule.last_sessions:
        yield (
            key,
            (
                f"{key} is {glasses}, more than the last {latest} can hold "
                f"({MOST_A_SESSION} glasses each); make {key} smaller or last_sessions greater."
            ),
        )


def _asked_at_once(rule: Glasses) -> tuple[str, int]:
    """The glasses that the latest sessions must hold; none where windows or runs reach back."""
    if isinstance(rule, KOfNRule) and rule.windows == "sliding":
        return "of", rule.of
    if isinstance(rule, ShareRule | GuessingRule):
        return "glasses", rule.glasses
    return "", 0


def _band(rule: Glasses, counting: Counted | None) -> Iterator[Finding]:
    own = (rule.lowest_level, rule.highest_level)
    if own == (None, None):
        return
    lowest = own[0] if own[0] is not None else counting and counting.lowest_level
    highest = own[1] if own[1] is not None else counting and counting.highest_level
    if lowest is not None and highest is not None and lowest > highest:
        yield (
            "lowest_level" if own[0] is not None else "highest_level",
            (
                f"no glass can count: lowest_level is {lowest:g} and highest_level is {highest:g} "
                "(what a rule leaves out is taken from [counted]); widen the band."
            ),
        )
