"""What is checked on every vessel once it is dosed: one row a vessel, boxes to tick."""

from collections.abc import Sequence
from typing import Final

from seatworthy.paper.ledger import Column, Ledger
from seatworthy.paper.lettering import LETTER, PLAIN
from seatworthy.paper.sheet import MARGIN, WRITING, Sheet
from seatworthy.paper.vessel_names import vessels_of
from seatworthy.steps.paper_views import PaperSample

_LEAD: Final = (
    "Cap each vessel, then tip it: look for foam or drips. Re-crown it if it leaks, and tip it again. "
    "Chill it."
)
_COLUMNS: Final = (
    Column("vessel", "vessel", 20),
    Column("what", "compound", 52),
    Column("capped", "capped", 17),
    Column("tight", "tight", 17),
    Column("chilled", "chilled", 17),
    Column("note", "done otherwise", 0),
)
_ROW: Final = 7.4
_LINE: Final = 9.0
_KEPT: Final = 40.0


def draw_checks(sheet: Sheet, samples: Sequence[PaperSample], heading: str) -> None:
    """The table with its heading, and a line for what was done otherwise.

    Args:
        sheet: Where it stands, at its present height.
        samples: In the order of work; nothing is drawn for none.
        heading: Of the section.
    """
    if not samples:
        return
    sheet.heading(heading, _KEPT)
    sheet.paragraph(_LEAD, PLAIN)
    sheet.ln(1.5)
    ledger = Ledger(sheet, _COLUMNS)
    ledger.start(_ROW)
    for sample in samples:
        for name in vessels_of(sample):
            _draw_vessel(ledger, name, sample.label)
    sheet.ln(3)
    _draw_otherwise(sheet)


def _draw_vessel(ledger: Ledger, name: str, label: str) -> None:
    ledger.open_row(_ROW)
    ledger.put("vessel", name, LETTER.at(12))
    ledger.put("what", label, PLAIN)
    for key in ("capped", "tight", "chilled"):
        ledger.put_box(key)


def _draw_otherwise(sheet: Sheet) -> None:
    """Two lines to write on over the whole width."""
    sheet.room(2 * _LINE + 2)
    sheet.write_in("Done otherwise than written here", MARGIN, sheet.right)
    sheet.ln(_LINE + PLAIN.line)
    sheet.rule(sheet.y, 0.2, WRITING)
    sheet.ln(6)
