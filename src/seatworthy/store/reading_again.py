"""Reads the file of an open store from the disk again, as what was read once is kept in memory."""

import shutil

from seatworthy.errors import StoreDamaged, StoreError
from seatworthy.store.copying import discard, read_whole, unfinished
from seatworthy.store.file import Store
from seatworthy.store.held_here import copy_held


def read_as_it_lies(store: Store) -> None:
    """Copy the file with its journal byte by byte, and read every row of the copy.

    Raises:
        StoreDamaged: if some of it cannot be read.
        StoreError: if there is no room for the copy.
    """
    part = unfinished(store.path)
    try:
        with store.alone():
            copy_held(store.path, part)
            log = store.path.with_name(store.path.name + ".wal")
            if log.exists():
                shutil.copyfile(log, part.with_name(part.name + ".wal"))
        read_whole(part)
    except OSError as error:
        message = f"{store.path} could not be read beside itself ({error.strerror}). Make room."
        raise StoreError(message) from error
    except StoreDamaged as error:
        message = str(error).replace(str(part), str(store.path))
        raise StoreDamaged(message) from error
    finally:
        discard(part)
