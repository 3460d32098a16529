"""A connection to a store's file with our settings, and the sentence for what goes wrong with it."""

from collections.abc import Mapping
from pathlib import Path

import duckdb

from seatworthy.errors import StoreBusy, StoreDamaged, StoreError

_SETTINGS: Mapping[str, str | bool] = {
    "autoinstall_known_extensions": False,  # nothing is fetched from outside
    "autoload_known_extensions": False,
    "memory_limit": "2GB",
}


def connect(path: Path, *, read_only: bool = False) -> duckdb.DuckDBPyConnection:
    """Open a DuckDB file with our settings, or say in one sentence why it cannot be.

    Raises:
        StoreError: or one of its kinds.
    """
    if not path.parent.is_dir():
        message = f"There is no folder {path.parent}. Make it first, or name another place."
        raise StoreError(message)
    if path.exists() and not _is_duckdb_file(path):
        message = f"{path} is not a store of Seatworthy. Name the store itself, or a new file."
        raise StoreDamaged(message)
    try:
        return duckdb.connect(str(path), read_only=read_only, config=dict(_SETTINGS))
    except duckdb.Error as error:
        raise translated(error, path) from error


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
    if "lock" in text and "PID" in text:
        process = text.split("PID", 1)[1].strip().split(")")[0]
        return StoreBusy(
            f"{path} is open in another process (number {process}). Stop Seatworthy there "
            "(Ctrl+C where it runs), then try again. Nothing was changed."
        )
    if any(words in text for words in ("No space left", "File too large", "disk is full")):
        return StoreError(f"There is no room to write {path}. Make room; nothing was changed.")
    if "Read-only file system" in text or "Permission denied" in text:
        return StoreError(f"{path} cannot be written here ({_first_line(text)}).")
    if isinstance(error, (duckdb.ConstraintException, duckdb.ConversionException)):
        return StoreError(f"This cannot be recorded ({_first_line(text)}). Nothing was changed.")
    return StoreDamaged(
        f"{path} cannot be used as a store: {_first_line(text)} "
        "If it is one, restore the last backup with: seatworthy restore."
    )


def _first_line(text: str) -> str:
    return text.strip().splitlines()[0][:200]
