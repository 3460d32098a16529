"""Keeps a copy of a store as it was before new tables are made in it."""

from pathlib import Path

import duckdb

from seatworthy.errors import StoreError
from seatworthy.store.copies import BEFORE_UPGRADE, folder_of, new_place
from seatworthy.store.copying import copy_whole
from seatworthy.store.history import last_entry
from seatworthy.store.schema import applied_files
from seatworthy.store.sql_files import numbered_files


def copy_before_upgrade(con: duckdb.DuckDBPyConnection, store: Path) -> Path | None:
    """Copy a store that an earlier version made, checked, before anything of it is changed.

    Args:
        con: The store's own connection.
        store: Its file.

    Returns:
        The copy; None where no table is missing, or nothing was ever recorded.

    Raises:
        StoreError: if the copy cannot be made; then nothing was changed.
    """
    applied = applied_files(con)
    is_whole = all(number in applied for number, _ in numbered_files("1_tables"))
    if not applied or is_whole or last_entry(con)[0] == 0:
        return None
    cursor = con.cursor()
    try:
        target = new_place(store, BEFORE_UPGRADE)
        copy_whole(cursor, target)
    except StoreError as error:
        message = (
            f"{store} was made by an earlier version and needs further tables. Before they are made "
            f"a copy of it is kept in {folder_of(store)}, and that copy could not be made: {error} "
            "Make room there, or make the folder writable, then open it again; nothing was changed."
        )
        raise StoreError(message) from error
    finally:
        cursor.close()
    return target
