"""Pieces of text in different letterings under one another in one cell of a table."""

from collections.abc import Sequence
from typing import Final

from seatworthy.paper.ledger import Ledger
from seatworthy.paper.lettering import Lettering
from seatworthy.paper.sheet import Align, Sheet

Part = tuple[str, Lettering]

_PADDING: Final = 1.5  # over and under a stack
_FIRST: Final = 5.0  # all first lines of a row stand in the middle of this
_MOST_LINES: Final = 7  # of one piece; what is longer is set smaller
_HAIR: Final = 0.02  # sums of lines are never quite exact


def stack_height(sheet: Sheet, ledger: Ledger, key: str, parts: Sequence[Part]) -> float:
    """How high a row must be for this stack, mm; empty pieces take no room.

    Args:
        sheet: Where it stands.
        ledger: The table.
        key: Of the column.
        parts: From top to bottom.
    """
    width = ledger.cell(key)[1]
    first, *others = [_height(sheet, part, width) for part in _said(parts)] or [0.0]
    return max(first, _FIRST) + sum(others) + 2 * _PADDING


def draw_stack(
    sheet: Sheet, ledger: Ledger, key: str, parts: Sequence[Part], top: float, align: Align = "L"
) -> None:
    """Set a stack into the open row, its first line level with those of the other stacks.

    Args:
        sheet: Where it stands.
        ledger: The table with its open row.
        key: Of the column.
        parts: From top to bottom.
        top: Where the row's text may begin, mm.
        align: Within the column.
    """
    x, width = ledger.cell(key)
    y = top + _PADDING
    for number, part in enumerate(_said(parts)):
        height = _height(sheet, part, width)
        if number == 0 and height < _FIRST:
            y += (_FIRST - height) / 2
        sheet.put(part[0], (x, y, width, height + _HAIR), part[1], align)
        y += height


def _said(parts: Sequence[Part]) -> list[Part]:
    return [part for part in parts if part[0]]


def _height(sheet: Sheet, part: Part, width: float) -> float:
    text, lettering = part
    return min(len(sheet.lines(text, width, lettering)), _MOST_LINES) * lettering.line
