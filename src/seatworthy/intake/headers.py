"""Finds the header: the first row, or the first that reads like one under a title."""

from collections.abc import Iterator
from itertools import chain, islice
from typing import Final

from seatworthy.intake.columns import recognised
from seatworthy.intake.table import Cell

_LINES_LOOKED_AT: Final = 8
_ENOUGH_HEADINGS: Final = 2

Record = tuple[int, list[Cell]]


def from_header(records: Iterator[Record]) -> tuple[Iterator[Record], tuple[str, ...]]:
    """The rows from the header on, and a sentence about those above it that were passed over.

    Args:
        records: Line and cells of every row with any content.
    """
    first = list(islice(records, _LINES_LOOKED_AT))
    for place, (line, cells) in enumerate(first):
        if recognised([str(cell) for cell in cells]) >= _ENOUGH_HEADINGS:
            if not place:
                break
            note = f"The header stands on line {line}; what is above it was passed over."
            return chain(first[place:], records), (note,)
    return chain(first, records), ()
