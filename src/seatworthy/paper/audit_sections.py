"""A paper for an audit: its sentence, its sections with their tables, sign-off and digest."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime
from itertools import pairwise
from typing import Final

from seatworthy.paper.ledger import Column, Ledger
from seatworthy.paper.lettering import NOTE, PLAIN, Lettering
from seatworthy.paper.sheet import MARGIN, TOP, Sheet
from seatworthy.paper.wording import of_brewery, whole_day
from seatworthy.steps.audit_views import AuditPaper, AuditSection, AuditTable
from seatworthy.steps.chain_head import grouped, what_it_proves
from seatworthy.steps.spreadsheet import Cell

_ROW: Final = 6.0
_SIGN_LINE: Final = 10.0
_APART: Final = 2.5  # more than the usual gap, between a number and text
_KEPT: Final = 34.0  # of a section with its heading on one page
_CELL: Final = NOTE.at(8.5)
_DENSE_ROW: Final = 4.1
_DENSE_CELL: Final = NOTE.at(7.5)


def audit_pdf(paper: AuditPaper, size: str) -> bytes:
    """The whole paper.

    Args:
        paper: What it shows.
        size: "A4" or "Letter".
    """
    title = f"{paper.title}, {paper.about}, {whole_day(paper.as_of)}"
    sheet = Sheet(size, title, paper.made_at.replace(tzinfo=None), paper.head.words)
    sheet.begin(of_brewery(paper.brewery, paper.foot), f"{title}, {paper.question}")
    where = (paper.title, paper.about, whole_day(paper.as_of), paper.question)
    sheet.opening(where, paper.sentence, paper.lead)
    for section in paper.sections:
        _draw_section(sheet, section)
    _draw_end(sheet, paper)
    return sheet.finished()


def _draw_section(sheet: Sheet, section: AuditSection) -> None:
    sheet.heading(section.heading, _KEPT)
    for sentence in section.sentences:
        sheet.paragraph(sentence, PLAIN)
        sheet.ln(1)
    if section.table is not None and section.table.rows:
        _draw_table(sheet, section.table)
    sheet.ln(5)


def _draw_table(sheet: Sheet, table: AuditTable) -> None:
    columns = _columns(sheet, table)
    ledger = Ledger(sheet, _spaced(columns))
    lettering = _DENSE_CELL if table.is_dense else _CELL
    rows = [_texts(table, columns, row) for row in table.rows]
    heights = [_height(sheet, ledger, row, lettering) for row in rows]
    ledger.start(heights[0])
    for row, height in zip(rows, heights, strict=True):
        ledger.open_row(height)
        for key, text in row.items():
            ledger.put(key, text, lettering)


def _columns(sheet: Sheet, table: AuditTable) -> list[Column]:
    whole = sum(column.width for column in table.columns)
    return [
        Column(
            column.name,
            column.head,
            sheet.width * column.width / whole,
            "R" if _is_count(table, number) else "L",
        )
        for number, column in enumerate(table.columns)
    ]


def _spaced(columns: Sequence[Column]) -> list[Column]:
    """The same columns, with some room between a number at the right and text at the left."""
    found = [columns[0]]
    for before, column in pairwise(columns):
        if (before.align, column.align) == ("R", "L"):
            found[-1] = replace(before, width=before.width - _APART)
            found.append(Column(f"{before.key}, room", "", _APART))
        found.append(column)
    return found


def _is_count(table: AuditTable, number: int) -> bool:
    """Whether a column holds nothing but numbers."""
    cells = [row[number] for row in table.rows if row[number] is not None]
    return bool(cells) and all(type(cell) in (int, float) for cell in cells)


def _texts(table: AuditTable, columns: Sequence[Column], row: Sequence[Cell]) -> dict[str, str]:
    """The words of one row, by key of the column."""
    return {
        column.key: cell_words(cell, meant.digits)
        for column, meant, cell in zip(columns, table.columns, row, strict=True)
    }


def _height(sheet: Sheet, ledger: Ledger, row: Mapping[str, str], lettering: Lettering) -> float:
    """So high that every cell stands in its own size, but never higher than a page."""
    if lettering is _DENSE_CELL and _is_one_line(sheet, ledger, row):
        return _DENSE_ROW
    least = _DENSE_ROW if lettering is _DENSE_CELL else _ROW
    needed = ledger.height_for({key: (text, lettering) for key, text in row.items()}, least)
    return min(needed, sheet.bottom - TOP - 20)


def _is_one_line(sheet: Sheet, ledger: Ledger, row: Mapping[str, str]) -> bool:
    """Whether every cell set small stands on one line, which needs no room above and below."""
    return all(
        len(sheet.lines(text, ledger.cell(key)[1], _DENSE_CELL)) == 1 for key, text in row.items()
    )


def cell_words(cell: Cell, digits: int = 0) -> str:
    """One cell as it stands on paper; nothing where nothing is known.

    Args:
        cell: Its value.
        digits: Decimals of a number that isn't whole by nature.
    """
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, datetime):
        return f"{cell.day} {cell:%b} {cell.year} {cell:%H:%M}"
    if isinstance(cell, date):
        return f"{cell.day} {cell:%b} {cell.year}"
    return f"{cell:.{digits}f}" if isinstance(cell, float) else str(cell)


def _draw_end(sheet: Sheet, paper: AuditPaper) -> None:
    sheet.heading("Sign-off", 20 + _SIGN_LINE * len(paper.sign_off))
    for line in paper.sign_off:
        sheet.ln(_SIGN_LINE - PLAIN.line)
        sheet.write_in(line, MARGIN, sheet.right)
        sheet.ln(PLAIN.line)
    sheet.ln(5)
    for caution in paper.cautions:
        sheet.paragraph(caution, NOTE)
        sheet.ln(1.5)
    _draw_digest(sheet, paper)


def _draw_digest(sheet: Sheet, paper: AuditPaper) -> None:
    made = f"{paper.made_at:%H:%M} ({paper.made_at.tzname()}), {whole_day(paper.made_at.date())}"
    head, read = paper.head, paper.read
    sheet.ln(3)
    sheet.heading("The record behind this paper", 30)
    sheet.paragraph(
        f"Made at {made}, when the newest was entry {head.entry_no}: {grouped(head.digest)}.", NOTE
    )
    if read != head:
        sheet.paragraph(f"Read up to entry {read.entry_no}: {grouped(read.digest)}.", NOTE)
    sheet.ln(1.5)
    sheet.paragraph(what_it_proves(), NOTE)
