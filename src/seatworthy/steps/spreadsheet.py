"""Tables for a spreadsheet, as CSV or as a workbook; in neither is any cell a formula.

Over a column stand its words and its unit in brackets, days and moments are written after ISO 8601,
and a moment carries its distance from UTC.
"""

import csv
import io
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import cache
from math import isnan
from typing import TYPE_CHECKING, Final

from seatworthy.intake.live_text import harmless

if TYPE_CHECKING:
    from openpyxl.cell import Cell as SheetCell
    from openpyxl.styles import Alignment
    from openpyxl.worksheet.worksheet import Worksheet

Cell = str | int | float | bool | date | datetime | None

XLSX: Final = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"  # as MIME says it
_DAY_FORMAT: Final = "yyyy-mm-dd"
_TEXT_FORMAT: Final = "@"  # what is typed over it stays text too
_FIRST_YEAR: Final = 1901  # a workbook's own days don't reach back further
_NARROWEST: Final = 12  # characters; a day and some air
_WIDEST: Final = 60  # likewise; longer text runs on below
_LONGEST_NAME: Final = 31  # characters of a sheet's name, and none of those below
_NOT_IN_A_NAME: Final = re.compile(r"[\s\[\]:*?/\\]+")
_LONGEST: Final = 32_767  # characters a workbook's cell takes
_UNWRITABLE: Final = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")


@dataclass(frozen=True)
class SheetOf:
    """One sheet of a workbook.

    Attributes:
        name: What stands on its tab.
        heads: As in `csv_bytes`.
        rows: Likewise.
    """

    name: str
    heads: Sequence[str]
    rows: Iterable[Sequence[Cell]]


def csv_bytes(heads: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """A table as CSV after RFC 4180, with the mark by which spreadsheets know UTF-8.

    Args:
        heads: What stands over the columns, with units.
        rows: Cells; None is an empty cell. A text that would start a formula gets an apostrophe,
            which a results file loses again when it is read.

    Raises:
        ValueError: if a moment doesn't say how far from UTC it is.
    """
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow([_in_csv(head) for head in heads])
    writer.writerows([_in_csv(cell) for cell in row] for row in rows)
    return text.getvalue().encode("utf-8-sig", "replace")


def xlsx_bytes(heads: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """The same as a workbook of one sheet: text is text, so that a code keeps its zeros.

    Args:
        heads: As in `csv_bytes`.
        rows: Likewise.

    Raises:
        ValueError: as `csv_bytes` does.
    """
    return workbook_bytes([SheetOf("table", heads, rows)])


def workbook_bytes(sheets: Iterable[SheetOf]) -> bytes:
    """A workbook of several sheets; cells as in `xlsx_bytes`.

    Args:
        sheets: At least one, in their order; no two under one name.

    Raises:
        ValueError: as `csv_bytes` does.
    """
    from openpyxl import Workbook  # slow to import, and only needed for a workbook

    book = Workbook()
    book.remove(book.active)
    for one in sheets:
        name = _NOT_IN_A_NAME.sub(" ", one.name)[:_LONGEST_NAME]
        _fill(book.create_sheet(name), one)
    made = io.BytesIO()
    book.save(made)
    return made.getvalue()


def _fill(sheet: "Worksheet", of: SheetOf) -> None:
    from openpyxl.styles import Font

    sheet.freeze_panes = "A2"
    widths = [max(_NARROWEST, len(head) + 3) for head in of.heads]
    for place, head in enumerate(of.heads, start=1):
        _put(sheet, 1, place, head).font = Font(bold=True)
    for line, row in enumerate(of.rows, start=2):
        for place, cell in enumerate(row, start=1):
            at = _put(sheet, line, place, cell)
            length = len(at.value) if isinstance(at.value, str) else 0
            widths[place - 1] = max(widths[place - 1], length + 1)
            at.alignment = _placed(is_long=length > _WIDEST)
    for place, width in enumerate(widths, start=1):
        letter = sheet.cell(1, place).column_letter
        sheet.column_dimensions[letter].width = min(width, _WIDEST)


@cache
def _placed(*, is_long: bool) -> "Alignment":
    from openpyxl.styles import Alignment

    return Alignment(vertical="top", wrap_text=is_long)


def _in_csv(cell: Cell) -> str | int | float:
    found = _plain(cell)
    if isinstance(found, date):
        return found.isoformat()
    # Within a cell a line ends with one sign alone, or a spreadsheet takes it for a row's end.
    return harmless(re.sub("\r\n?", "\n", found)) if isinstance(found, str) else found


def _put(sheet: "Worksheet", line: int, place: int, cell: Cell) -> "SheetCell":
    found, at = _plain(cell), sheet.cell(line, place)
    if found == "":
        return at
    if isinstance(found, date):
        at.value, at.number_format = found, _DAY_FORMAT
    elif isinstance(found, str):
        at.value = _UNWRITABLE.sub("\N{REPLACEMENT CHARACTER}", found)[:_LONGEST]
        at.data_type, at.number_format = "s", _TEXT_FORMAT
        at.quotePrefix = harmless(found) != found
    else:
        at.value = found
    return at


def _plain(cell: Cell) -> str | int | float | date:
    """The cell as it is written: no day before a workbook's first, no moment, nothing unknown."""
    if cell is None or (isinstance(cell, float) and isnan(cell)):
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, datetime):
        if cell.tzinfo is None:
            message = f"a moment without its distance from UTC: {cell}"
            raise ValueError(message)
        return cell.isoformat(timespec="seconds")
    if isinstance(cell, date) and cell.year < _FIRST_YEAR:
        return cell.isoformat()
    return cell
