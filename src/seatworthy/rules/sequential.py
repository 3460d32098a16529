"""Judges a compound by Wald's two lines: met, not met, or go on."""

import math
from collections.abc import Sequence
from datetime import date

from seatworthy.rules.compound import RULE, CompoundVerdict, day_text
from seatworthy.rules.compound_rules import Counted, SequentialRule
from seatworthy.rules.counting import (
    ROUNDING,
    glasses_ever,
    glasses_that_count,
    right_of,
    right_word,
    servings_of,
)
from seatworthy.rules.facts import Glass
from seatworthy.rules.verdict import Standing, Verdict, counted
from seatworthy.stats.sequential import Lines, RunState, follow_run, wald_lines


def judge_sequential(
    glasses: Sequence[Glass], today: date, rule: SequentialRule, counting: Counted
) -> CompoundVerdict:
    """Follow run after run: the last one that ended decides, the open one says "go on".

    When a run ends, the next glass starts a new one. Runs are followed over all glasses that count
    by method and level, however old, since runs cut anew every day would be another test; what a
    run decided lapses once its last glass is older than the months (or the latest sessions) of
    the rule.

    Args:
        glasses: Glasses of one panellist and compound, in any order.
        today: The day asked.
        rule: The rule in force.
        counting: Which glasses count where the rule says nothing.

    Returns:
        The verdict without its end and without what would change it; behind it stand the glasses
        of the run that decided, else those of the open run.
    """
    lines = wald_lines(rule.poor, rule.good, rule.wrongly_met, rule.wrongly_not_met)
    ended, state, going = _runs(glasses_ever(glasses, today, rule, counting), lines)
    current = glasses_that_count(glasses, today, rule, counting)
    if not ended or not current or ended[-1].day < current[0].day:
        sentence = _open(going, lines, rule)
        if ended:
            sentence = f"What a run decided on {day_text(ended[-1].day)} has lapsed. {sentence}"
        few = Verdict(RULE, Standing.TOO_LITTLE, sentence)
        return CompoundVerdict(few, behind=servings_of(going))
    sentence = (
        f"A run of {counted(len(ended), 'glass')} ended on {day_text(ended[-1].day)} with "
        f"{right_of(ended)} {right_word(rule)}."
    )
    sentence += f" {_open(going, lines, rule)}" if going else ""
    if state is RunState.FINDS_IT:
        met = Verdict(RULE, Standing.MET, sentence)
        is_fresh = not going
        return CompoundVerdict(met, ended[-1].day, None, is_fresh, behind=servings_of(ended))
    return CompoundVerdict(Verdict(RULE, Standing.NOT_MET, sentence), behind=servings_of(ended))


def _runs(
    glasses: Sequence[Glass], lines: Lines
) -> tuple[Sequence[Glass], RunState, Sequence[Glass]]:
    """The last run that ended, what it showed, and the run still open; each may be empty."""
    ended: Sequence[Glass] = ()
    state = RunState.STILL_OPEN
    going = glasses
    while True:
        run = follow_run([glass.is_right for glass in going], lines)
        if run.decided_at is None:
            return ended, state, going
        ended, state, going = going[: run.decided_at], run.state, going[run.decided_at :]


def _open(going: Sequence[Glass], lines: Lines, rule: SequentialRule) -> str:
    """How the open run stands between its lines."""
    number = len(going)
    if not number:
        return "No glasses counted yet in the open run."
    reach = math.ceil(lines.high + lines.slope * number - ROUNDING)
    leave = math.floor(lines.low + lines.slope * number + ROUNDING)
    high = f"{reach} would meet it" if reach <= number else "too few to meet it yet"
    low = f"{leave} would not" if leave >= 0 else "too few to fail it yet"
    found = f"{right_of(going)} of {number} {right_word(rule)} in the open run"
    return f"{found} ({high}, {low}): go on."
