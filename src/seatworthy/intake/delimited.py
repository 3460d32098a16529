"""CSV text as a table: which mark parts the cells, and rows that do not fit the header."""

import csv
import re
from collections.abc import Iterator
from io import StringIO
from typing import Final

from seatworthy.errors import Fault, FileRefused
from seatworthy.intake.columns import recognised
from seatworthy.intake.csv_text import text_of
from seatworthy.intake.headers import from_header
from seatworthy.intake.live_text import as_meant
from seatworthy.intake.table import MOST_COLUMNS, Table

_MARKS: Final = (",", ";", "\t")
_MARK_NAMES: Final = {",": "comma", ";": "semicolon", "\t": "tab"}
_LOOKED_AT: Final = 200_000  # characters at the start, to find the mark between cells
_SAID_MARK: Final = re.compile(r"sep=([,;\t])\r?\n?", re.IGNORECASE)


def read_delimited(name: str, data: bytes) -> Table:
    """Read CSV bytes.

    Args:
        name: The file's name, for messages.
        data: The whole file.

    Raises:
        FileRefused: if the text, its header or its quotation marks cannot be read.
    """
    text, notes = text_of(name, data)
    said = _SAID_MARK.match(text)
    mark = said[1] if said else _mark_of(name, text)
    records = _records(name, text, mark)
    if said:
        next(records, None)
    records, passed_over = from_header(records)
    header_line, found = next(records, (1, []))
    header = _header(name, found)
    lines: list[int] = []
    rows: list[list[str]] = []
    faults: list[Fault] = []
    width, fault = len(header), None
    for line, cells in records:
        fault = None
        if len(cells) != width and (fault := _misfit(cells, width, mark)):
            faults.append(Fault(line, fault))
            continue
        lines.append(line)
        rows.append([as_meant(cell) for cell in cells[:width]])
    if fault and faults[-1].text == fault:
        faults[-1] = Fault(faults[-1].line, fault + " Perhaps the file was cut off here.")
    return Table(tuple(header), header_line, lines, rows, tuple(faults), (*notes, *passed_over))


def _records(name: str, text: str, mark: str) -> Iterator[tuple[int, list[str]]]:
    """Rows with any content and the line each begins on."""
    reader = csv.reader(StringIO(text, newline=""), delimiter=mark, strict=True)
    before = 0
    try:
        for cells in reader:
            if "".join(cells).strip():
                yield before + 1, cells
            before = reader.line_num
    except csv.Error as error:
        fault = (
            "the quotation marks do not pair up in the row that begins here, or a cell is endless; "
            'write a quotation mark within a cell twice ("").'
        )
        raise FileRefused(name, [Fault(before + 1, fault)]) from error


def _mark_of(name: str, text: str) -> str:
    """The mark under which one of the first lines holds most known headings, then most cells."""
    first = [line for line in text[:_LOOKED_AT].splitlines() if line.strip(" \t,;")][:8]
    if not first:
        raise FileRefused(name, [Fault(None, "the file is empty; expected a header and results.")])
    scores = {}
    for mark in _MARKS:
        scores[mark] = max(_score(line, mark) for line in first)
    return max(_MARKS, key=scores.__getitem__)


def _score(line: str, mark: str) -> tuple[int, int]:
    try:
        cells = next(csv.reader([line[:20_000]], delimiter=mark))
    except csv.Error:
        return 0, 0
    return recognised(cells), len(cells)


def _header(name: str, found: list[str]) -> list[str]:
    found = [as_meant(heading.strip()) for heading in found]
    while found and not found[-1]:
        found.pop()
    if not found:
        raise FileRefused(name, [Fault(None, "the file is empty; expected a header and results.")])
    if len(found) > MOST_COLUMNS:
        fault = f"the header has {len(found)} columns; at most {MOST_COLUMNS} are read."
        raise FileRefused(name, [Fault(1, fault)])
    return found


def _misfit(cells: list[str], width: int, mark: str) -> str | None:
    """What is wrong with a row longer or shorter than the header; None if only blanks hang over."""
    if len(cells) < width:
        return f"has {len(cells)} cells where the header has {width}; give it all its cells."
    if not "".join(cells[width:]).strip():
        return None
    hint = f"a {_MARK_NAMES[mark]} within a cell needs quotation marks around the cell."
    return f"has {len(cells)} cells where the header has {width}; {hint}"
