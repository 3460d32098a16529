"""Who came in which month, and how many noses each shift has for each critical compound."""

from collections import defaultdict
from collections.abc import Sequence
from datetime import UTC, date, datetime
from typing import Final
from zoneinfo import ZoneInfo

from seatworthy.intake.words import fold
from seatworthy.rules.verdict import Standing
from seatworthy.steps.judging import Judged
from seatworthy.steps.labels import item_label
from seatworthy.steps.month_views import AttendanceRow, CoverRow
from seatworthy.steps.seen import Seen
from seatworthy.steps.sentences import sentence_start

ONE_SHIFT: Final = "All sittings"
AT_NOON: Final = 12


def attendance_rows(
    seen: Seen, judged: Judged, months: Sequence[date], after: date
) -> tuple[AttendanceRow, ...]:
    """Everybody who ever came, by name.

    Args:
        seen: The record.
        judged: The day judged.
        months: First days of the months, oldest first.
        after: The day before the first of them.
    """
    rows = seen.rows("month_attendance", after_on=after, until_on=seen.as_of)
    found: dict[str, dict[date, tuple[int, int]]] = defaultdict(dict)
    for row in rows:
        found[row["person_id"]][row["month_on"]] = (row["attended"], row["held"])
    return tuple(
        AttendanceRow(
            person_id=person,
            name=name,
            months=tuple(found[person].get(month) for month in months),
            attended=sum(came for came, _ in found[person].values()),
            held=sum(held for _, held in found[person].values()),
        )
        for person, name in judged.people.items()
        if person in found
    )


def cover_rows(
    seen: Seen, judged: Judged, family: str, after: date
) -> tuple[tuple[str, ...], tuple[CoverRow, ...]]:
    """Shifts, and by critical compound how many people meet it who came to each shift lately.

    Args:
        seen: The record.
        judged: The day judged.
        family: Beer family.
        after: Sittings after this day count as lately.
    """
    zone = seen.desk.time_zone
    came: dict[str, set[str]] = defaultdict(set)
    names: dict[str, str] = {}
    for row in seen.rows("shift_people", after_on=after, until_on=seen.as_of):
        name = shift_name(row["label"], row["starts_at"], zone)
        came[fold(name)].add(row["person_id"])
        names.setdefault(fold(name), name)
    shifts = sorted(came)
    rows = []
    for item in judged.critical[family]:
        able = {person for compound in item for person in _meets(judged, compound, family)}
        rows.append(
            CoverRow(
                item_label(item, judged.labels),
                tuple(len(able & came[shift]) for shift in shifts),
                len(able),
            )
        )
    return tuple(names[shift] for shift in shifts), tuple(rows)


def shift_name(label: str, starts_at: datetime | None, zone: ZoneInfo) -> str:
    """What a sitting's shift is called: its label, else the half of the day in which it began.

    Args:
        label: The sitting's label; may be "".
        starts_at: Its start in UTC; None if nobody stated it.
        zone: The brewery's time zone.
    """
    if label.strip():
        return sentence_start(label.strip())
    if starts_at is None:
        return ONE_SHIFT
    hour = starts_at.replace(tzinfo=UTC).astimezone(zone).hour
    return "Before noon" if hour < AT_NOON else "After noon"


def _meets(judged: Judged, compound: str, family: str) -> set[str]:
    return {
        person
        for (person, k, f), cell in judged.cells.items()
        if (k, f) == (compound, family) and cell.standing is Standing.MET
    }
