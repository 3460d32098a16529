"""Makes a store of a plain copy again, and proves that nothing was lost on the way."""

import csv
import json
from collections.abc import Iterator, Mapping
from itertools import islice
from pathlib import Path
from typing import Any, Final

import duckdb
import pyarrow as pa

from seatworthy.errors import StoreDamaged, StoreError, StoreNewer
from seatworthy.store.anonymous_mark import carry_over
from seatworthy.store.connecting import connect
from seatworthy.store.copying import Manifest, check_copy, columns_of, discard, settle, unfinished
from seatworthy.store.plain import FORM, MANIFEST, TABLES, described, quoted, sha256_of
from seatworthy.store.plain_columns import Column, column_of_csv
from seatworthy.store.schema import make_tables, newest_number

_LINES_AT_ONCE: Final = 20_000


def read_plain(folder: Path, target: Path) -> Manifest:
    """Make a new store of a plain copy, from Parquet where it is there, else from CSV.

    The store is checked against the manifest, its history is recomputed, and only then it gets its
    name. One of an earlier version keeps its tables until it is opened.

    Raises:
        StoreError: if the target exists, or the folder is no plain copy, is newer or was changed.
    """
    if target.exists():
        message = (
            f"{target} exists already; reading a plain copy never overwrites. Name a new file."
        )
        raise StoreError(message)
    told = _told(folder)
    manifest = _manifest(folder, told)
    if manifest.tables_number > newest_number():
        message = (
            f"{folder} was written by a later version of Seatworthy (its tables are number "
            f"{manifest.tables_number}, this version knows {newest_number()}). Install that version."
        )
        raise StoreNewer(message)
    files = {table: _file_of(folder, table, told["files"]) for table in manifest.tables}
    part = unfinished(target)
    try:
        _fill(part, manifest, files)
        check_copy(part, manifest, with_history=True)
        carry_over(folder, target)  # who was made anonymous since is so again when it is opened
        settle(part, target)
    except OSError as error:
        message = f"{target} could not be written ({error.strerror}); nothing was made."
        raise StoreError(message) from error
    finally:
        discard(part)
    return manifest


def _told(folder: Path) -> Mapping[str, Any]:
    path = folder / MANIFEST
    if not path.is_file():
        message = (
            f"{folder} holds no {MANIFEST}, so it is no plain copy. Name the folder that "
            "seatworthy write-plain made."
        )
        raise StoreError(message)
    try:
        told = json.loads(path.read_text(encoding="utf-8"))
        form = told["form"]
    except (ValueError, KeyError, TypeError) as error:
        raise _no_manifest(path) from error
    if form != FORM:
        message = f"{path} says “{form}”, and this version reads “{FORM}”. Install a later version."
        raise StoreNewer(message)
    return told


def _manifest(folder: Path, told: Mapping[str, Any]) -> Manifest:
    try:
        tables = {
            str(name): (int(about["rows"]), str(about["digest"]))
            for name, about in told["tables"].items()
        }
        number, digest = told["last_entry"]
        return Manifest(
            str(told["made_at"]), int(told["tables_number"]), (int(number), str(digest)), tables
        )
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        raise _no_manifest(folder / MANIFEST) from error


def _no_manifest(path: Path) -> StoreDamaged:
    return StoreDamaged(f"{path} is not a manifest that Seatworthy wrote. Take another copy.")


def _file_of(folder: Path, table: str, digests: Mapping[str, str]) -> Path:
    """The file to read a table from, whole by its digest."""
    for kind in ("parquet", "csv"):
        name = f"{TABLES}/{table}.{kind}"
        path = folder / name
        if not path.is_file():
            continue
        if sha256_of(path) == digests.get(name):
            return path
        other = " Take it away, and the CSV file is read instead." if kind == "parquet" else ""
        message = f"{path} was changed since the copy was made: its SHA-256 differs.{other}"
        raise StoreDamaged(message)
    message = f"{folder} has neither {TABLES}/{table}.parquet nor {TABLES}/{table}.csv."
    raise StoreDamaged(message)


def _fill(part: Path, manifest: Manifest, files: Mapping[str, Path]) -> None:
    con = connect(part)
    try:
        make_tables(con, manifest.tables_number)
        there = columns_of(con)
        if strange := sorted(set(there) ^ set(files)):
            message = (
                f"The manifest and the tables of that version differ in: {', '.join(strange)}."
            )
            raise StoreDamaged(message)
        con.execute("begin")
        for table, columns in described(con).items():
            _read_table(con, table, columns, files[table])
        con.execute("commit")
        con.execute("checkpoint")
    except (duckdb.Error, pa.ArrowException, csv.Error, UnicodeDecodeError) as error:
        message = f"The plain copy could not be read: {str(error).splitlines()[0]}"
        raise StoreDamaged(message) from error
    finally:
        con.close()


def _read_table(
    con: duckdb.DuckDBPyConnection, table: str, columns: list[Column], path: Path
) -> None:
    names = ", ".join(f'"{column.name}"' for column in columns)
    if path.suffix == ".parquet":
        con.execute(f"insert into {table} select {names} from read_parquet('{quoted(path)}')")
        return
    values = ", ".join(column_of_csv(column) for column in columns)
    for lot in _lots(path, columns):
        con.register("lot", lot)
        con.execute(f"insert into {table} select {values} from lot")
        con.unregister("lot")


def _lots(path: Path, columns: list[Column]) -> Iterator[pa.Table]:
    """The lines of a CSV file, each field the text that stands there."""
    csv.field_size_limit(2**31 - 1)
    names = [column.name for column in columns]
    with path.open(encoding="utf-8", newline="") as file:
        lines = csv.reader(file, strict=True)
        if next(lines, None) != names:
            message = f"{path} has other columns than {', '.join(names)}."
            raise StoreDamaged(message)
        while lot := list(islice(lines, _LINES_AT_ONCE)):
            fields = zip(*lot, strict=True)
            yield pa.table(
                {n: pa.array(f, pa.string()) for n, f in zip(names, fields, strict=True)}
            )
