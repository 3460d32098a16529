"""A plain copy of the record: text that can be read without Seatworthy, and the way back from it."""

import tempfile
import zipfile
from io import BytesIO
from pathlib import Path

from seatworthy.steps.desk import Desk
from seatworthy.store import plain, plain_back
from seatworthy.store.copying import Manifest


def write_plain(desk: Desk, folder: Path) -> Manifest:
    """Write every table into a new folder as CSV and Parquet, proved equal.

    Raises:
        StoreError: if the folder exists or cannot be written.
    """
    return plain.write_plain(desk.store, folder)


def read_plain(folder: Path, target: Path) -> Manifest:
    """Make a new store of a plain copy, proved equal.

    Raises:
        StoreError: if the store exists already, or the folder is no whole plain copy.
    """
    return plain_back.read_plain(folder, target)


def plain_name(desk: Desk) -> str:
    """What a plain copy made now is called."""
    return f"{desk.store.path.stem}-plain-{desk.today():%Y%m%d}"


def plain_zip(desk: Desk) -> bytes:
    """A plain copy packed into one file, to be taken away.

    Raises:
        StoreError: if it cannot be written.
    """
    name, packed = plain_name(desk), BytesIO()
    with tempfile.TemporaryDirectory(prefix="seatworthy-") as place:
        folder = Path(place) / name
        write_plain(desk, folder)
        with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
            for path in sorted(folder.rglob("*")):
                if path.is_file():
                    archive.write(path, f"{name}/{path.relative_to(folder).as_posix()}")
    return packed.getvalue()
