"""Rules of a whole book that no evidence could meet, or that say two things at once."""

from collections.abc import Iterator, Mapping
from typing import Any, Final

import numpy as np

import seatworthy.rules.rulebook as book
from seatworthy.rules.compound_rules import AlsoRule, ChanceRule, Counted
from seatworthy.rules.impossible import Finding, findings_in
from seatworthy.rules.known_beers import impossible_in
from seatworthy.rules.person_rules import FalseCallRule, FalseCallShare, InsensitiveRule
from seatworthy.rules.reading_text import RulebookText
from seatworthy.rules.verdict import counted
from seatworthy.stats.false_calls import chance_false_calls_within

Parts = Mapping[str, Any]

_SHORTEST_OF_MANY_MONTHS: Final = 30  # days of a month where only the order of size matters
_MOST_BLANKS: Final = 500


def blame_contradictions(source: RulebookText, parts: Parts) -> None:
    """Note every rule that nobody could meet and every two rules that contradict each other.

    Args:
        source: Where they are noted.
        parts: The sections read so far, by name; None for one left out or blamed already.
    """
    counting = parts["counted"]
    for section, check in _ALONE.items():
        if parts[section] is not None:
            for key, sentence in check(parts[section]):
                source.blame((section, key), sentence)
    if parts["compound"] is not None:
        for key, sentence in _in_compound(parts["compound"], counting):
            source.blame(("compound", key), sentence)
    for nth, also in enumerate(parts["also"]):
        if also is not None:
            for key, sentence in _in_also(also, parts):
                source.blame(("also", nth, key), sentence)
    for section, key, sentence in _between(parts):
        source.blame((section, key), sentence)


def _in_compound(rule: Any, counting: Counted | None) -> Iterator[Finding]:  # noqa: ANN401
    yield from findings_in(rule, counting)
    if getattr(rule, "answers", "own") == "pooled":
        yield (
            "answers",
            (
                "answers = \"pooled\" can't decide: nobody is judged on other people's answers; "
                'write answers = "own".'
            ),
        )


def _in_also(also: AlsoRule, parts: Parts) -> Iterator[Finding]:
    yield from findings_in(also.rule, parts["counted"])
    if isinstance(also.rule, ChanceRule):
        yield from _in_also_by_chance(also, also.rule)
    critical = parts["critical"]
    items = len(also.compounds) or (len(critical) if critical is not None else None)
    if items is not None and also.met_in > items:
        yield (
            "met_in",
            (
                f"met_in asks for {also.met_in} compounds, but the rule looks at {items} (a group "
                f"counts once); make it at most {items}."
            ),
        )


def _in_also_by_chance(also: AlsoRule, rule: ChanceRule) -> Iterator[Finding]:
    if rule.answers == "pooled" and also.asked_for:
        yield (
            "answers",
            (
                'answers = "pooled" may only be shown: nobody is judged on other people\'s answers; '
                'write asked_for = false or answers = "own".'
            ),
        )
    if also.over == "together":
        yield (
            "over",
            (
                'over = "together" can\'t go with by = "chance": the estimate is of one compound; '
                'write over = "each".'
            ),
        )


def _counted(rule: Counted) -> Iterator[Finding]:
    if rule.lowest_level > rule.highest_level:
        yield (
            "lowest_level",
            (
                f"no glass can count: lowest_level is {rule.lowest_level:g}, above highest_level "
                f"({rule.highest_level:g}); make it the smaller."
            ),
        )


def _insensitive(rule: InsensitiveRule) -> Iterator[Finding]:
    if rule.strong_level < rule.threshold_above:
        yield (
            "strong_level",
            (
                f"glasses at {rule.strong_level:g} times threshold can't show an own threshold above "
                f"{rule.threshold_above:g}; make strong_level at least {rule.threshold_above:g}."
            ),
        )


def _false_calls(rule: FalseCallRule | FalseCallShare) -> Iterator[Finding]:
    if isinstance(rule, FalseCallShare):
        return
    chances = chance_false_calls_within(0, np.arange(1, _MOST_BLANKS + 1), rule.ceiling)
    if chances[rule.blanks - 1] >= rule.sure:
        return
    enough = np.flatnonzero(chances >= rule.sure)
    remedy = f"ask for at least {enough[0] + 1} blanks, " if enough.size else "ask for "
    yield (
        "blanks",
        (
            f"{rule.blanks} blanks without a single call make it only {chances[rule.blanks - 1]:.3f} "
            f"sure that the rate is at most {rule.ceiling:g}, and sure asks for {rule.sure:g}; "
            f"{remedy}a higher ceiling or a smaller sure."
        ),
    )


def _seat(rule: book.SeatRule) -> Iterator[Finding]:
    valid = _SHORTEST_OF_MANY_MONTHS * rule.valid_months
    for key, days in (("notice_days", rule.notice_days), ("grace_days", rule.grace_days)):
        if days > valid:
            yield (
                key,
                (
                    f"{key} is {days} days, longer than a seat is valid ({counted(rule.valid_months, 'month')}); "
                    f"make it at most {valid}."
                ),
            )


def _recheck(rule: book.RecheckRule) -> Iterator[Finding]:
    if rule.right > rule.glasses:
        yield (
            "right",
            (
                f"{rule.right} right of {rule.glasses} glasses can't be; make right at most "
                f"{rule.glasses}."
            ),
        )


def _panel(rule: book.PanelRule) -> Iterator[Finding]:
    for key in ("people_per_compound", "from_other_crews", "trades", "callers_for_fault"):
        if getattr(rule, key) > rule.quorum:
            yield (
                key,
                (
                    f"{key} is {getattr(rule, key)}, more than a full quorum of {rule.quorum} people; "
                    f"make it at most {rule.quorum} or the quorum larger."
                ),
            )
    if rule.callers_for_retaste > rule.callers_for_fault:
        yield (
            "callers_for_retaste",
            (
                f"callers_for_retaste is {rule.callers_for_retaste}, but {rule.callers_for_fault} "
                "callers make a fault call already; make it at most that."
            ),
        )


_ALONE: Final = {
    "counted": _counted,
    "insensitive": _insensitive,
    "false_calls": _false_calls,
    "knows_beer": impossible_in,
    "seat": _seat,
    "recheck": _recheck,
    "panel": _panel,
}


def _between(parts: Parts) -> Iterator[tuple[str, str, str]]:
    """Contradictions between two sections, on the key of the one to change."""
    seat, start_up, critical = parts["seat"], parts["start_up"], parts["critical"]
    if seat and critical is not None and seat.critical_met > len(critical):
        yield (
            "seat",
            "critical_met",
            (
                f"{seat.critical_met} critical compounds are asked for, but [critical] lists "
                f"{len(critical)} (a group counts once); make critical_met at most {len(critical)}."
            ),
        )
    if seat and start_up and start_up.critical_met > seat.critical_met:
        yield (
            "start_up",
            "critical_met",
            (
                f"the start asks for {start_up.critical_met} critical compounds, more than a seat "
                f"({seat.critical_met}); make it at most {seat.critical_met}."
            ),
        )
