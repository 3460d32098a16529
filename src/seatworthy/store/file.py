"""The store: one file, owned by one process, read through cursors, written one act at a time."""

import threading
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from datetime import datetime
from pathlib import Path
from typing import Any, Self

import duckdb
from numpy.typing import NDArray

from seatworthy.errors import StoreError, StoreReadOnly
from seatworthy.store import schema
from seatworthy.store.connecting import connect, connect_somehow, translated
from seatworthy.store.history import last_entry
from seatworthy.store.readers import Readers
from seatworthy.store.recording import Recording, seal
from seatworthy.store.scored_once import ScoredOnce
from seatworthy.store.sql_files import query_text
from seatworthy.store.upgrading import copy_before_upgrade

Columns = dict[str, NDArray[Any]]

_PATIENCE_S = 2.0  # how long to wait for readers before the file is opened anew
_MANY_WAIT_S = 5.0  # how long one of many acts may stand in the journal alone
_OLDER_AND_READ_ONLY = (
    "{} was made by another version of Seatworthy and must be brought up to date, but nothing can be "
    "written where it lies. Copy it into a folder of your own and name that copy; nothing was changed."
)


class Store:
    """An open store. Close it, or use it in a ``with`` block.

    Attributes:
        path: The file.
        version: Grows with every act of recording; caches are kept by it.
        counted_version: Grows with every act that may change what counts.
        kept_before_upgrade: The copy made of it while opening, if an earlier version had made it.
    """

    def __init__(self, con: duckdb.DuckDBPyConnection, path: Path) -> None:
        self._con = con
        self._writing = threading.RLock()
        self._readers = Readers()
        self._scored = ScoredOnce()
        self._checkpointed_at = 0.0
        self._is_worn = False
        self.path = path
        self.version = self.counted_version = 0
        self.kept_before_upgrade: Path | None = None

    @classmethod
    def open(cls, path: Path | str, *, may_only_read: bool = False) -> Self:
        """Open a store, making it if there is no file yet and bringing it up to date.

        Args:
            path: The file.
            may_only_read: Whether to open it for reading alone where nothing can be written; every act
                of recording is refused then.

        Raises:
            StoreBusy: if another process holds it.
            StoreNewer: if a later version wrote it.
            StoreDamaged: if it is not a store or cannot be read.
            StoreReadOnly: if nothing can be written there.
            StoreError: if the folder is missing, or no copy can be kept of one that an earlier version
                made.
        """
        path = Path(path).resolve()
        kept = None
        con, is_read_only = connect_somehow(path) if may_only_read else (connect(path), False)
        try:
            schema.check_shape(schema.applied_files(con), str(path))
            if not is_read_only:
                kept = copy_before_upgrade(con, path)
                schema.bring_up_to_date(con)
            elif not schema.is_up_to_date(con):
                raise StoreReadOnly(_OLDER_AND_READ_ONLY.format(path))
        except duckdb.Error as error:
            con.close()
            raise translated(error, path) from error
        except BaseException:
            con.close()
            raise
        store = cls(con, path)
        store.version = store.counted_version = last_entry(con)[0]
        store.kept_before_upgrade = kept
        return store

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Write everything into the one file and let go of it."""
        with self._writing, suppress(duckdb.Error):
            self._con.close()

    def cursor(
        self,
        known_at: datetime | None = None,
        supposed_aside: Sequence[str] = (),
        also_expected: Sequence[str] = (),
    ) -> duckdb.DuckDBPyConnection:
        """A connection of one's own for reading, never to be shared between threads.

        Args:
            known_at: Read the record as it stood then (UTC); None for all of it.
            supposed_aside: Samples to read as if they were set aside; nothing is recorded.
            also_expected: Compounds expected in a beer family besides the shelf's lists, each
                "family compound".
        """
        cursor = self._con.cursor()
        if known_at is not None:
            cursor.execute(f"set variable known_at = timestamp '{known_at}'")
        if supposed_aside:
            cursor.execute("set variable supposed_aside = ?", [list(supposed_aside)])
        if also_expected:
            cursor.execute("set variable also_expected = ?", [list(also_expected)])
        return cursor

    @contextmanager
    def reading(
        self,
        known_at: datetime | None = None,
        supposed_aside: Sequence[str] = (),
        also_expected: Sequence[str] = (),
    ) -> Iterator[duckdb.DuckDBPyConnection]:
        """A cursor for some reads; what DuckDB finds wrong with the file is said in a sentence."""
        self._open_anew_if_worn()
        with self._readers.one():
            cursor = self.cursor(known_at, supposed_aside, also_expected)
            try:
                yield cursor
            except duckdb.Error as error:
                raise self._said(error) from error
            finally:
                cursor.close()

    def read(
        self,
        query: str,
        known_at: datetime | None = None,
        supposed_aside: Sequence[str] = (),
        also_expected: Sequence[str] = (),
        **params: object,
    ) -> Columns:
        """Run ``sql/queries/<query>.sql`` and return its columns, each an array of the rows."""
        text, version = query_text(query), self.version
        with self.reading(known_at, supposed_aside, also_expected) as cursor:
            self._scored.lend(cursor, text, version, known_at, supposed_aside)
            return dict(cursor.execute(text, params or None).fetchnumpy())

    def rows(
        self,
        query: str,
        known_at: datetime | None = None,
        supposed_aside: Sequence[str] = (),
        also_expected: Sequence[str] = (),
        **params: object,
    ) -> list[dict[str, Any]]:
        """Like `read`, as one dictionary a row with Python's own types; for short answers."""
        text, version = query_text(query), self.version
        with self.reading(known_at, supposed_aside, also_expected) as cursor:
            self._scored.lend(cursor, text, version, known_at, supposed_aside)
            result = cursor.execute(text, params or None)
            names = [column[0] for column in result.description]
            return [dict(zip(names, row, strict=True)) for row in result.fetchall()]

    @contextmanager
    def let_go_of_file(self, wait_s: float) -> Iterator[bool]:
        """Close the file between two reads and open it again at the end; everybody else waits.

        Args:
            wait_s: How long to wait for those who read, in seconds.

        Yields:
            Whether the file is closed; it is not where somebody went on reading.
        """
        with self._writing, self._readers.shut_out(wait_s) as is_free:
            if not is_free:
                yield False
                return
            self._con.close()
            try:
                yield True
            finally:
                self._con = connect(self.path)

    @contextmanager
    def alone(self) -> Iterator[None]:
        """Hold off every other act of recording while it lasts; one's own may stand inside."""
        with self._writing:
            yield

    @contextmanager
    def recording(
        self, kind: str, *, counts: bool = True, is_one_of_many: bool = False
    ) -> Iterator[Recording]:
        """One transaction that ends with one sealed history entry, or leaves nothing behind.

        An act that adds no fact leaves no entry either. What is committed is on the disk, in the
        journal beside the file; it is then moved into the file itself.

        Args:
            kind: What is done.
            counts: Whether it may change what counts; an answer doesn't before its session is closed.
            is_one_of_many: Whether such acts come many at a time, so that it is enough to move them
                into the file every few seconds.
        """
        self._open_anew_if_worn()
        with self._writing:
            cursor = self._con.cursor()
            try:
                cursor.execute("begin")
                entry_no, previous = last_entry(cursor)
                act = Recording(cursor, entry_no + 1)
                yield act
                if seal(act, kind, previous):
                    cursor.execute("commit")
                    self.version = act.entry_no
                    if counts:
                        self.counted_version = act.entry_no
                    self._checkpoint(cursor, may_wait=is_one_of_many)
                else:
                    cursor.execute("rollback")
            except BaseException as error:
                with suppress(duckdb.Error):
                    cursor.execute("rollback")
                if isinstance(error, duckdb.Error):
                    raise self._said(error) from error
                raise
            finally:
                cursor.close()

    def _checkpoint(self, cursor: duckdb.DuckDBPyConnection, *, may_wait: bool) -> None:
        now = time.monotonic()
        if may_wait and now < self._checkpointed_at + _MANY_WAIT_S:
            return
        self._checkpointed_at = now
        try:
            cursor.execute("checkpoint")
        except duckdb.Error as error:  # the act itself is in the journal, and stays
            self._said(error)

    def _said(self, error: duckdb.Error) -> StoreError:
        """The sentence for what DuckDB said, and whether it will say that of everything from now on."""
        self._is_worn = self._is_worn or isinstance(error, duckdb.FatalException)
        return translated(error, self.path)

    def _open_anew_if_worn(self) -> None:
        """Open the file anew where a write failed that makes DuckDB refuse everything until then."""
        if not self._is_worn:
            return
        with self.let_go_of_file(_PATIENCE_S) as is_closed:
            pass
        with suppress(duckdb.Error):
            self._is_worn = not is_closed or not self._con.execute("select 1").fetchall()
