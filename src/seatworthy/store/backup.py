"""Backups that are checked after writing, and restoring that never overwrites unasked.

A backup is a copy of the store made by DuckDB from one consistent moment, with a manifest beside it:
rows and a digest for every table, and the head of the history.
"""

import json
import os
import shutil
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from pathlib import Path

import duckdb

from seatworthy.errors import StoreDamaged, StoreError
from seatworthy.store.file import Store, connect
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
    """Where the manifest of a backup lies."""
    return backup.with_suffix(".manifest.json")


def back_up(store: Store, target: Path) -> Manifest:
    """Copy an open store into a new file and prove that the copy is equal.

    Raises:
        StoreError: if the target exists, cannot be written, or turns out different.
    """
    if target.exists():
        message = f"{target} exists already; a backup never overwrites. Name another file."
        raise StoreError(message)
    part = target.with_name(target.name + ".part")
    part.unlink(missing_ok=True)
    cursor = store.cursor()
    try:
        _copy(cursor, store.path, part)
        manifest = Manifest(
            datetime.now(UTC).isoformat(timespec="seconds"),
            max(applied_files(cursor)),
            last_entry(cursor),
            table_digests(cursor),
        )
    except (duckdb.Error, OSError) as error:
        part.unlink(missing_ok=True)
        message = f"The backup {target} could not be written: {error}"
        raise StoreError(message) from error
    finally:
        cursor.close()
    check_copy(part, manifest)
    _settle(part, target)
    _write_manifest(manifest_path(target), manifest)
    return manifest


def check_copy(path: Path, manifest: Manifest) -> None:
    """Compare a backup with its manifest, table by table.

    Raises:
        StoreDamaged: if anything differs; the sentence names it.
    """
    con = connect(path, read_only=True)
    try:
        check_shape(applied_files(con), str(path))
        found = table_digests(con)
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


def restore(backup: Path, target: Path, *, replace: bool = False) -> Manifest:
    """Put a checked backup in the place of a store.

    Args:
        backup: The backup; its manifest must lie beside it.
        target: Where the store shall be.
        replace: Whether a store that is there may be moved aside (it is kept, never deleted).

    Raises:
        StoreError: if the backup does not match, the target is in the way or in use.
    """
    if not backup.exists():
        message = f"There is no backup {backup}."
        raise StoreError(message)
    manifest = Manifest.read(manifest_path(backup))
    check_copy(backup, manifest)
    if target.exists():
        _make_way(target, replace=replace)
    part = target.with_name(target.name + ".part")
    shutil.copyfile(backup, part)
    check_copy(part, manifest)
    _settle(part, target)
    return manifest


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


def _copy(cursor: duckdb.DuckDBPyConnection, source: Path, part: Path) -> None:
    name = cursor.execute("select current_database()").fetchone()
    quoted = str(part).replace("'", "''")
    cursor.execute(f"attach '{quoted}' as copy_of_store")
    try:
        cursor.execute(f'copy from database "{name[0] if name else source.stem}" to copy_of_store')
    finally:
        cursor.execute("detach copy_of_store")


def _make_way(target: Path, *, replace: bool) -> None:
    if not replace:
        message = (
            f"{target} exists already. Say --replace to move it aside (it is kept), "
            "or restore into another file."
        )
        raise StoreError(message)
    connect(
        target
    ).close()  # refuses while another process holds it, and settles its write-ahead log
    stamp = datetime.now(UTC).strftime("%Y%m%d-%H%M%S-%f")
    target.rename(target.with_name(f"{target.stem}.before-restore-{stamp}{target.suffix}"))


def _settle(part: Path, target: Path) -> None:
    with part.open("rb+") as file:
        os.fsync(file.fileno())
    part.replace(target)


def _write_manifest(path: Path, manifest: Manifest) -> None:
    path.write_text(json.dumps(asdict(manifest), indent=1), encoding="utf-8")


def _rows(found: tuple[int, str] | None) -> str:
    return "no such table" if found is None else f"{found[0]} rows ({found[1][:8]})"
