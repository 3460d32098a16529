"""Tables for a spreadsheet: CSV that it knows as UTF-8 and in which no cell is a formula."""

import csv
import io
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from typing import Final

# A spreadsheet takes a cell that starts so for a formula; the last four are full-width forms.
_FORMULA_STARTS: Final = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")

Cell = str | int | float | bool | date | datetime | None


def csv_bytes(heads: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """A table as CSV with the mark by which spreadsheets know UTF-8.

    Args:
        heads: What stands over the columns, with units.
        rows: Cells; days and moments are written after ISO 8601, None is an empty cell.
    """
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow([harmless(head) for head in heads])
    writer.writerows([_written(cell) for cell in row] for row in rows)
    return text.getvalue().encode("utf-8-sig")


def harmless(text: str) -> str:
    """Text that a spreadsheet shows and never computes."""
    starts = text.startswith(_FORMULA_STARTS) or text.lstrip().startswith(_FORMULA_STARTS)
    return f"'{text}" if starts else text


def _written(cell: Cell) -> str | int | float:
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, datetime):
        return cell.isoformat(timespec="seconds")
    if isinstance(cell, date):
        return cell.isoformat()
    return harmless(cell) if isinstance(cell, str) else cell
