"""Judges calls in unspiked glasses."""

from dataclasses import dataclass

from seatworthy.rules.rulebook import FalseCallRule
from seatworthy.rules.verdict import Standing, Verdict, counted, percent

RULE = "false calls"


@dataclass(frozen=True, slots=True)
class BlankCounts:
    """Blanks of one panellist in the window.

    Attributes:
        blanks: Unspiked glasses, those the beer may explain left out.
        false_calls: Of these, glasses in which something was called.
        possible_background: Calls that the beer may explain; listed, not counted.
        chance_within: Chance that the true rate is at most the ceiling (weak prior).
        chance_within_after: The same if 0, 1, 2 ... more blanks stayed without a call.
    """

    blanks: int
    false_calls: int
    possible_background: int
    chance_within: float
    chance_within_after: tuple[float, ...] = ()


def judge_false_calls(seen: BlankCounts, rule: FalseCallRule) -> Verdict:
    """Met, not met or too little evidence on the rate of false calls."""
    sentence = _counts(seen, rule)
    if seen.blanks < rule.blanks:
        sentence += f" At least {rule.blanks} blanks in {rule.months} months are asked for."
    if seen.possible_background:
        calls = counted(seen.possible_background, "more call")
        sentence += f" {calls.capitalize()} may be the beer's own background."
    if seen.blanks >= rule.blanks and seen.chance_within >= rule.sure:
        return Verdict(RULE, Standing.MET, sentence)
    if seen.blanks >= rule.blanks and seen.chance_within <= 1 - rule.sure:
        return Verdict(RULE, Standing.NOT_MET, sentence, _way(seen, rule))
    return Verdict(RULE, Standing.TOO_LITTLE, sentence, _way(seen, rule))


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
