"""XLSX workbooks as a table: guarded against bombs, merged cells and formulas without a value."""

import re
import warnings
from collections.abc import Iterator, Sequence
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from io import BytesIO
from itertools import islice
from typing import TYPE_CHECKING, Any, Final
from zipfile import ZipFile

from seatworthy.errors import Fault, FileRefused
from seatworthy.intake.headers import from_header
from seatworthy.intake.live_text import as_meant
from seatworthy.intake.table import MOST_COLUMNS, Cell, Table
from seatworthy.intake.words import quoted

if TYPE_CHECKING:
    from openpyxl.worksheet._read_only import ReadOnlyWorksheet

MOST_UNPACKED: Final = 200_000_000  # bytes; an honest sheet of the largest size stays below
MOST_ROWS: Final = 50_000  # a minute of reading
MOST_PARTS: Final = 5000

# No tag holds a <, so a search for one ends at the next and never runs through the whole sheet.
_MERGED: Final = re.compile(
    rb"<(?:\w+:)?mergeCell\s[^<>]*?\bref=[\"']([A-Z]{1,3}([0-9]+)(?::\w+)?)"
)
_WITHOUT_VALUE: Final = re.compile(
    rb"<c\s(?=[^<>]*?\br=[\"']([A-Z]{1,3}([0-9]+))[\"'])[^<>]*>\s*"
    rb"<f(?:\s[^<>]*)?(?:/>|>[^<]*</f>)\s*(?:<v\s*/>|<v>\s*</v>)?\s*</c>"
)
_ZEROS: Final = re.compile(r"0{2,}")


def read_workbook(name: str, data: bytes, sheet: str | None) -> Table:
    """Read one sheet of an XLSX workbook.

    Args:
        name: The file's name, for messages.
        data: The whole file.
        sheet: Which sheet; None if only one of them holds anything.

    Raises:
        FileRefused: if it is no workbook we can read, too large, has several sheets to choose
            from, merged cells, or formulas whose value was never saved.
    """
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # openpyxl warns of styles and extensions
            return _read(name, data, sheet)
    except FileRefused:
        raise
    except Exception as error:  # foreign bytes may break a foreign parser in any way
        fault = (
            f"is no workbook that can be read ({type(error).__name__}). "
            "Open it in a spreadsheet program and save it again as .xlsx, without a password."
        )
        raise FileRefused(name, [Fault(None, fault)]) from error


def _read(name: str, data: bytes, sheet: str | None) -> Table:
    from openpyxl import load_workbook  # slow to import, and only needed when a workbook arrives

    with ZipFile(BytesIO(data)) as packed:
        parts = packed.infolist()
        if len(parts) > MOST_PARTS or sum(part.file_size for part in parts) > MOST_UNPACKED:
            fault = f"unpacks to more than {MOST_UNPACKED // 1_000_000} MB; split it or use CSV."
            raise FileRefused(name, [Fault(None, fault)])
        book = load_workbook(BytesIO(data), read_only=True, data_only=True)
        try:
            chosen, notes = _chosen_sheet(name, book.worksheets, sheet)
            faults = list(_faults_of_form(packed.read(chosen._worksheet_path.lstrip("/"))))
            return _table(name, chosen, faults, notes)
        finally:
            book.close()


def _chosen_sheet(
    name: str, sheets: Sequence["ReadOnlyWorksheet"], wanted: str | None
) -> tuple["ReadOnlyWorksheet", tuple[str, ...]]:
    titles = ", ".join(quoted(sheet.title) for sheet in sheets)
    if wanted is not None:
        found = [sheet for sheet in sheets if sheet.title.casefold() == wanted.strip().casefold()]
        if not found:
            choice = f"choose one of {titles}" if titles else "there is none in it; save it again"
            fault = f"the workbook has no sheet called {quoted(wanted)}: {choice}."
            raise FileRefused(name, [Fault(None, fault)])
        return found[0], ()
    filled = [sheet for sheet in sheets if _holds_anything(sheet)]
    if not filled:
        fault = "the file is empty; expected a sheet with a header and results."
        raise FileRefused(name, [Fault(None, fault)])
    if len(filled) > 1:
        some = ", ".join(quoted(sheet.title) for sheet in filled)
        fault = f"the file has {len(filled)} sheets with content ({some}); say which one with --sheet NAME."
        raise FileRefused(name, [Fault(None, fault)])
    note = f"Read the sheet {quoted(filled[0].title)}; the others are empty."
    return filled[0], (note,) if len(sheets) > 1 else ()


def _holds_anything(sheet: "ReadOnlyWorksheet") -> bool:
    rows = islice(sheet.iter_rows(values_only=True), MOST_ROWS)
    return any(value is not None for row in rows for value in row)


def _faults_of_form(xml: bytes) -> Iterator[Fault]:
    for cells, row in _MERGED.findall(xml):
        text = f"the cells {cells.decode()} are merged; unmerge them and fill in every cell."
        yield Fault(int(row), text)
    for cell, row in _WITHOUT_VALUE.findall(xml):
        text = f"the formula in {cell.decode()} has no saved value; write the value itself."
        yield Fault(int(row), text)


def _table(
    name: str, sheet: "ReadOnlyWorksheet", faults: list[Fault], notes: tuple[str, ...]
) -> Table:
    numbered, passed_over = from_header(_filled_rows(name, sheet))
    header_line, first = next(numbered, (1, []))
    header = [cell.isoformat() if isinstance(cell, date) else cell for cell in first]
    width = len(header)
    if not width:
        fault = "the sheet is empty; expected a header and results."
        raise FileRefused(name, [Fault(None, fault)])
    lines, rows = [], []
    for line, cells in numbered:
        if len(cells) > width:
            text = (
                f"{quoted(cells[-1])} stands in column {len(cells)}, which has no heading; give it one, "
                "or take this out."
            )
            faults.append(Fault(line, text))
            continue
        lines.append(line)
        rows.append(cells + [""] * (width - len(cells)))
    return Table(tuple(header), header_line, lines, rows, tuple(faults), (*notes, *passed_over))


def _filled_rows(name: str, sheet: "ReadOnlyWorksheet") -> Iterator[tuple[int, list[Cell]]]:
    """Rows with any content, without the empty cells at their end, and their row numbers."""
    for line, found in enumerate(sheet.iter_rows(), start=1):
        if line > MOST_ROWS:
            fault = f"has more than {MOST_ROWS} rows; split it or use CSV."
            raise FileRefused(name, [Fault(line, fault)])
        cells = [_content(cell) for cell in found]
        while cells and cells[-1] == "":
            cells.pop()
        if len(cells) > MOST_COLUMNS:
            fault = f"has {len(cells)} columns; at most {MOST_COLUMNS} are read."
            raise FileRefused(name, [Fault(line, fault)])
        if cells:
            yield line, cells


def _content(cell: Any) -> Cell:  # noqa: ANN401 - openpyxl's cells share no type
    """A cell's content as it is shown: text, a plain number as text, or a date."""
    value = cell.value
    if value is None:
        return ""
    if isinstance(value, str):
        return as_meant(value.strip())  # a workbook may have been made of our CSV
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, date | time | timedelta):
        return value if isinstance(value, date) else str(value)
    plain = format(Decimal(repr(value)), "f")
    whole = plain.removesuffix(".0")
    if _ZEROS.fullmatch(cell.number_format or "") and whole.isdigit():
        return whole.zfill(len(cell.number_format))
    return whole
