"""A whole copy of a store's tables in another file, described by a manifest and held against it."""

import json
import os
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from pathlib import Path
from secrets import token_hex
from typing import Any, Final

import duckdb

from seatworthy.errors import StoreDamaged, StoreError
from seatworthy.store.connecting import connect
from seatworthy.store.history import broken_entries, last_entry
from seatworthy.store.schema import applied_files, check_shape

# Dozens of small tables take one block or more each: the smallest blocks make a copy ten times smaller,
# and a store restored from it is as fast.
_BLOCK_BYTES: Final = 16_384

TableDigests = Mapping[str, tuple[int, str]]


@dataclass(frozen=True)
class Manifest:
    """What a backup must hold.

    Attributes:
        made_at: Moment of the backup, UTC, ISO 8601.
        tables_number: Number of the newest table file.
        last_entry: Number and digest of the newest history entry.
        tables: Rows and digest by table.
    """

    made_at: str
    tables_number: int
    last_entry: tuple[int, str]
    tables: TableDigests

    @classmethod
    def read(cls, path: Path) -> "Manifest":
        """Read a manifest.

        Raises:
            StoreDamaged: if it is missing or is no manifest.
        """
        try:
            found = json.loads(path.read_text(encoding="utf-8"))
            tables = {name: (int(n), str(digest)) for name, (n, digest) in found["tables"].items()}
            number, digest = found["last_entry"]
            return cls(found["made_at"], found["tables_number"], (number, digest), tables)
        except (OSError, ValueError, KeyError, TypeError, AttributeError) as error:
            what = "is not a manifest that Seatworthy wrote" if path.exists() else "is missing"
            message = (
                f"{path} {what}. A backup is two files, the store's copy and its manifest; "
                "keep both together, or it cannot be checked."
            )
            raise StoreDamaged(message) from error


def manifest_path(backup: Path) -> Path:
    """Where the manifest of a backup lies: its whole name with .manifest.json behind."""
    return backup.with_name(backup.name + ".manifest.json")


def copy_whole(cursor: duckdb.DuckDBPyConnection, target: Path) -> Manifest:
    """Copy a store into a new file, both from one moment, and prove that the copy is equal.

    Args:
        cursor: A connection to the store, in no transaction; whoever writes beside it goes on.
        target: Where the copy shall be.

    Raises:
        StoreError: if the target exists, cannot be written, or turns out different.
    """
    for path in (target, manifest_path(target)):
        if path.exists():
            message = f"{path} exists already; a backup never overwrites. Name another file."
            raise StoreError(message)
    part = unfinished(target)
    try:
        manifest = _copied(cursor, part)
        check_copy(part, manifest)
        _write_manifest(manifest_path(target), manifest)  # first: a copy without one is of no use
        settle(part, target)
    except (duckdb.Error, OSError) as error:
        manifest_path(target).unlink(missing_ok=True)
        message = f"The backup {target} could not be written: {str(error).splitlines()[0]}"
        raise StoreError(message) from error
    finally:
        discard(part)
    return manifest


def check_copy(path: Path, manifest: Manifest, *, with_history: bool = False) -> None:
    """Compare a backup with its manifest, table by table.

    Args:
        path: The copy.
        manifest: What it must hold.
        with_history: Whether every entry is recomputed from the facts, too.

    Raises:
        StoreDamaged: if anything differs; the sentence names it.
    """
    tables, head, faults = _read(path, with_history=with_history)
    compare(str(path), tables, manifest.tables)
    if head != (manifest.tables_number, tuple(manifest.last_entry)):
        message = f"{path} ends with another history entry than its manifest says."
        raise StoreDamaged(message)
    if faults:
        message = f"The history in {path} does not add up: {' '.join(faults[:3])}"
        raise StoreDamaged(message)


def first_digest(path: Path) -> str | None:
    """Digest of the first entry of a copy, by which records of one origin are known; None if unread.

    Args:
        path: The copy; nothing in it is changed.
    """
    try:
        with connect(path, read_only=True) as con:
            row = con.execute("select digest from history where entry_no = 1").fetchone()
    except (StoreError, duckdb.Error):
        return None
    return row[0] if row else None


def read_whole(path: Path) -> TableDigests:
    """Read every row of a file that nobody has open; nothing in it is changed.

    Raises:
        StoreDamaged: if some of it cannot be read, or it is no store.
    """
    return _read(path, with_history=False)[0]


def _read(path: Path, *, with_history: bool) -> tuple[TableDigests, tuple[int, Any], list[str]]:
    """The tables of a file, its newest entry, and what is wrong with its history if asked for."""
    con = connect(path, read_only=True)
    try:
        applied = applied_files(con)
        check_shape(applied, str(path))
        found = table_digests(con)
        head = (max(applied, default=0), tuple(last_entry(con)))
        return found, head, list(broken_entries(con)) if with_history else []
    except duckdb.Error as error:
        message = f"{path} cannot be read: {str(error).splitlines()[0]}"
        raise StoreDamaged(message) from error
    finally:
        con.close()


