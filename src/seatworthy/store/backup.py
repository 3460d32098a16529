"""Backups that are checked after writing.

A backup is a copy of the store made by DuckDB from one consistent moment, with a manifest beside it:
rows and a digest for every table, and the head of the history.
"""

from pathlib import Path

from seatworthy.store.copying import Manifest, copy_whole
from seatworthy.store.file import Store


def back_up(store: Store, target: Path) -> Manifest:
    """Copy an open store into a new file and prove that the copy is equal.

    Raises:
        StoreError: if the target exists, cannot be written, or turns out different.
    """
    cursor = store.cursor()
    try:
        return copy_whole(cursor, target)
    finally:
        cursor.close()
