"""Every jug of the last months that is to be suspected, planned here or brought in from a file."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, Final

from seatworthy.rules.calendar_months import months_before
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import judge_day
from seatworthy.steps.labels import short_label
from seatworthy.steps.suspicion import suspicion_words, suspicions

NOTHING_ADDED: Final = "Nothing added"
SAME_JUG: Final = "By its mark from the same jug as the one above; look at it too."
SET_ASIDE: Final = "Set aside."

Row = Mapping[str, Any]


@dataclass(frozen=True)
class DoubtfulJug:
    """One preparation to look at, or one that was set aside.

    Attributes:
        session: The session's label with its sitting's.
        is_planned: Whether the session was planned here, so that it has a reveal.
        what: Compound, or that nothing was added.
        level: Multiple of the working threshold; None for a blank or where not known.
        named_right: Answers named right, or for a blank: nothing noticed.
        answers: Answers that count, or would if it were not set aside.
        is_aside: Whether it was set aside.
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
    is_aside: bool
    sentence: str


@dataclass(frozen=True)
class DoubtfulJugs:
    """What was found, and among how many.

    Attributes:
        looked_at: Jugs looked at, those set aside left out.
        months: How far back.
        jugs: Those to look at, the newest first; others of the same jug right after them.
        aside: Those that were set aside.
    """

    looked_at: int
    months: int
    jugs: tuple[DoubtfulJug, ...]
    aside: tuple[DoubtfulJug, ...]


def doubtful_jugs(desk: Desk) -> DoubtfulJugs:
    """Jugs of the window in which glasses count whose answers speak against them.

    Takes a few seconds for a year of sessions.
    """
    judged = judge_day(desk)
    months = judged.rulebook.counted.months
    rows = desk.store.rows(
        "sample_tally", after_on=months_before(judged.as_of, months), until_on=judged.as_of
    )
    in_use = [row for row in rows if not row["is_aside"]]
    kin = _kin(in_use)
    found = suspicions(
        judged.evidence, [[row["sample_id"] for row in one] for one in kin], judged.rulebook
    )
    jugs = []
    for alike in kin:
        doubted = [row for row in alike if row["sample_id"] in found]
        for row in doubted:
            why = suspicion_words(
                found[row["sample_id"]], row["answers"], row["named_right"], judged.labels
            )
            jugs.append(_jug(row, judged.labels, why))
        others = [row for row in alike if doubted and row not in doubted]
        jugs += [_jug(row, judged.labels, SAME_JUG) for row in others]
    aside = [_jug(row, judged.labels, SET_ASIDE) for row in rows if row["is_aside"]]
    return DoubtfulJugs(len(in_use), months, tuple(jugs), tuple(aside))


def _kin(rows: Iterable[Row]) -> list[list[Row]]:
    """Rows of what may have been one jug: same session, mark and compound; blanks stand alone."""
    alike: dict[tuple[str, ...], list[Row]] = defaultdict(list)
    for row in rows:
        is_alone = row["compound"] is None or not row["mark"]
        own = row["sample_id"] if is_alone else ""
        alike[row["session_id"], row["mark"], row["compound"] or "", own].append(row)
    return list(alike.values())


def _jug(row: Row, labels: Mapping[str, str], sentence: str) -> DoubtfulJug:
    label = labels.get(row["compound"] or "")
    return DoubtfulJug(
        sample_id=row["sample_id"],
        session_id=row["session_id"],
        session_on=row["session_on"],
        session=" ".join(filter(None, [row["session_label"], row["sitting"]])),
        mark=row["mark"],
        is_planned=row["is_planned"],
        what=NOTHING_ADDED if label is None else short_label(label),
        level=row["total_level"],
        named_right=row["named_right"],
        answers=row["answers"],
        is_aside=row["is_aside"],
        sentence=sentence,
    )
