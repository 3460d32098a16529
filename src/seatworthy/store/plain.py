"""A plain copy of a store: every table as CSV and as Parquet, with all that is needed to read it.

It is a folder that says in its own README how it is read without Seatworthy, and that
`store.plain_back` makes into a store again.
"""

import csv
import json
import os
import shutil
from collections.abc import Callable
from hashlib import file_digest
from pathlib import Path
from typing import Any, Final

import duckdb

from seatworthy.errors import StoreDamaged, StoreError
from seatworthy.store import plain_check
from seatworthy.store.copying import (
    Manifest,
    columns_of,
    compare,
    describe,
    digest_of,
    settle_folder,
    unfinished,
)
from seatworthy.store.file import Store
from seatworthy.store.history import SEALED
from seatworthy.store.plain_columns import Column, csv_column
from seatworthy.store.plain_words import readme, schema_text

FORM: Final = "seatworthy plain copy, form 1"
MANIFEST: Final = "manifest.json"
TABLES: Final = "tables"

_ROWS_AT_ONCE: Final = 20_000
Described = dict[str, list[Column]]


def write_plain(store: Store, folder: Path) -> Manifest:
    """Write every table of an open store into a new folder, all from one moment, and prove it equal.

    Raises:
        StoreError: if the folder exists, cannot be written, or turns out different.
    """
    if folder.exists():
        message = f"{folder} exists already; a plain copy never overwrites. Name another folder."
        raise StoreError(message)
    if not folder.parent.is_dir():
        message = f"There is no folder {folder.parent}. Make it first, or name another place."
        raise StoreError(message)
    part = unfinished(folder)
    try:
        manifest = _written(store, part)
        part.rename(folder)
        settle_folder(folder.parent)
    except (duckdb.Error, OSError) as error:
        message = f"The plain copy {folder} could not be written: {str(error).splitlines()[0]}"
        raise StoreError(message) from error
    finally:
        shutil.rmtree(part, ignore_errors=True)
    return manifest


def described(con: duckdb.DuckDBPyConnection) -> Described:
    """The columns of every table with their types, in the order in which the tables are read back."""
    found: Described = {}
    for table in columns_of(con):
        rows = con.execute(
            "select column_name, data_type, is_nullable from duckdb_columns()"
            " where database_name = current_database() and schema_name = 'main' and table_name = ?"
            " order by column_index",
            [table],
        ).fetchall()
        found[table] = [Column(*row) for row in rows]
    return found


def sha256_of(path: Path) -> str:
    """SHA-256 of a file's bytes, 64 hexadecimal digits."""
    with path.open("rb") as file:
        return file_digest(file, "sha256").hexdigest()


def _written(store: Store, part: Path) -> Manifest:
    (part / TABLES).mkdir(parents=True)
    cursor = store.cursor()
    try:
        cursor.execute("begin")
        manifest = describe(cursor)
        tables = described(cursor)
        for table, columns in tables.items():
            _refuse_floats(table, columns)
            _write_parquet(cursor, table, columns, part / TABLES / f"{table}.parquet")
            _write_csv(cursor, table, columns, part / TABLES / f"{table}.csv")
        _prove_parquet(cursor, tables, manifest, part)
        files = _table_files(cursor)
        cursor.execute("rollback")  # nothing was written, only read
    finally:
        cursor.close()
    _write_words(part, manifest, tables, files)
    _prove_csv(part)
    return manifest


def _write_words(
    part: Path, manifest: Manifest, tables: Described, files: list[tuple[int, str, str]]
) -> None:
    """Write what is said about the tables, the manifest last, and have all of it on the disk."""
    (part / "schema.sql").write_text(schema_text(files), encoding="utf-8", newline="\n")
    (part / "README.txt").write_text(readme(manifest, tables), encoding="utf-8", newline="\n")
    shutil.copyfile(plain_check.__file__, part / "check.py")
    found = {
        "form": FORM,
        "made_at": manifest.made_at,
        "tables_number": manifest.tables_number,
        "last_entry": manifest.last_entry,
        "tables": {
            table: {
                "rows": manifest.tables[table][0],
                "digest": manifest.tables[table][1],
                "columns": [[c.name, c.type, c.may_be_empty] for c in columns],
                "sealed": SEALED.get(table, ()),
            }
            for table, columns in tables.items()
        },
        "files": {
            path.relative_to(part).as_posix(): sha256_of(path)
            for path in sorted(part.rglob("*"))
            if path.is_file()
        },
    }
    (part / MANIFEST).write_text(
        json.dumps(found, indent=1, ensure_ascii=False), encoding="utf-8", newline="\n"
    )
    for path in part.rglob("*"):
        if path.is_file():
            with path.open("rb+") as file:
                os.fsync(file.fileno())


def _write_parquet(
    cursor: duckdb.DuckDBPyConnection, table: str, columns: list[Column], path: Path
) -> None:
    cursor.execute(
        f"copy (select * from {table} order by {_in_order(columns)})"
        f" to '{quoted(path)}' (format parquet)"
    )


def _write_csv(
    cursor: duckdb.DuckDBPyConnection, table: str, columns: list[Column], path: Path
) -> None:
    fields = ", ".join(csv_column(column) for column in columns)
    rows = cursor.execute(f"select {fields} from {table} order by {_in_order(columns)}")
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\r\n")
        writer.writerow(column.name for column in columns)
        _for_each_lot(rows, writer.writerows)


def _for_each_lot(rows: duckdb.DuckDBPyConnection, write: Callable[[Any], None]) -> None:
    while lot := rows.fetchmany(_ROWS_AT_ONCE):
        write(lot)


def _prove_parquet(
    cursor: duckdb.DuckDBPyConnection, tables: Described, manifest: Manifest, part: Path
) -> None:
    found = {
        table: digest_of(
            cursor,
            f"read_parquet('{quoted(part / TABLES / f'{table}.parquet')}')",
            [column.name for column in columns],
        )
        for table, columns in tables.items()
    }
    compare(str(part), found, manifest.tables)


def _prove_csv(part: Path) -> None:
    """Recompute rows, digests and the history from the CSV alone, by the folder's own check."""
    if faults := plain_check.faults_of(part):
        message = f"The plain copy would not add up: {' '.join(faults[:3])}"
        raise StoreDamaged(message)


def _refuse_floats(table: str, columns: list[Column]) -> None:
    for column in columns:
        if column.type in ("FLOAT", "DOUBLE"):
            message = f"{table}.{column.name} is a {column.type}, whose text is not exact"
            raise ValueError(message)


def _table_files(cursor: duckdb.DuckDBPyConnection) -> list[tuple[int, str, str]]:
    return cursor.execute(
        "select number, name, digest from applied_file order by number"
    ).fetchall()


def _in_order(columns: list[Column]) -> str:
    """Any order, the same for the same rows; by the table's own columns, not by their texts."""
    return ", ".join(f'"{column.name}" nulls first' for column in columns)


def quoted(path: Path) -> str:
    """A path between single quotes in SQL."""
    return str(path).replace("'", "''")
