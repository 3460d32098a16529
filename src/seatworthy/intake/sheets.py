"""A file on disk as a table of cells, whatever its form; too large a file is never read."""

from hashlib import sha256
from pathlib import Path
from typing import Final

from seatworthy.errors import Fault, FileRefused
from seatworthy.intake.delimited import read_delimited
from seatworthy.intake.table import Table
from seatworthy.intake.workbook import read_workbook

LARGEST: Final = 100_000_000  # bytes
_ZIP: Final = b"PK\x03\x04"
_COMPOUND_FILE: Final = b"\xd0\xcf\x11\xe0"


def read_bytes(path: Path, largest: int = LARGEST) -> bytes:
    """The bytes of a file, its size looked at first.

    Raises:
        FileRefused: if it is not there, cannot be opened or has more than `largest` bytes.
    """
    try:
        if not path.is_file():
            raise _refused(path, "there is no such file; check its name and folder.")
        size = path.stat().st_size
        if size > largest:
            limit = largest // 1_000_000
            raise _refused(
                path, f"has {size // 1_000_000} MB; at most {limit} MB are read. Split it by year."
            )
        return path.read_bytes()
    except (OSError, ValueError) as error:
        raise _refused(path, f"cannot be opened ({error}).") from error


def read_table(path: Path, sheet: str | None = None) -> tuple[Table, str]:
    """Read a CSV file or a workbook.

    Args:
        path: The file; what it holds decides how it is read, not its ending.
        sheet: Which sheet of a workbook.

    Returns:
        The table, and the SHA-256 of the file in hex.

    Raises:
        FileRefused: if nothing of it can be read.
    """
    data = read_bytes(path)
    digest = sha256(data).hexdigest()
    if data.startswith(_COMPOUND_FILE):
        raise _refused(
            path, "is an old .xls workbook or locked by a password; save it as a plain .xlsx."
        )
    if data.startswith(_ZIP):
        return read_workbook(path.name, data, sheet), digest
    if path.suffix.casefold() in (".xlsx", ".xlsm") and data:
        raise _refused(path, "is no workbook, whatever its name says; save it as .xlsx again.")
    if sheet is not None:
        raise _refused(path, "is no workbook and has no sheets; leave --sheet out.")
    return read_delimited(path.name, data), digest


def _refused(path: Path, text: str) -> FileRefused:
    return FileRefused(path.name or str(path), [Fault(None, text)])
