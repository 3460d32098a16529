"""Checks a plain copy of a Seatworthy record from its CSV files alone.

It stands by itself: put it beside manifest.json and run ``python check.py``. It needs Python 3.11 or
later and nothing else. In another language, do the same by README.txt.
"""

import csv
import json
import re
import sys
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

UNIT, NOTHING = "\x1f", "\x1e"
Row = dict[str, str | None]


def faults_of(folder: Path) -> list[str]:
    """A sentence for each table and each entry of the history that does not add up."""
    told = json.loads((folder / "manifest.json").read_text(encoding="utf-8"))
    csv.field_size_limit(2**31 - 1)
    faults, facts, history = [], {}, []
    for table, about in told["tables"].items():
        rows = list(_rows(folder / "tables" / f"{table}.csv", about["columns"]))
        found = (len(rows), _digest([_line(row, row) for row in rows]))
        if found != (about["rows"], about["digest"]):
            faults.append(f"Table {table} holds other rows than the manifest says.")
        if about["sealed"]:
            _add_facts(facts, table, ["recorded_at", *about["sealed"]], rows)
        if table == "history":
            history = sorted(rows, key=lambda row: int(row["entry_no"]))
    return faults + list(_faults_of_history(history, facts, told["last_entry"]))


def _rows(path: Path, columns: list[tuple[str, str, bool]]) -> Iterator[Row]:
    """The rows of a table, each value as the text that digests are taken over; None for nothing."""
    with path.open(encoding="utf-8", newline="") as file:
        lines = csv.reader(file, strict=True)
        names = next(lines)
        types = {name: type_ for name, type_, _ in columns}
        for line in lines:
            yield {name: _value(text, types[name]) for name, text in zip(names, line, strict=True)}


def _value(text: str, type_: str) -> str | None:
    if text == r"\N":
        return None
    if type_ == "VARCHAR":
        return text.removeprefix("\\")
    if type_ == "TIMESTAMP":  # 2026-03-14T10:15:00.500000Z is sealed as 2026-03-14 10:15:00.5
        return re.sub(r"\.?0*Z$", "", text.replace("T", " "))
    return text


def _line(row: Row, columns: list[str] | Row) -> str:
    values = (row[column] for column in columns)
    return UNIT.join(NOTHING if value is None else value for value in values)


def _digest(lines: list[str]) -> str:
    """SHA-256 of the lines in the order of their bytes, joined by line feeds; "" for no line."""
    return sha256("\n".join(sorted(lines)).encode()).hexdigest() if lines else ""


def _add_facts(
    facts: dict[int, list[tuple[str, int, str]]], table: str, columns: list[str], rows: list[Row]
) -> None:
    lines: dict[int, list[str]] = {}
    for row in rows:
        lines.setdefault(int(row["entry_no"]), []).append(_line(row, columns))
    for entry_no, found in lines.items():
        facts.setdefault(entry_no, []).append((table, len(found), _digest(found)))


def _faults_of_history(
    history: list[Row], facts: dict[int, list[tuple[str, int, str]]], last: tuple[int, str]
) -> Iterator[str]:
    previous = "0" * 64
    for number, entry in enumerate(history, start=1):
        parts = sorted(facts.pop(number, []))
        text = "\n".join(f"{table} {rows} {digest}" for table, rows, digest in parts)
        day, moment = f"{entry['recorded_at']}.".split(".")[:2]
        head = (
            str(number), f"{day}.{moment:0<6}", entry["kind"], str(sum(rows for _, rows, _ in parts)),
            sha256(text.encode()).hexdigest(), previous,
        )  # fmt: skip
        previous = entry["digest"]
        if sha256(UNIT.join(head).encode()).hexdigest() != previous:
            yield f"Entry {number} ({entry['kind']}) does not add up."
    if facts:
        yield f"Facts name entries that the history does not hold: {sorted(facts)[:5]}."
    if [len(history), previous] != list(last) and history:
        yield "The history ends with another entry than the manifest says."


if __name__ == "__main__":
    wrong = faults_of(Path(sys.argv[1] if len(sys.argv) > 1 else "."))
    print("\n".join(wrong) or "All tables and the whole history add up.")
    sys.exit(1 if wrong else 0)
