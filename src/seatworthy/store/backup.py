"""Backups that are checked after writing.

A backup is a copy of the store made by DuckDB from one consistent moment, with a manifest beside it:
rows and a digest for every table, and the head of the history.
"""

import json
import os
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from pathlib import Path
from secrets import token_hex

import duckdb

from seatworthy.errors import StoreDamaged, StoreError
from seatworthy.store.connecting import connect
from seatworthy.store.file import Store
from seatworthy.store.history import last_entry
from seatworthy.store.schema import applied_files, check_shape


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
    tables: Mapping[str, tuple[int, str]]

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


def back_up(store: Store, target: Path) -> Manifest:
    """Copy an open store into a new file and prove that the copy is equal.

    Raises:
        StoreError: if the target exists, cannot be written, or turns out different.
    """
    for path in (target, manifest_path(target)):
        if path.exists():
            message = f"{path} exists already; a backup never overwrites. Name another file."
            raise StoreError(message)
    part = unfinished(target)
    try:
        manifest = _copied(store, part)
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


def check_copy(path: Path, manifest: Manifest) -> None:
    """Compare a backup with its manifest, table by table.

    Raises:
        StoreDamaged: if anything differs; the sentence names it.
    """
    con = connect(path, read_only=True)
    try:
        applied = applied_files(con)
        check_shape(applied, str(path))
        found = table_digests(con)
        head = (max(applied, default=0), tuple(last_entry(con)))
    except duckdb.Error as error:
        message = f"{path} cannot be read as a backup: {str(error).splitlines()[0]}"
        raise StoreDamaged(message) from error
    finally:
        con.close()
    for table in sorted(set(found) | set(manifest.tables)):
        if found.get(table) != manifest.tables.get(table):
            message = (
                f"{path} differs from its manifest in table {table}: "
                f"{_rows(found.get(table))} found, {_rows(manifest.tables.get(table))} expected."
            )
            raise StoreDamaged(message)
    if head != (manifest.tables_number, tuple(manifest.last_entry)):
        message = f"{path} ends with another history entry than its manifest says."
        raise StoreDamaged(message)


def table_digests(con: duckdb.DuckDBPyConnection) -> dict[str, tuple[int, str]]:
    """Rows and a digest over every column of every table, independent of the order of rows."""
    tables = con.execute(
        "select table_name, list(column_name order by column_index) from duckdb_columns()"
        " where database_name = current_database() and schema_name = 'main'"
        " and table_name in (select table_name from duckdb_tables()"
        " where database_name = current_database() and not temporary)"
        " group by table_name order by table_name"
    ).fetchall()
    found = {}
    for table, columns in tables:
        fields = ", ".join(f"coalesce({column}::varchar, chr(30))" for column in columns)
        row = con.execute(
            f"select count(*), coalesce(sha256(string_agg(line, chr(10) order by line)), '')"
            f" from (select concat_ws(chr(31), {fields}) as line from {table})"
        ).fetchone()
        found[table] = (row[0], row[1]) if row else (0, "")
    return found


def discard(part: Path) -> None:
    """Take away an unfinished copy and its write-ahead log."""
    for path in (part, part.with_name(part.name + ".wal")):
        path.unlink(missing_ok=True)


def settle(part: Path, target: Path) -> None:
    """Give a finished copy its name, safe against a power cut."""
    with part.open("rb+") as file:
        os.fsync(file.fileno())
    part.replace(target)


def unfinished(target: Path) -> Path:
    """Name for a copy in the making beside its target."""
    return target.with_name(f"{target.name}.{token_hex(4)}.unfinished")


def _copied(store: Store, part: Path) -> Manifest:
    """Copy a store and describe it, both from one moment."""
    cursor = store.cursor()
    copy = f"copy_{token_hex(8)}"
    quoted = str(part).replace("'", "''")
    try:
        found = cursor.execute("select current_database()").fetchone()
        name = str(found[0] if found else "").replace('"', '""')
        cursor.execute(f"attach '{quoted}' as {copy}")
        cursor.execute("begin")
        cursor.execute(f'copy from database "{name}" to {copy}')
        manifest = Manifest(
            datetime.now(UTC).isoformat(timespec="seconds"),
            max(applied_files(cursor)),
            last_entry(cursor),
            table_digests(cursor),
        )
        cursor.execute("commit")
        cursor.execute(f"detach {copy}")
        return manifest
    finally:
        cursor.close()


def _write_manifest(path: Path, manifest: Manifest) -> None:
    number, digest = manifest.last_entry
    in_words = (
        f"This copy holds the record up to entry {number}, whose digest is {digest}. A paper that "
        "names an entry up to this one can be held against it."
    )
    found = {**asdict(manifest), "in_words": in_words}  # said for a reader, never read back
    path.write_text(json.dumps(found, indent=1), encoding="utf-8")


def _rows(found: tuple[int, str] | None) -> str:
    return "no such table" if found is None else f"{found[0]} rows ({found[1][:8]})"
