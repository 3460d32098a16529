"""Every jug of the last months that is to be suspected, planned here or brought in from a file."""

from dataclasses import dataclass
from datetime import date

from seatworthy.steps.calendar_months import months_before
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import judge_day
from seatworthy.steps.labels import short_label
from seatworthy.steps.suspicion import suspicion_words, suspicions

NOTHING_ADDED = "Nothing added"


@dataclass(frozen=True)
class DoubtfulJug:
    """One preparation to look at.

    Attributes:
        session: The session's label, or its sitting's where it has none.
        is_planned: Whether the session was planned here, so that it has a reveal.
        what: Compound, or that nothing was added.
        level: Multiple of the working threshold; None for a blank or where not known.
        named_right: Answers named right, or for a blank: nothing noticed.
        answers: Answers that count.
        sentence: Why to look at it, with its odds.
    """

    sample_id: str
    session_id: str
    session_on: date
    session: str
    mark: str
    is_planned: bool
    what: str
    level: float | None
    named_right: int
    answers: int
    sentence: str


def doubtful_jugs(desk: Desk) -> tuple[DoubtfulJug, ...]:
    """Jugs of the window in which glasses count whose answers speak against them, the newest first.

    What was set aside is left out. Takes a few seconds for a year of sessions.
    """
    judged = judge_day(desk)
    rows = desk.store.rows(
        "sample_tally",
        after_on=months_before(judged.as_of, judged.rulebook.counted.months),
        until_on=judged.as_of,
    )
    found = suspicions(judged.evidence, [[row["sample_id"]] for row in rows], judged.rulebook)
    return tuple(
        DoubtfulJug(
            sample_id=row["sample_id"],
            session_id=row["session_id"],
            session_on=row["session_on"],
            session=" ".join(filter(None, [row["session_label"], row["sitting"]])),
            mark=row["mark"],
            is_planned=row["is_planned"],
            what=_label(judged.labels.get(row["compound"] or "")),
            level=row["total_level"],
            named_right=row["named_right"],
            answers=row["answers"],
            sentence=suspicion_words(
                found[row["sample_id"]], row["answers"], row["named_right"], judged.labels
            ),
        )
        for row in rows
        if row["sample_id"] in found
    )


def _label(label: str | None) -> str:
    return NOTHING_ADDED if label is None else short_label(label)
