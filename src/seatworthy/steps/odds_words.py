"""Odds in plain sentences, of ten people each."""

from collections.abc import Sequence
from typing import Final

from seatworthy.steps.odds_views import OddsRow, RuleOdds, SeatRow
from seatworthy.steps.odds_year import Found
from seatworthy.steps.sentences import number_word

_NONE, _HARDLY, _NEARLY, _ALL = 0.005, 0.05, 0.95, 0.995
NEVER_DECIDED: Final = 0.005


def of_ten(chance: float) -> str:
    """How many of ten that is: none, hardly any, one ... nine, nearly all, all."""
    if chance < _NONE:
        return "none"
    if chance < _HARDLY:
        return "hardly any"
    if chance >= _ALL:
        return "all"
    return "nearly all" if chance >= _NEARLY else number_word(max(round(10 * chance), 1))


def rule_view(rule: str, kind: str, found: Found, *, asked_for: bool) -> RuleOdds:
    """The odds of one rule as they are shown."""
    odds = found.odds
    rows = tuple(
        OddsRow(
            who=one.who,
            truth=one.truth,
            met_at_end=float(odds.met_at_end[place]),
            ever_met=float(odds.ever_met[place]),
            not_met_at_end=float(odds.not_met_at_end[place]),
            ever_not_met=float(odds.ever_not_met[place]),
            too_little_at_end=max(
                float(1 - odds.met_at_end[place] - odds.not_met_at_end[place]), 0.0
            ),
        )
        for place, one in enumerate(found.kinds[: found.shown])
    )
    sentence = found.sentence or rule_sentence(rows[found.poor], rows[found.good], rows)
    return RuleOdds(rule, kind, rows, sentence, found.how, found.assumed, asked_for)


def rule_sentence(worst: OddsRow, good: OddsRow, rows: Sequence[OddsRow]) -> str:
    """What a rule comes to for two kinds of people.

    Args:
        worst: Somebody who should not meet it.
        good: Somebody who should.
        rows: All kinds, to say so where nothing is ever decided.
    """
    if max(max(row.ever_met, row.ever_not_met) for row in rows) < NEVER_DECIDED:
        return "With so few in a year it decides nothing: everybody stays at too little evidence."
    sentence = (
        f"Of ten people who {worst.who}, {of_ten(worst.ever_met)} would meet it within a year; "
        f"of ten who {good.who}, {of_ten(good.ever_met)}."
    )
    if good.ever_not_met >= _HARDLY:
        sentence += f" {of_ten(good.ever_not_met).capitalize()} of these would be not met some day."
    return sentence


def seat_sentence(rows: Sequence[SeatRow]) -> str:
    """What the seat rule comes to, from the guesser to the good."""
    worst, poor, good = rows
    return (
        f"Of ten people who {good.who} in every critical compound, {of_ten(good.seat)} would have "
        f"a seat when the year ends; of ten who {poor.who}, {of_ten(poor.seat)}; of ten who "
        f"{worst.who}, {of_ten(worst.seat)}."
    )
