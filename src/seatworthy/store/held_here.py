"""Which files this process has open as stores.

A lock on Linux and macOS belongs to the process, and all its locks on a file go with the first time
that it closes that file (fcntl(2)): whoever opens a store's file just to look at it, in the process
that holds it, lets every other process in.
"""

import os
import shutil
import threading
from pathlib import Path
from typing import Final
from weakref import WeakKeyDictionary

import duckdb

_OPEN: Final[WeakKeyDictionary[duckdb.DuckDBPyConnection, Path]] = WeakKeyDictionary()
_LOOKING: Final = threading.Lock()
_KEPT_OPEN: Final[dict[Path, int]] = {}
_PIECE: Final = 2**20


def remember(path: Path, con: duckdb.DuckDBPyConnection) -> None:
    """Remember a file as open, until its connection is closed or forgotten."""
    with _LOOKING:
        _OPEN[con] = path.resolve()


def is_held_here(path: Path) -> bool:
    """Whether this process has a file open as a store, so that nothing else may open and close it."""
    where = path.resolve()
    with _LOOKING:
        found = [con for con, held in _OPEN.items() if held == where]
    return any(_is_open(con) for con in found)


def copy_held(path: Path, target: Path) -> None:
    """Copy a file byte by byte, also one that this process holds: its lock stays.

    The descriptor by which a held file is read stays open until that file is held no more.

    Raises:
        OSError: if it cannot be read or written.
    """
    is_held = is_held_here(path)
    with _LOOKING:
        if not is_held and (kept := _KEPT_OPEN.pop(path.resolve(), None)) is not None:
            os.close(kept)
        if not is_held or not hasattr(os, "pread"):
            shutil.copyfile(path, target)
            return
        with target.open("wb") as copy:
            descriptor, at = _descriptor(path.resolve()), 0
            while piece := os.pread(descriptor, _PIECE, at):
                copy.write(piece)
                at += len(piece)


def _descriptor(path: Path) -> int:
    kept = _KEPT_OPEN.get(path)
    if kept is not None and os.path.samestat(os.fstat(kept), path.stat()):
        return kept
    if kept is not None:  # of a file that was put in this one's place; no lock hangs on it
        os.close(kept)
    _KEPT_OPEN[path] = os.open(path, os.O_RDONLY)
    return _KEPT_OPEN[path]


def _is_open(con: duckdb.DuckDBPyConnection) -> bool:
    try:
        con.cursor().close()
    except duckdb.Error:
        return False
    return True
