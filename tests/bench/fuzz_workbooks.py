"""Hostile workbooks: cells of every type, and the XML in them changed by hand."""

import io
import re
import zipfile
from datetime import date, datetime, timedelta
from pathlib import Path
from random import Random
from typing import Final

import fuzz_hostile as hostile
from fuzz_results import ResultsFiles, table


class Workbooks(ResultsFiles):
    """The field of workbooks: cells of every type, and the XML in them changed by hand."""

    name, share = "results file, XLSX", 1.5

    def __init__(self, folder: Path) -> None:
        super().__init__(folder)
        self.path = folder / "monday.xlsx"

    def attempt(self, draw: Random) -> bool:
        """Try one workbook; whether it was accepted."""
        good = self.good[draw.choice(("answers", "glasses")), ".xlsx"]
        kind = draw.random()
        if kind < 0.3:
            data = hostile.damaged(draw, good)
        elif kind < 0.7:
            data = repacked(draw, good)
        else:
            data = typed(draw)
        sheet = draw.choice((None, None, None, "results", "Sheet", hostile.text(draw)[:20]))
        return self.read(data, draw, sheet=sheet)


_BOMB: Final = (
    '<!DOCTYPE b [<!ENTITY a "ha">'
    + "".join(f'<!ENTITY {b} "{f"&{a};" * 20}">' for a, b in zip("abcde", "bcdef", strict=True))
    + "]>"
)
_PIECES: Final = (
    *('<c r="A2" t="s"><v>99999</v></c>', '<c r="B2" t="s"><v>-1</v></c>', '<c r="B2"><v>nan</v></c>'),
    *('<c r="C2"><v>1e999</v></c>', '<c r="C2"><f>1+1</f></c>', '<c r="C2"><f>1+1</f><v>2</v></c>'),
    *('<c r="A2" t="e"><v>#REF!</v></c>', '<c r="B3" t="b"><v>1</v></c>', "<row/>", "</sheetData>"),
    *('<c r="B2" t="d"><v>2026-02-31</v></c>', '<c r="B2" t="d"><v>2026-03-05</v></c>', "&f;", "&lt;"),
    *('<c r="XFD2"><v>1</v></c>', '<c r="AAAA1"><v>1</v></c>', '<c r="A0"><v>1</v></c>', "<!-- <c -->"),
    *('<row r="99999999"><c r="A99999999"><v>1</v></c></row>', f"<!-- {'<c ' * 3000} -->", "<c " * 50),
    *('<c r="A2" t="inlineStr"><is><t>dms</t></is></c>', f"<v>{'9' * 5000}</v>", "<v>-0</v>", "<v/>"),
    *('<mergeCells><mergeCell ref="A1:B2"/></mergeCells>', f"<!-- {'<mergeCell ' * 3000} -->"),
    *(f"<c r='B2'><v>{'1' * 400}</v></c>", "<x>" * 2000, "<v>46000.5</v>", "<v>1e300</v>", "\x00"),
)  # fmt: skip


def repacked(draw: Random, good: bytes) -> bytes:
    """A workbook with one of its parts changed."""
    packed = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(good)) as before, zipfile.ZipFile(packed, "w") as after:
        names = before.namelist()
        sheets = [name for name in names if "sheet" in name or "shared" in name]
        chosen = draw.choice(sheets if draw.random() < 0.8 else names)
        for part in names:
            data = before.read(part)
            if part != chosen:
                after.writestr(part, data)
            elif draw.random() < 0.95:
                after.writestr(part, _changed(draw, data), zipfile.ZIP_DEFLATED)
        if draw.random() < 0.002:
            after.writestr("xl/more.xml", b" " * 201_000_000, zipfile.ZIP_DEFLATED, 1)
    return packed.getvalue()


def _changed(draw: Random, data: bytes) -> bytes:
    if draw.random() < 0.3:
        return hostile.damaged(draw, data)
    text, piece = data.decode("utf-8"), draw.choice(_PIECES)
    if piece == "&f;":
        head, mark, rest = text.partition("?>")
        text = head + mark + _BOMB + rest
    places = [match.start() for match in re.finditer("<", text)]
    at = draw.choice(places) if places else 0
    end = at if draw.random() < 0.5 else text.find(">", at) + 1
    return (text[:at] + piece + text[end:]).encode("utf-8", "surrogatepass")


def typed(draw: Random) -> bytes:
    """A workbook with cells of every type."""
    from openpyxl import Workbook
    from openpyxl.utils.exceptions import IllegalCharacterError

    header, rows = table(draw)
    book = Workbook()
    sheet = book.active
    for line, row in enumerate([header, *rows], start=1):
        for place, found in enumerate(row, start=1):
            try:
                sheet.cell(line, place).value = _of_a_type(draw, found)
            except (IllegalCharacterError, ValueError):
                sheet.cell(line, place).value = "?"
    if draw.random() < 0.1:
        sheet.merge_cells("A1:B2")
    if draw.random() < 0.1:
        book.create_sheet(draw.choice(("more", "results"))).append([draw.choice(hostile.NUMBERS)])
    packed = io.BytesIO()
    try:
        book.save(packed)
    except (ValueError, OverflowError, UnicodeError):
        return b"PK\x03\x04"
    return packed.getvalue()


def _of_a_type(draw: Random, text: str) -> object:
    if draw.random() < 0.9:
        return text
    return draw.choice((
        float("nan"), float("inf"), -0.0, 10**30, 1e-320, True, False, timedelta(hours=30),
        datetime(2026, 3, 5, 23, 59, 59), date(2026, 3, 20), datetime(1900, 1, 1), date(9999, 12, 31),
        "=A1", "=1/0", 3, 2.5, 46100, None, "\u202e", "#N/A",
    ))  # fmt: skip
