"""What somebody tasted up to a day: how they began, and month by month."""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from datetime import date, datetime
from typing import Any, Final

from seatworthy.steps.audit_views import AuditColumn, AuditSection, AuditTable, table_of
from seatworthy.steps.desk import Desk
from seatworthy.steps.history_phrases import counted, plain_day
from seatworthy.steps.labels import short_label
from seatworthy.steps.sentences import in_sentence

_FIRST_SESSIONS: Final = 5
_BLANK: Final = "blanks"
NOTHING_TASTED: Final = "No glass that counts as evidence up to this day."
FEEDBACK: Final = (
    "Everybody can have a page about their own glasses after each session; that it was handed over is "
    "not recorded."
)

_Row = Mapping[str, Any]


class Training:
    """One panellist's glasses in any beer, up to a day.

    Args:
        desk: The open store.
        person_id: Whose.
        as_of: The last day.
        known_at: Read the record as it stood then (UTC); None for today's record.
    """

    def __init__(self, desk: Desk, person_id: str, as_of: date, known_at: datetime | None) -> None:
        self._rows: Sequence[_Row] = desk.store.rows(
            "person_training", known_at, person_id=person_id, until_on=as_of
        )
        people = desk.store.rows("panel_people", known_at)
        own = next((row for row in people if row["person_id"] == person_id), None)
        self._since: date | None = own["since_on"] if own else None

    def selection(self) -> AuditSection:
        """How it began: first day, first sessions."""
        since = [f"On the panel since {plain_day(self._since)}."] if self._since else []
        sessions = self._by_session()
        if not sessions:
            return AuditSection("selection", "Selection", (*since, NOTHING_TASTED))
        first = sessions[0][0]
        table = table_of(
            (
                AuditColumn("day", "day", 18),
                AuditColumn("session", "session", 40, may_lack=True),
                AuditColumn("purpose", "purpose", 20, may_lack=True),
                AuditColumn("glasses", "spiked glasses", 12),
                AuditColumn("right", "of these named or picked right", 12),
                AuditColumn("blanks", "blanks", 12),
                AuditColumn("right", "of these called blank", 12),
            ),
            tuple(_session_row(rows) for rows in sessions[:_FIRST_SESSIONS]),
        )
        began = f"First glasses on {plain_day(first['session_on'])}; the first sessions:"
        return AuditSection("selection", "Selection", (*since, began), table)

    def training(self) -> AuditSection:
        """Sessions and glasses by month and compound, in any beer."""
        months: dict[tuple[int, int], list[_Row]] = defaultdict(list)
        for row in self._rows:
            months[row["session_on"].year, row["session_on"].month].append(row)
        if not months:
            return AuditSection("training", "Training and glasses poured", (NOTHING_TASTED,))
        spiked, blanks = _totals(self._rows)
        sessions = counted(len(self._by_session()), "session")
        told = (
            f"{sessions}; {counted(spiked[1], 'glass', 'glasses')} with something in it, "
            f"{spiked[0]} named or picked right; {counted(blanks[1], 'blank')}, {blanks[0]} called "
            "blank. In every beer, by month; right of glasses."
        )
        table = AuditTable(
            (
                AuditColumn("month", "month", 14),
                AuditColumn("sessions", "sessions", 12),
                AuditColumn("glasses", "spiked glasses", 12),
                AuditColumn("right", "of these named or picked right", 10),
                AuditColumn("right of glasses by compound", "right of glasses by compound", 96),
            ),
            tuple(_month_row(month, rows) for month, rows in months.items()),
        )
        return AuditSection("training", "Training and glasses poured", (told, FEEDBACK), table)

    def _by_session(self) -> list[list[_Row]]:
        found: dict[str, list[_Row]] = defaultdict(list)
        for row in self._rows:
            found[row["session_id"]].append(row)
        return list(found.values())


def _totals(rows: Sequence[_Row]) -> tuple[tuple[int, int], tuple[int, int]]:
    """Right ones and glasses, of spiked glasses and of blanks."""
    spiked = [row for row in rows if row["compound"] is not None]
    blanks = [row for row in rows if row["compound"] is None]
    return _sums(spiked), _sums(blanks)


def _sums(rows: Sequence[_Row]) -> tuple[int, int]:
    return sum(row["right_ones"] for row in rows), sum(row["glasses"] for row in rows)


def _session_row(rows: Sequence[_Row]) -> tuple[date, str, str, int, int, int, int]:
    (right, glasses), (blank, blanks) = _totals(rows)
    first = rows[0]
    return first["session_on"], first["session"], first["purpose"], glasses, right, blanks, blank


def _month_row(month: tuple[int, int], rows: Sequence[_Row]) -> tuple[str, int, int, int, str]:
    (right, glasses), _ = _totals(rows)
    poured: Counter[str] = Counter()
    named: Counter[str] = Counter()
    for row in rows:
        label = _BLANK if row["compound"] is None else in_sentence(short_label(row["label"]))
        poured[label] += row["glasses"]
        named[label] += row["right_ones"]
    labels = sorted(poured, key=lambda label: (label == _BLANK, label.casefold()))
    told = ", ".join(f"{label} {named[label]} of {poured[label]}" for label in labels)
    sessions = len({row["session_id"] for row in rows})
    return f"{month[0]}-{month[1]:02d}", sessions, glasses, right, told
