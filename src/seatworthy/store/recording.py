"""One act of recording: its rows, the moment they are dated with, and the entry that seals them."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime, timedelta

import duckdb

from seatworthy.store.history import Entry, facts_by_entry

_ROWS_AT_ONCE = 100


class Recording:
    """One act of recording: rows added here are stored together or not at all.

    Attributes:
        entry_no: Number of the history entry.
        recorded_at: Its moment, UTC.
        cursor: The transaction; ``entry_no`` and ``recorded_at`` are variables in it.
        tables: Tables that got facts; whoever writes through the cursor adds them here.
    """

    def __init__(self, cursor: duckdb.DuckDBPyConnection, entry_no: int) -> None:
        self.cursor = cursor
        self.entry_no = entry_no
        self.tables: set[str] = set()
        self.recorded_at = _moment_after_the_last(cursor)
        cursor.execute(f"set variable entry_no = {entry_no:d}")
        cursor.execute(f"set variable recorded_at = timestamp '{self.recorded_at}'")

    def add(self, table: str, row: Mapping[str, object]) -> None:
        """Add one row to a table, dated with this entry."""
        self.add_all([(table, row)])

    def add_all(self, rows: Iterable[tuple[str, Mapping[str, object]]]) -> None:
        """Add rows, each with the name of its table; for hundreds, not for many thousands."""
        alike: dict[tuple[str, tuple[str, ...]], list[Mapping[str, object]]] = {}
        for table, row in rows:
            alike.setdefault((table, tuple(row)), []).append(row)
        for (table, names), group in alike.items():
            self.tables.add(table)
            self._insert(table, (*names, "entry_no", "recorded_at"), group)

    def _insert(
        self, table: str, names: tuple[str, ...], rows: Sequence[Mapping[str, object]]
    ) -> None:
        marks = f"({', '.join('?' for _ in names)})"
        for start in range(0, len(rows), _ROWS_AT_ONCE):
            some = rows[start : start + _ROWS_AT_ONCE]
            values = [v for row in some for v in (*row.values(), self.entry_no, self.recorded_at)]
            lines = ", ".join(marks for _ in some)
            self.cursor.execute(f"insert into {table} ({', '.join(names)}) values {lines}", values)


def _moment_after_the_last(cursor: duckdb.DuckDBPyConnection) -> datetime:
    """Now in UTC, and never before the last entry, even where the clock was set back."""
    now = datetime.now(UTC).replace(tzinfo=None)
    (last,) = cursor.execute("select max(recorded_at) from history").fetchone() or (None,)
    return now if last is None else max(now, last + timedelta(microseconds=1))


def seal(act: Recording, kind: str, previous: str) -> bool:
    """End an act with its entry in the history; False, and no entry, where it added no fact.

    Args:
        act: The act, its transaction still open.
        kind: What was done.
        previous: Digest of the entry before, zeros for the first.
    """
    found = facts_by_entry(act.cursor, act.entry_no, act.tables)
    if act.entry_no not in found:
        return False
    facts, digest = found[act.entry_no]
    entry = Entry(act.entry_no, act.recorded_at, kind, facts, digest, previous)
    act.cursor.execute(
        "insert into history values (?, ?, ?, ?, ?, ?, ?)",
        [entry.entry_no, entry.recorded_at, kind, facts, digest, previous, entry.digest],
    )
    return True
