"""The board as a table for a spreadsheet: one row for each panellist and compound."""

import csv
import io
from typing import Final

from seatworthy.phrases import STANDING_WORDS
from seatworthy.steps.views import BoardView

# A spreadsheet takes a cell that starts so for a formula; the last four are full-width forms.
_FORMULA_STARTS: Final = (
    "=",
    "+",
    "-",
    "@",
    "\t",
    "\r",
    "\n",
    "\uff1d",
    "\uff0b",
    "\uff0d",
    "\uff20",
)
_HEAD: Final = (
    "as of",
    "beer family",
    "panellist",
    "can sit",
    "compound",
    "critical",
    "where they stand",
    "named right",
    "glasses",
    "until",
)


def board_csv(view: BoardView) -> bytes:
    """The board in CSV, UTF-8 with the mark by which spreadsheets know it."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(_HEAD)
    for person in view.people:
        for row in view.rows:
            cell = row.cells[person.person_id]
            writer.writerow(
                [
                    view.as_of.isoformat(),
                    harmless(view.family.label),
                    harmless(person.name),
                    _sits(person.can_sit, is_signed=view.is_signed),
                    harmless(row.label),
                    "yes" if row.is_critical else "no",
                    STANDING_WORDS[cell.standing],
                    cell.named_right,
                    cell.glasses,
                    cell.until.isoformat() if cell.until else "",
                ]
            )
    return text.getvalue().encode("utf-8-sig")


def _sits(can_sit: bool, *, is_signed: bool) -> str:
    if can_sit and not is_signed:
        return "meets the rule, not signed"
    return "yes" if can_sit else "no"


def harmless(text: str) -> str:
    """Text that a spreadsheet shows and never computes."""
    starts = text.startswith(_FORMULA_STARTS) or text.lstrip().startswith(_FORMULA_STARTS)
    return f"'{text}" if starts else text
