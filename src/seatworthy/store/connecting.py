"""A connection to a store's file with our settings, and the sentence for what goes wrong with it."""

import re
from collections.abc import Mapping
from pathlib import Path

import duckdb

from seatworthy.errors import StoreBusy, StoreDamaged, StoreError, StoreReadOnly
from seatworthy.store.held_here import is_held_here, remember

_SETTINGS: Mapping[str, str | bool] = {
    "autoinstall_known_extensions": False,  # nothing is fetched from outside
    "autoload_known_extensions": False,
    "memory_limit": "2GB",
}
_NO_ROOM = ("No space left", "File too large", "disk is full", "Disk quota exceeded")
_NO_WRITING = ("Read-only file system", "Permission denied", "attached in read-only mode")
# What DuckDB says of a file that another process holds: on Linux and macOS, then on Windows.
_HELD = ("Could not set lock on file", "being used by another process")
_HOLDER = re.compile(r"^(?:.*held in )?(?P<program>.*?) ?\(PID (?P<process>\d+)\)", re.MULTILINE)


def connect(path: Path, *, read_only: bool = False) -> duckdb.DuckDBPyConnection:
    """Open a DuckDB file with our settings, or say in one sentence why it cannot be.

    Raises:
        StoreError: or one of its kinds.
    """
    if not path.parent.is_dir():
        message = f"There is no folder {path.parent}. Make it first, or name another place."
        raise StoreError(message)
    if path.exists() and not is_held_here(path) and not _is_duckdb_file(path):
        raise StoreDamaged(_no_store(path))
    try:
        con = duckdb.connect(str(path), read_only=read_only, config=dict(_SETTINGS))
    except duckdb.Error as error:
        raise translated(error, path) from error
    remember(path, con)
    return con


def connect_somehow(path: Path) -> tuple[duckdb.DuckDBPyConnection, bool]:
    """A connection to a file, and whether it can only read since nothing can be written there.

    Raises:
        StoreError: or one of its kinds.
    """
    try:
        return connect(path), False
    except StoreReadOnly:
        if not path.exists():
            raise
        return connect(path, read_only=True), True


def _no_store(path: Path) -> str:
    if path.is_file() and path.stat().st_size == 0:
        return (
            f"{path} is empty (0 bytes), so it is not a store of Seatworthy. If it was left behind by a "
            "start that was cut short, delete it; else restore the last backup with: seatworthy restore."
        )
    return f"{path} is not a store of Seatworthy. Name the store itself, or a new file."


def _is_duckdb_file(path: Path) -> bool:
    """Whether a file starts like one of DuckDB's; others it would read as an empty store."""
    try:
        with path.open("rb") as file:
            return file.read(12)[8:] == b"DUCK"
    except IsADirectoryError:
        return False
    except OSError as error:
        message = f"{path} cannot be read ({error.strerror})."
        raise StoreError(message) from error


def translated(error: duckdb.Error, path: Path) -> StoreError:
    """The sentence a user reads for what DuckDB said."""
    text = str(error)
    if any(words in text for words in _HELD):
        return _busy(text, path)
    if any(words in text for words in _NO_ROOM):
        return StoreError(
            f"There is no room left to write {path}. Nothing of this was recorded; what was on record "
            "before stays. Make room on that disk, then do it again."
        )
    if any(words in text for words in _NO_WRITING):
        return StoreReadOnly(
            f"{path} cannot be written where it lies: the disk, the folder or the file is read-only. "
            "Nothing was changed. Let it be written there, or copy it into a folder of your own and "
            "name that copy."
        )
    if isinstance(error, duckdb.OutOfMemoryException):
        return StoreError(
            f"This needs more memory than Seatworthy takes for {path} "
            f"({_SETTINGS['memory_limit']}). Nothing was changed. Ask for less at a time: a shorter "
            "file, fewer days."
        )
    if isinstance(error, (duckdb.ConstraintException, duckdb.ConversionException)):
        return StoreError(f"This cannot be recorded ({_first_line(text)}). Nothing was changed.")
    if "WAL file" in text:
        return StoreDamaged(
            f"The journal beside {path}, {path.name}.wal, is damaged ({_first_line(text)}). What was "
            "recorded last stands in it, so it was not opened without it. Keep both files as they are, "
            "and restore the last backup with: seatworthy restore."
        )
    return StoreDamaged(
        f"{path} cannot be used as a store: {_first_line(text)} "
        "If it is one, restore the last backup with: seatworthy restore."
    )


def _busy(text: str, path: Path) -> StoreBusy:
    """What is known of the process that holds a file; the system may not tell, as over a network."""
    found = _HOLDER.search(text)
    process = int(found["process"]) if found else None
    which = f"another process (number {process})" if found else "another program or machine"
    return StoreBusy(
        f"{path} is open in {which}. Close it there (Ctrl+C where Seatworthy runs), then try again. "
        "Nothing was changed.",
        path,
        process,
        found["program"] if found else "",
    )


def _first_line(text: str) -> str:
    return text.strip().splitlines()[0][:200]
