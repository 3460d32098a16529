"""Copies of a store that lie near it and still hold names of people who were made anonymous."""

import re
import shutil
import time
from collections.abc import Collection, Iterator
from pathlib import Path

import duckdb

from seatworthy.errors import StoreDamaged, StoreError
from seatworthy.store.anonymous import named_ids, take_away
from seatworthy.store.connecting import connect
from seatworthy.store.copying import copy_whole, discard, manifest_path, settle, unfinished
from seatworthy.store.rewriting import copied_clean

_IN_THE_MAKING_S = 3600.0


def files_near(store: Path) -> list[Path]:
    """Files of DuckDB beside a store and in its folder of backups, itself left out.

    Copies that were never finished are among them, as a process that was killed leaves them; of the
    last hour they may still be in the making.
    """
    folders = (store.parent, store.parent / "backups")
    found = {path for folder in folders for path in folder.glob("*.duckdb")}
    left = (path for folder in folders for path in folder.glob("*.duckdb.*.unfinished"))
    found |= {path for path in left if ".anonymous." not in path.name and _is_old(path)}
    return sorted(path for path in found if path.resolve() != store.resolve())


def _is_old(path: Path) -> bool:
    try:
        return time.time() - path.stat().st_mtime > _IN_THE_MAKING_S
    except OSError:
        return False  # finished meanwhile


def copies_with_names(store: Path, person_ids: Collection[str]) -> Iterator[tuple[Path, bool]]:
    """The files near a store in which any of these people still has a name.

    Yields:
        The file, and whether it could be read; of one that could not nobody knows.
    """
    for path in files_near(store):
        try:
            if _names_in(path, person_ids):
                yield path, True
        except StoreError:
            yield path, False


def take_names_out(copy: Path, person_ids: Collection[str]) -> Path:
    """Make a backup anonymous: a new file without the names, proved equal; then the old one goes.

    At every moment one of the two is whole, the file and its manifest. A file without a manifest,
    as a store that was moved aside, is written anew in its place.

    Returns:
        Where it stands now.

    Raises:
        StoreError: if it cannot be read or written.
    """
    is_backup = manifest_path(copy).exists()
    part = unfinished(copy)
    try:
        shutil.copyfile(copy, part)
        if is_backup:
            target = _next_name(copy)
            _without_names(part, person_ids, target)
            remove(copy)
            return target
        _without_names(part, person_ids, None)
        clean = unfinished(copy)
        try:
            copied_clean(part, clean)
            settle(clean, copy)
        finally:
            discard(clean)
    except OSError as error:
        message = f"{copy} could not be made anonymous ({error.strerror}); it is as it was."
        raise StoreError(message) from error
    finally:
        discard(part)
    return copy


def remove(copy: Path) -> None:
    """Delete a copy with its manifest and its journal."""
    discard(copy)
    manifest_path(copy).unlink(missing_ok=True)


def _without_names(part: Path, person_ids: Collection[str], target: Path | None) -> None:
    con = connect(part)
    try:
        take_away(con, person_ids)
        con.execute("checkpoint")
        if target is not None:
            copy_whole(con, target)
    except duckdb.Error as error:
        message = f"{part} cannot be read as a store: {str(error).splitlines()[0]}"
        raise StoreDamaged(message) from error
    finally:
        con.close()


def _names_in(path: Path, person_ids: Collection[str]) -> bool:
    con = connect(path, read_only=True)
    try:
        there = con.execute(
            "select count(*) from duckdb_tables() where table_name = 'person_name'"
            " and database_name = current_database()"
        ).fetchone()
        return bool(there and there[0] and named_ids(con, person_ids))
    except duckdb.Error as error:
        message = f"{path} cannot be read: {str(error).splitlines()[0]}"
        raise StoreDamaged(message) from error
    finally:
        con.close()


def _next_name(copy: Path) -> Path:
    """The same name with the next free number behind it."""
    start, number = re.sub(r"-\d{1,3}$", "", copy.stem), 2
    while (found := copy.with_name(f"{start}-{number}{copy.suffix}")).exists() or manifest_path(
        found
    ).exists():
        number += 1
    return found