def compare(where: str, found: TableDigests, expected: TableDigests) -> None:
    """Hold the rows and digests of two sets of tables against each other.

    Raises:
        StoreDamaged: for the first table that differs.
    """
    for table in sorted(set(found) | set(expected)):
        if found.get(table) != expected.get(table):
            message = (
                f"{where} differs from its manifest in table {table}: "
                f"{_rows(found.get(table))} found, {_rows(expected.get(table))} expected."
            )
            raise StoreDamaged(message)


def table_digests(con: duckdb.DuckDBPyConnection) -> dict[str, tuple[int, str]]:
    """Rows and a digest over every column of every table, independent of the order of rows."""
    return {
        table: digest_of(con, table, columns) for table, columns in sorted(columns_of(con).items())
    }


def columns_of(con: duckdb.DuckDBPyConnection) -> dict[str, list[str]]:
    """The columns of every table of a store, in the order in which the tables were made."""
    rows = con.execute(
        "select table_name, list(column_name order by column_index) from duckdb_columns()"
        " join (select table_oid, table_name from duckdb_tables()"
        " where database_name = current_database() and not temporary) using (table_oid, table_name)"
        " where database_name = current_database() and schema_name = 'main'"
        " group by table_oid, table_name order by table_oid"
    ).fetchall()
    return dict(rows)


def digest_of(con: duckdb.DuckDBPyConnection, relation: str, columns: list[str]) -> tuple[int, str]:
    """Rows and a digest over columns of one table, or of anything that stands for one."""
    fields = ", ".join(f"coalesce({column}::varchar, chr(30))" for column in columns)
    row = con.execute(
        f"select count(*), coalesce(sha256(string_agg(line, chr(10) order by line)), '')"
        f" from (select concat_ws(chr(31), {fields}) as line from {relation})"
    ).fetchone()
    return (row[0], row[1]) if row else (0, "")


def discard(part: Path) -> None:
    """Take away an unfinished copy and its write-ahead log."""
    for path in (part, part.with_name(part.name + ".wal")):
        path.unlink(missing_ok=True)


def settle(part: Path, target: Path) -> None:
    """Give a finished copy its name, safe against a power cut."""
    with part.open("rb+") as file:
        os.fsync(file.fileno())
    part.replace(target)
    settle_folder(target.parent)


def settle_folder(folder: Path) -> None:
    """Have the names in a folder on the disk, where the system can do that (not on Windows)."""
    with suppress(OSError):
        number = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(number)
        finally:
            os.close(number)


def unfinished(target: Path) -> Path:
    """Name for a copy in the making beside its target."""
    return target.with_name(f"{target.name}.{token_hex(4)}.unfinished")


def _copied(cursor: duckdb.DuckDBPyConnection, part: Path) -> Manifest:
    """Copy a store and describe it, both from one moment."""
    copy = f"copy_{token_hex(8)}"
    quoted = str(part).replace("'", "''")
    quoted_name = _database(cursor)
    cursor.execute(f"attach '{quoted}' as {copy} (block_size {_BLOCK_BYTES})")
    try:
        cursor.execute("begin")
        try:
            cursor.execute(f"copy from database {quoted_name} to {copy}")
            manifest = describe(cursor)
            cursor.execute("commit")
        except BaseException:
            cursor.execute("rollback")
            raise
    finally:
        cursor.execute(f"detach {copy}")
    return manifest


def describe(con: duckdb.DuckDBPyConnection) -> Manifest:
    """The manifest of what a connection sees."""
    return Manifest(
        datetime.now(UTC).isoformat(timespec="seconds"),
        max(applied_files(con)),
        last_entry(con),
        table_digests(con),
    )


def _database(cursor: duckdb.DuckDBPyConnection) -> str:
    found = cursor.execute("select current_database()").fetchone()
    name = str(found[0] if found else "").replace('"', '""')
    return f'"{name}"'


def _write_manifest(path: Path, manifest: Manifest) -> None:
    number, digest = manifest.last_entry
    in_words = (
        f"This copy holds the record up to entry {number}, whose digest is {digest}. A paper that "
        "names an entry up to this one can be held against it."
    )
    found = {**asdict(manifest), "in_words": in_words}  # said for a reader, never read back
    with path.open("w", encoding="utf-8") as file:
        file.write(json.dumps(found, indent=1))
        file.flush()
        os.fsync(file.fileno())


def _rows(found: tuple[int, str] | None) -> str:
    return "no such table" if found is None else f"{found[0]} rows ({found[1][:8]})"
