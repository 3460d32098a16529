"""The board as a table for a spreadsheet: one row for each panellist and compound."""

from collections.abc import Iterator
from typing import Final

from seatworthy.phrases import STANDING_WORDS
from seatworthy.steps.spreadsheet import Cell, csv_bytes, xlsx_bytes
from seatworthy.steps.views import BoardView

_HEAD: Final = (
    "as of (day)",
    "beer family",
    "panellist",
    "can sit",
    "compound",
    "critical",
    "where they stand",
    "named right (glasses)",
    "counted (glasses)",
    "until (day)",
)


def board_csv(view: BoardView) -> bytes:
    """The board in CSV, UTF-8 with the mark by which spreadsheets know it."""
    return csv_bytes(_HEAD, _rows(view))


def board_xlsx(view: BoardView) -> bytes:
    """The same as a workbook."""
    return xlsx_bytes(_HEAD, _rows(view))


def _rows(view: BoardView) -> Iterator[tuple[Cell, ...]]:
    for person in view.people:
        sits: Cell = person.can_sit
        if person.can_sit and not view.is_signed:
            sits = "meets the rule, not signed"
        for row in view.rows:
            cell = row.cells[person.person_id]
            yield (
                view.as_of, view.family.label, person.name, sits, row.label, row.is_critical,
                STANDING_WORDS[cell.standing], cell.named_right, cell.glasses, cell.until,
            )  # fmt: skip
