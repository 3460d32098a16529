"""Judges a compound by so many right of a window of so many glasses."""

from collections.abc import Iterator, Sequence
from datetime import date

from seatworthy.rules.compound import RULE, CompoundVerdict, day_text
from seatworthy.rules.compound_rules import Counted, KOfNRule
from seatworthy.rules.counting import (
    days_of,
    glasses_ever,
    glasses_that_count,
    last_day_counted,
    months_of,
    right_of,
    right_word,
    servings_of,
)
from seatworthy.rules.facts import Glass
from seatworthy.rules.verdict import Standing, Verdict, counted

Window = Sequence[Glass]


def judge_k_of_n(
    glasses: Sequence[Glass], today: date, rule: KOfNRule, counting: Counted
) -> CompoundVerdict:
    """The latest full window that decides gives the standing; windows between change nothing.

    A full window decides if it has enough days and either ``right`` or more right (met) or
    ``leave_at`` or fewer (not met). Windows "apart" are cut from the oldest glass on, over all
    glasses that count by method and level, however old: cut inside a moving window of months they
    would be cut anew every day. "Sliding" windows are the latest glasses at the end of each day
    with a glass, within the months and latest sessions as they were then. Either way a standing
    lapses once the last glass of the window that gave it is older than the months (or the latest
    sessions) of the rule.

    Args:
        glasses: Glasses of one panellist and compound, in any order.
        today: The day asked.
        rule: The rule in force.
        counting: Which glasses count where the rule says nothing.

    Returns:
        The verdict without its end and without what would change it; behind it stand the glasses
        of the window that gave it, else of the latest window, full or not.
    """
    ever = glasses_ever(glasses, today, rule, counting)
    current = glasses_that_count(glasses, today, rule, counting)
    latest: Window = ()
    for window in _full_windows(ever, rule, counting):
        if not current or window[-1].day < current[0].day:
            break
        latest = latest or window
        if (standing := _standing_of(window, rule)) is not Standing.TOO_LITTLE:
            return _given(window, latest, standing, rule, counting)
    seen = _unfilled(ever, current, rule)
    few = Verdict(RULE, Standing.TOO_LITTLE, _undecided(seen, latest, ever, rule))
    return CompoundVerdict(few, behind=servings_of(seen or latest))


def _full_windows(ever: Window, rule: KOfNRule, counting: Counted) -> Iterator[Window]:
    """Windows of ``of`` glasses, the latest first."""
    if rule.windows == "apart":
        for last in range(len(ever) // rule.of * rule.of, 0, -rule.of):
            yield ever[last - rule.of : last]
        return
    for day in sorted({glass.day for glass in ever}, reverse=True):
        window = glasses_that_count(ever, day, rule, counting)[-rule.of :]
        if len(window) == rule.of:
            yield window


def _standing_of(window: Window, rule: KOfNRule) -> Standing:
    """What a full window says by itself; too little where it decides nothing."""
    right = right_of(window)
    if days_of(window) < rule.days or rule.leave_at < right < rule.right:
        return Standing.TOO_LITTLE
    return Standing.MET if right >= rule.right else Standing.NOT_MET


def _unfilled(ever: Window, current: Window, rule: KOfNRule) -> Window:
    """Glasses that wait for their window to be full."""
    if rule.windows == "apart":
        return ever[len(ever) // rule.of * rule.of :]
    return current if len(current) < rule.of else ()


def _given(
    window: Window, latest: Window, standing: Standing, rule: KOfNRule, counting: Counted
) -> CompoundVerdict:
    asked = (
        f"{rule.right} are asked for"
        if standing is Standing.MET
        else f"{rule.right} meet it, {rule.leave_at} or fewer do not"
    )
    sentence = f"{_found(window, rule)}; {asked}."
    if latest is not window:
        ends = last_day_counted(window[-1].day, months_of(rule, counting))
        sentence += (
            f" It stands until {day_text(ends)}: {right_of(latest)} of the latest {rule.of} "
            "change nothing."
        )
    verdict = Verdict(RULE, standing, sentence)
    if standing is Standing.NOT_MET:
        return CompoundVerdict(verdict, behind=servings_of(window))
    is_fresh = latest is window
    return CompoundVerdict(verdict, window[-1].day, None, is_fresh, behind=servings_of(window))


def _undecided(seen: Window, latest: Window, ever: Window, rule: KOfNRule) -> str:
    """Why nothing is decided: few glasses, few days, a number in between, or all too old."""
    if not ever:
        return "No glasses counted yet."
    if latest and days_of(latest) < rule.days:
        days = counted(days_of(latest), "day")
        return f"{_found(latest, rule)}, over {days}; {rule.days} days are asked for."
    if latest:
        return (
            f"{_found(latest, rule)}; {rule.right} meet it, {rule.leave_at} or fewer do not, "
            "between the two nothing is decided."
        )
    if not seen:
        return f"What was found up to {day_text(ever[-1].day)} is too old to count."
    found = f"{right_of(seen)} of {counted(len(seen), 'glass')} {right_word(rule)} so far"
    return f"{found}; judged on a full window of {rule.of}."


def _found(window: Window, rule: KOfNRule) -> str:
    first, last = window[0].day, window[-1].day
    when = f"on {day_text(first)}" if first == last else f"{day_text(first)} to {day_text(last)}"
    return f"{right_of(window)} of {counted(len(window), 'glass')} {right_word(rule)} ({when})"
