"""An example results file to fill in, in either shape, as CSV or XLSX."""

import csv
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Final

from seatworthy.errors import PanelError
from seatworthy.intake.columns import ANSWERS, COLUMNS, GLASSES
from seatworthy.intake.live_text import harmless

_PANELLISTS: Final = ("Ottilie", "Bram", "Inés")
_GLASS_COLUMNS: Final = (
    *("session", "date", "sitting", "method", "position", "code", "compound", "level"),
    *("dose", "volume", "duplicate", "base beer", "beer family", "set aside", "note"),
)
_EXAMPLES: Final = (  # what was in the glass, then the three answers; "" = not tasted
    (("naming", 1, "274", "diacetyl", 3, "", "", "", ""), ("diacetyl", "something", "diacetyl")),
    (("naming", 2, "061", "blank", "", "", "", "", ""), ("nothing", "nothing", "diacetyl")),
    (("naming", 3, "835", "dms", "", "33 ug", "330 ml", "A", ""), ("dms", "sweetcorn", "")),
    (("naming", 4, "419", "dms", "", "33 ug", "330 ml", "A", ""), ("dms", "nothing", "")),
    (("3-AFC", 5, "562", "acetaldehyde", 1.5, "", "", "", ""), ("right", "wrong", "right")),
    (("naming", 6, "790", "blank", "", "", "", "", "spilled"), ("nothing", "", "nothing")),
)
_A_NAME: Final = (
    "one column per panellist, headed with the name; the cell is the answer, empty if that person "
    "did not taste the glass"
)
_TEXT_FORMAT: Final = "@"  # keeps the zeros of a code that is typed in
_DATE_FORMAT: Final = "yyyy-mm-dd"

Value = str | int | float | date


def write_template(path: Path, shape: str) -> str:
    """Write a results file with example rows of an invented panel.

    Args:
        path: Where; ends in .csv or .xlsx.
        shape: "answers" (a row per answer) or "glasses" (a row per glass, a column per panellist).

    Returns:
        What stands in each column, for the user to read.

    Raises:
        PanelError: if the ending is another, or the file cannot be written.
        ValueError: if there is no such shape.
    """
    if shape not in (ANSWERS, GLASSES):
        message = f"shape must be {ANSWERS!r} or {GLASSES!r}, got {shape!r}"
        raise ValueError(message)
    header, rows = _by_answer() if shape == ANSWERS else _by_glass()
    writers = {".csv": _write_csv, ".xlsx": _write_xlsx}
    writer = writers.get(path.suffix.casefold())
    if writer is None:
        message = f"{path.name} must end in .csv or .xlsx; name it so."
        raise PanelError(message)
    try:
        writer(path, header, rows)
    except OSError as error:
        message = f"{path} cannot be written ({error}). Name a folder you may write to."
        raise PanelError(message) from error
    return _explained(path, shape, header)


def _glass(example: Sequence[Value]) -> list[Value]:
    method, position, code, compound, level, dose, volume, duplicate, aside = example
    before = ["Spring training 1", date(2025, 3, 6), "early", method, position, code, compound]
    return [*before, level, dose, volume, duplicate, "Quillmere Pils", "Pale lagers", aside, ""]


def _by_glass() -> tuple[list[str], list[list[Value]]]:
    rows = [[*_glass(example), *answers] for example, answers in _EXAMPLES]
    return [*_GLASS_COLUMNS, *_PANELLISTS], rows


def _by_answer() -> tuple[list[str], list[list[Value]]]:
    header = [*_GLASS_COLUMNS[:3], "panellist", *_GLASS_COLUMNS[3:10], "answer", "rating"]
    rows = []
    for example, answers in _EXAMPLES:
        glass = _glass(example)
        for panellist, answer in zip(_PANELLISTS, answers, strict=True):
            if answer:
                rows.append([*glass[:3], panellist, *glass[3:10], answer, "", *glass[10:]])
    return [*header, *_GLASS_COLUMNS[10:]], rows


def _write_csv(path: Path, header: Sequence[str], rows: Sequence[Sequence[Value]]) -> None:
    with path.open("w", encoding="utf-8-sig", newline="") as file:  # the mark tells spreadsheets
        csv.writer(file).writerows([_disarmed(row) for row in (header, *rows)])


def _disarmed(row: Sequence[Value]) -> list[Value]:
    return [harmless(cell) if isinstance(cell, str) else cell for cell in row]


def _write_xlsx(path: Path, header: Sequence[str], rows: Sequence[Sequence[Value]]) -> None:
    from openpyxl import Workbook  # slow to import, and only needed for a workbook
    from openpyxl.styles import Font

    book = Workbook()
    sheet = book.active
    sheet.title = "results"
    sheet.freeze_panes = "A2"
    for place, name in enumerate(header, start=1):
        head = sheet.cell(1, place, name)
        head.font = Font(bold=True)
        sheet.column_dimensions[head.column_letter].width = max(10, len(name) + 3)
        wanted = {"code": _TEXT_FORMAT, "date": _DATE_FORMAT}.get(name)
        if wanted:
            sheet.column_dimensions[head.column_letter].number_format = wanted
        for line, row in enumerate(rows, start=2):
            value = row[place - 1]
            cell = sheet.cell(line, place, None if value == "" else value)
            cell.number_format = wanted or cell.number_format
    book.save(path)


def _explained(path: Path, shape: str, header: Sequence[str]) -> str:
    width = max(map(len, COLUMNS))
    lines = [f"Wrote {path.name}. Replace the example rows with yours. The columns:"]
    for name, meaning in COLUMNS.items():
        if name in header:
            lines.append(f"  {name:{width}}  {meaning}")
    if shape == GLASSES:
        lines.append(f"  {'(a name)':{width}}  {_A_NAME}. {COLUMNS['answer']}")
    lines.append("A date, a compound and a level (or a dose with its volume) are needed.")
    return "\n".join(lines)
