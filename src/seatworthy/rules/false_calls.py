"""Judges calls in unspiked glasses."""

from dataclasses import dataclass

from seatworthy.rules.counting import limit_text, percent_beside
from seatworthy.rules.person_rules import FalseCallRule, FalseCallShare
from seatworthy.rules.verdict import Standing, Verdict, counted, percent

RULE = "false calls"
MOST_TRIED = 100


@dataclass(frozen=True, slots=True)
class BlankCounts:
    """Blanks of one panellist in the window.

    Attributes:
        blanks: Unspiked glasses, those the beer may explain left out.
        false_calls: Of these, glasses in which something was called.
        possible_background: Calls that the beer may explain; listed, not counted.
        chance_within: Chance that the true rate is at most the ceiling (weak prior); a rule that
            goes by the bare share does not look at it.
        chance_within_after: The same if 0, 1, 2 ... more blanks stayed without a call.
    """

    blanks: int
    false_calls: int
    possible_background: int
    chance_within: float
    chance_within_after: tuple[float, ...] = ()


def judge_false_calls(seen: BlankCounts, rule: FalseCallRule | FalseCallShare) -> Verdict:
    """Met, not met or too little evidence on the rate of false calls."""
    if isinstance(rule, FalseCallShare):
        return _judge_share(seen, rule)
    sentence = _with_remarks(_counts(seen, rule), seen, rule)
    if seen.blanks >= rule.blanks and seen.chance_within >= rule.sure:
        return Verdict(RULE, Standing.MET, sentence)
    if seen.blanks >= rule.blanks and seen.chance_within <= 1 - rule.sure:
        return Verdict(RULE, Standing.NOT_MET, sentence, _way(seen, rule))
    return Verdict(RULE, Standing.TOO_LITTLE, sentence, _way(seen, rule))


def _judge_share(seen: BlankCounts, rule: FalseCallShare) -> Verdict:
    """By the bare share of calls: met at the ceiling or below, not met above it."""
    sentence = _with_remarks(_share_of_calls(seen, rule), seen, rule)
    if seen.blanks < rule.blanks:
        return Verdict(RULE, Standing.TOO_LITTLE, sentence, _way_by_share(seen, rule))
    if _is_within(seen.false_calls, seen.blanks, rule):
        return Verdict(RULE, Standing.MET, sentence)
    return Verdict(RULE, Standing.NOT_MET, sentence, _way_by_share(seen, rule))


def _is_within(calls: int, blanks: int, rule: FalseCallShare) -> bool:
    return calls / blanks <= rule.ceiling


def _with_remarks(sentence: str, seen: BlankCounts, rule: FalseCallRule | FalseCallShare) -> str:
    """The counts, with what is asked for while blanks are few, and what the beer may explain."""
    if seen.blanks < rule.blanks:
        sentence += f" At least {rule.blanks} blanks in {rule.months} months are asked for."
    if seen.possible_background:
        calls = counted(seen.possible_background, "more call")
        sentence += f" {calls.capitalize()} may be the beer's own background."
    return sentence


def _share_of_calls(seen: BlankCounts, rule: FalseCallShare) -> str:
    if not seen.blanks:
        return "No blanks tasted yet."
    share = percent_beside(seen.false_calls / seen.blanks, rule.ceiling)
    found = f"{counted(seen.false_calls, 'false call')} in {counted(seen.blanks, 'blank')}"
    return f"{found.capitalize()} ({share}); at most {limit_text(rule.ceiling)} are allowed."


def _way_by_share(seen: BlankCounts, rule: FalseCallShare) -> str:
    """The fewest further blanks without a call that would do, by trying."""
    for more in range(1, max(MOST_TRIED, rule.blanks) + 1):
        blanks = seen.blanks + more
        if blanks >= rule.blanks and _is_within(seen.false_calls, blanks, rule):
            return f"{counted(more, 'more blank')} without a call would be enough."
    return "The calls must first grow too old to count: no number of blanks makes up for them."


def _counts(seen: BlankCounts, rule: FalseCallRule) -> str:
    if not seen.blanks:
        return "No blanks tasted yet."
    return (
        f"{counted(seen.false_calls, 'false call')} in {counted(seen.blanks, 'blank')}; "
        f"{percent(seen.chance_within)} sure of at most {percent(rule.ceiling)}."
    ).capitalize()


def _way(seen: BlankCounts, rule: FalseCallRule) -> str:
    least = max(rule.blanks - seen.blanks, 1)
    for more, chance in enumerate(seen.chance_within_after):
        if more >= least and chance >= rule.sure:
            return f"{counted(more, 'more blank')} without a call would be enough."
    return f"More than {len(seen.chance_within_after) - 1} blanks without a call would be needed."
