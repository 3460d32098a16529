"""The compounds of one session beside one person's own past, and where they stand now."""

from collections.abc import Sequence
from typing import Any

from seatworthy.rules.verdict import Standing
from seatworthy.steps.chances import chance_to_name
from seatworthy.steps.judging import Judged
from seatworthy.steps.reveal_views import ProgressRow
from seatworthy.steps.sentences import day_in_sentence
from seatworthy.steps.session_facts import SessionFacts
from seatworthy.steps.session_parts import Glass


def progress_rows(
    facts: SessionFacts,
    own: Sequence[Glass],
    counted: Sequence[Glass],
    past: Sequence[dict[str, Any]],
    after: Judged,
) -> tuple[ProgressRow, ...]:
    """One row a compound that the person was served, by name.

    Args:
        facts: The closed session.
        own: The person's answered glasses in it, at least one.
        counted: Of these, those that count.
        past: Their spiked naming glasses of the twelve months before.
        after: Everybody's standing with this session.
    """
    served = {
        compound
        for glass in own
        if (compound := facts.samples[glass.sample_id].compound) is not None
    }
    person = own[0].person_id
    rows = [_row(facts, compound, person, counted, past, after) for compound in served]
    return tuple(sorted(rows, key=lambda row: row.label.casefold()))


def _row(
    facts: SessionFacts,
    compound: str,
    person: str,
    counted: Sequence[Glass],
    past: Sequence[dict[str, Any]],
    after: Judged,
) -> ProgressRow:
    now = [
        facts.outcome(glass)
        for glass in counted
        if facts.samples[glass.sample_id].compound == compound
    ]
    family = facts.head.family or ""
    before = [
        row["outcome"]
        for row in past
        if (row["compound"], row["family"]) == (compound, family) and row["is_counted"]
    ]
    cell = (person, compound, family)
    chance = chance_to_name(after, cell) if cell in after.cells else None
    return ProgressRow(
        label=facts.compound_label(compound),
        standing=str(after.cells[cell].standing) if cell in after.cells else "no_glasses",
        now_right=now.count("right"),
        now_glasses=len(now),
        before_right=before.count("right"),
        before_glasses=len(before),
        chance=chance.mean if chance else None,
        low=chance.low if chance else None,
        high=chance.high if chance else None,
        words=_words(after, cell),
    )


def _words(after: Judged, cell: tuple[str, str, str]) -> str:
    """What is missing, or until when it stands, in a few words."""
    verdict = after.cells.get(cell)
    if verdict is None:
        return ""
    if verdict.standing is Standing.INSENSITIVE:
        return "No fault; you aren't counted on for it."
    if verdict.standing is Standing.MET and verdict.until is not None:
        return f"kept until {day_in_sentence(verdict.until, after.as_of)}"
    return verdict.verdict.change
