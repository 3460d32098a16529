"""What was in each glass: the columns of a table read one by one, each distinct cell once."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from functools import cached_property, partial
from typing import Any, Final

from seatworthy.errors import Fault
from seatworthy.intake.answers import FORCED_CHOICE, CompoundReader, read_method
from seatworthy.intake.cells import (
    read_aside,
    read_code,
    read_dose,
    read_level,
    read_position,
    read_rating,
    read_volume,
)
from seatworthy.intake.columns import Columns
from seatworthy.intake.dates import read_dates
from seatworthy.intake.table import SPREADSHEET_ERRORS, Cell, Table
from seatworthy.intake.words import (
    Unreadable,
    Vocabulary,
    quoted,
    read_label,
    read_name,
    read_text,
)

_NEEDED: Final = {
    "date": "is empty; write the day of the session like 2026-03-05.",
    "panellist": "is empty; write who tasted.",
    "compound": "is empty; write blank for a glass without a spike.",
}


@dataclass
class Reading:
    """A table while it is read: one list per column, aligned with the rows.

    Attributes:
        table: The cells.
        columns: Which column is which.
        values: Read values by documented name, None where a cell is empty, absent or at fault.
        unread: Rows (indices) of every column that have a fault in it.
        faults: What was found so far.
        notes: Sentences for the user.
        date_order: How the dates were read.
    """

    table: Table
    columns: Columns
    values: dict[str, list[Any]] = field(default_factory=dict)
    unread: dict[str, set[int]] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    date_order: str = ""

    def cells(self, name: str) -> Sequence[Cell]:
        """The cells of one column; all empty for a column that is not there."""
        place = self.columns.places.get(name)
        return [""] * len(self.table.rows) if place is None else self.by_column[place]

    @cached_property
    def by_column(self) -> Sequence[Sequence[Cell]]:
        """The cells of every column, without outer spaces."""
        columns = zip(*self.table.rows, strict=True)
        return [_stripped(cells) for cells in columns] or [()] * len(self.table.header)

    def blame(self, row: int, name: str, text: str) -> None:
        """Note a fault of one row."""
        self.unread.setdefault(name, set()).add(row)
        self.faults.append(Fault(self.table.lines[row], text))

    def faulty(self, *names: str) -> frozenset[int]:
        """Rows that hold a fault in one of these columns."""
        return frozenset().union(*(self.unread.get(name, ()) for name in names))

    def read(self, name: str, reader: Callable[[str], Any]) -> None:
        """Read one column, each distinct cell once."""
        cells = self.cells(name)
        known, wrong = read_distinct(cells, reader)
        self.values[name] = list(map(known.get, cells)) if known else [None] * len(cells)
        needed = _NEEDED.get(name) if name in self.columns.places else None
        if wrong or (needed and "" in cells):
            for row, cell in enumerate(cells):
                text = needed if cell == "" else wrong.get(cell)
                if text:
                    self.blame(row, name, f"{name} {text}")


def _stripped(cells: Sequence[Cell]) -> Sequence[Cell]:
    if not any(cells):
        return cells
    bare = {cell: cell.strip() for cell in set(cells) if isinstance(cell, str)}
    if all(cell == stripped for cell, stripped in bare.items()):
        return cells
    return [bare.get(cell, cell) for cell in cells]


def read_distinct(
    cells: Sequence[Cell], reader: Callable[[str], Any]
) -> tuple[dict[Cell, Any], dict[Cell, str]]:
    """Read every distinct filled cell once: what it says, or why it cannot be read."""
    known: dict[Cell, Any] = {}
    wrong: dict[Cell, str] = {}
    for cell in set(cells) if any(cells) else ():
        if cell == "":
            continue
        try:
            known[cell] = reader(as_text(cell))
        except Unreadable as fault:
            wrong[cell] = str(fault)
    return known, wrong


def as_text(cell: Cell) -> str:
    """The cell's text; raises `Unreadable` for a date or a spreadsheet's error."""
    if isinstance(cell, date):
        message = f"must not be a date, got {cell.isoformat()}; format the cell as text."
        raise Unreadable(message)
    if cell in SPREADSHEET_ERRORS:
        message = f"holds the spreadsheet's error {quoted(cell)}; write the value itself."
        raise Unreadable(message)
    return cell


def read_glasses(
    name: str,
    table: Table,
    columns: Columns,
    vocabulary: Vocabulary,
    today: date,
    date_order: str | None,
) -> Reading:
    """Read all columns that say what was in a glass and how it was served.

    Raises:
        DatesUndecided: if nothing tells day from month.
    """
    reading = Reading(table, columns, notes=[*table.notes, *columns.notes])
    reading.faults += table.faults
    _read_dates(reading, name, today, date_order)
    for column, reader in _readers(columns, vocabulary).items():
        reading.read(column, reader)
    reading.values["method"] = [method or "naming" for method in reading.values["method"]]
    _check_headings(reading)
    _check_spikes(reading)
    return reading


def _readers(columns: Columns, vocabulary: Vocabulary) -> dict[str, Callable[[str], Any]]:
    dose_unit, volume_unit = columns.units.get("dose"), columns.units.get("volume")
    return {
        "session": read_label,
        "sitting": read_label,
        "panellist": read_name,
        "method": read_method,
        "position": read_position,
        "code": read_code,
        "sample": read_label,
        "compound": CompoundReader(vocabulary).read,
        "level": read_level,
        "dose": partial(read_dose, header_unit=dose_unit),
        "volume": partial(read_volume, header_unit=volume_unit),
        "rating": read_rating,
        "duplicate": read_label,
        "base beer": read_label,
        "beer family": read_label,
        "set aside": read_aside,
        "note": read_text,
    }


def _read_dates(reading: Reading, name: str, today: date, order: str | None) -> None:
    cells = reading.cells("date")
    filled = [(line, cell) for line, cell in zip(reading.table.lines, cells, strict=True) if cell]
    dates = read_dates(name, filled, today, order)
    reading.date_order = dates.order
    reading.values["date"] = list(map(dates.by_cell.get, cells))
    if not dates.why_not and "" not in cells:
        return
    for row, cell in enumerate(cells):
        if not cell:
            reading.blame(row, "date", f"date {_NEEDED['date']}")
        elif cell in dates.why_not:
            reading.blame(row, "date", f"date {dates.why_not[cell]}")


def _check_headings(reading: Reading) -> None:
    """A column without a heading must not hold anything."""
    for place, heading in enumerate(reading.table.header):
        if not heading and any(reading.by_column[place]):
            text = f"column {place + 1} has content but no heading; give it one or take it out."
            reading.faults.append(Fault(reading.table.header_line, text))


def _check_spikes(reading: Reading) -> None:
    """Level, dose and volume must fit the compound; afterwards blanks have none of them."""
    values, volumes_alone = reading.values, 0
    faulty = reading.faulty("level", "dose", "volume", "method")
    for row, (compound, level, dose, volume, method) in enumerate(_spikes(values)):
        if compound is None or row in faulty:
            continue
        if compound == "":
            text = _wrong_with_blank(level, dose, method)
            values["level"][row] = values["dose"][row] = values["volume"][row] = None
        else:
            text = _wrong_with_spike(level, dose, volume)
            if level is not None and volume is not None:
                volumes_alone += 1
                values["volume"][row] = None
        if text:
            reading.blame(row, "spike", text)
    if volumes_alone:
        reading.notes.append(
            f"The volume was ignored in {volumes_alone} rows: they give a level and no dose."
        )


def _spikes(values: dict[str, list[Any]]) -> Iterator[tuple[Any, ...]]:
    names = ("compound", "level", "dose", "volume", "method")
    return zip(*(values[name] for name in names), strict=True)


def _wrong_with_blank(level: Decimal | None, dose: Decimal | None, method: str) -> str | None:
    if level or dose:
        return "a blank has a level or a dose; name the compound, or leave them empty."
    if method in FORCED_CHOICE:
        return "a forced choice needs the compound that was spiked, found blank."
    return None


def _wrong_with_spike(
    level: Decimal | None, dose: Decimal | None, volume: Decimal | None
) -> str | None:
    if level is not None and dose is not None:
        return "both a level and a dose are given; keep the one that was measured."
    if level == 0 or dose == 0:
        return "a spiked glass has a level or dose of 0; write blank as its compound."
    if level is None and (dose is None or volume is None):
        if dose is not None:
            return "a dose needs the volume it was added to, like 330 ml."
        return "a spiked glass needs a level like 3, or a dose and a volume like 33 ug and 330 ml."
    return "the volume is 0." if volume == 0 else None
