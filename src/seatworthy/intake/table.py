"""A sheet of cells as every reader of files hands it on."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from seatworthy.errors import Fault

Cell = str | date

MOST_COLUMNS: Final = 300
SPREADSHEET_ERRORS: Final = frozenset(
    {"#REF!", "#N/A", "#DIV/0!", "#VALUE!", "#NAME?", "#NUM!", "#NULL!", "#SPILL!", "#CALC!"}
)


@dataclass(frozen=True)
class Table:
    """Rows under a header; rows without any content are left out.

    Attributes:
        header: One heading per column, outer spaces removed, "" for a column without one.
        header_line: Its line in the file.
        lines: Line of every row.
        rows: Cells of every row, each as long as the header: text as found, or a date.
        faults: What is wrong with the form of single rows; those rows are absent.
        notes: Sentences for the user about how the file was read.
    """

    header: tuple[str, ...]
    header_line: int
    lines: Sequence[int]
    rows: Sequence[Sequence[Cell]]
    faults: tuple[Fault, ...]
    notes: tuple[str, ...]
