"""The answers that are evidence, worked out once for all queries that rest on them."""

import re
import threading
from collections.abc import Sequence
from datetime import datetime
from functools import cache
from typing import Any

import duckdb

from seatworthy.store.sql_files import numbered_files

_VIEW = "scored_answer"
_KEPT = 3
_MADE = re.compile(r"create or replace view (\w+) as(.*?);", re.DOTALL)

_Asked = tuple[int, datetime | None, tuple[str, ...]]


class ScoredOnce:
    """Lends a cursor the rows of the view, in which many others stand, instead of its text.

    To plan and run the view takes ten times as long as what is asked of it. Rows are kept for the
    latest version of the store only, so that nothing outlives an act that takes it away.
    """

    def __init__(self) -> None:
        self._kept: dict[_Asked, Any] = {}
        self._keeping = threading.Lock()

    def lend(
        self,
        cursor: duckdb.DuckDBPyConnection,
        query: str,
        version: int,
        known_at: datetime | None,
        supposed_aside: Sequence[str],
    ) -> None:
        """Let a query's cursor read the kept rows, if the query rests on them.

        Args:
            cursor: The cursor, with its variables set.
            query: Text of the query.
            version: The store's version before the cursor was opened.
            known_at: As the cursor reads.
            supposed_aside: As the cursor reads.
        """
        if _rests_on().isdisjoint(_words(query)):
            return
        asked = (version, known_at, tuple(supposed_aside))
        with self._keeping:
            rows = self._kept.get(asked)
        if rows is None:
            rows = cursor.sql(f"select * from {_VIEW}").to_arrow_table()
            self._keep(asked, rows)
        cursor.register(_VIEW, rows)  # what a cursor has of its own goes before the store's

    def _keep(self, asked: _Asked, rows: object) -> None:
        with self._keeping:
            present = [kept for kept in self._kept if kept[0] == asked[0]]
            self._kept = {kept: self._kept[kept] for kept in present[1 - _KEPT :]}
            self._kept[asked] = rows


@cache
def _rests_on() -> frozenset[str]:
    """The view and every view that reads it, through others too."""
    found = {_VIEW}
    for _, path in numbered_files("3_evidence"):
        for name, text in _MADE.findall(path.read_text(encoding="utf-8")):
            if not found.isdisjoint(_words(text)):
                found.add(name)
    return frozenset(found)


@cache
def _words(query: str) -> frozenset[str]:
    lines = (line for line in query.splitlines() if not line.lstrip().startswith("--"))
    return frozenset(re.findall(r"\w+", "\n".join(lines)))
