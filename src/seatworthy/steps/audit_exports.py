"""A paper for an audit as a file: the same content as CSV, as a workbook and as JSON."""

import json
from collections.abc import Iterator
from datetime import date, datetime
from typing import Final

from seatworthy.steps.audit_views import AuditPaper, AuditSection
from seatworthy.steps.chain_head import HOW_TO_RECOMPUTE, what_it_proves
from seatworthy.steps.sentences import sentence_start
from seatworthy.steps.spreadsheet import Cell, SheetOf, csv_bytes, workbook_bytes

_HEADS: Final = ("section", "line", "field (with unit)", "value")

Fact = tuple[str, int, str, Cell]


def audit_csv(paper: AuditPaper) -> bytes:
    """One row a value: its section, its line in there, its name with the unit, the value itself."""
    return csv_bytes(_HEADS, _facts(paper))


def audit_xlsx(paper: AuditPaper) -> bytes:
    """A workbook: what it is about, all sentences, and a sheet for each table of the paper."""
    words = [
        (section.heading, number, sentence)
        for section in paper.sections
        for number, sentence in enumerate(section.sentences, start=1)
    ]
    words += [("Cautions", number, one) for number, one in enumerate(paper.cautions, start=1)]
    return workbook_bytes(
        [
            SheetOf("About", ("field", "value"), _about(paper)),
            SheetOf("In words", ("section", "line", "sentence"), words),
            *_tables(paper),
        ]
    )


def audit_json(paper: AuditPaper) -> bytes:
    """The sections with their rows, and how the record's digest is recomputed."""
    found = {
        **{name: _plain(value) for name, value in _about(paper)},
        "sections": [_section(section) for section in paper.sections],
        "cautions": list(paper.cautions),
        "what_the_digest_proves": what_it_proves("this file"),
        "how_to_recompute": HOW_TO_RECOMPUTE,
    }
    return json.dumps(found, ensure_ascii=False, indent=1).encode()


def _about(paper: AuditPaper) -> Iterator[tuple[str, Cell]]:
    yield "paper", paper.title
    yield "about", paper.about
    yield "brewery", paper.brewery
    yield "as_of", paper.as_of
    yield "read", paper.question
    yield "answer", paper.sentence
    yield "lead", paper.lead
    yield "made_at", paper.made_at
    yield "read_to_entry", paper.read.entry_no
    yield "read_to_digest_sha256", paper.read.digest
    yield "newest_entry", paper.head.entry_no
    yield "newest_digest_sha256", paper.head.digest


def _facts(paper: AuditPaper) -> Iterator[Fact]:
    for name, value in _about(paper):
        yield "about", 0, name, value
    for section in paper.sections:
        for number, sentence in enumerate(section.sentences, start=1):
            yield section.key, number, "sentence", sentence
        if section.table is not None:
            names = [column.name for column in section.table.columns]
            for number, row in enumerate(section.table.rows, start=1):
                for name, cell in zip(names, row, strict=True):
                    yield section.key, number, name, _told_apart_from_utc(cell, paper)
    for number, caution in enumerate(paper.cautions, start=1):
        yield "cautions", number, "sentence", caution


def _tables(paper: AuditPaper) -> Iterator[SheetOf]:
    for section in paper.sections:
        if section.table is not None and section.table.rows:
            names = [column.name for column in section.table.columns]
            rows = [
                [_told_apart_from_utc(cell, paper) for cell in row] for row in section.table.rows
            ]
            yield SheetOf(_tab(section.heading), names, rows)


def _tab(heading: str) -> str:
    """What tells a section from the others, short enough for a tab."""
    own = heading.rpartition(": ")[2].removeprefix("the ")
    return sentence_start(own.replace(" of the ", " of "))


def _told_apart_from_utc(cell: Cell, paper: AuditPaper) -> Cell:
    """A moment of the brewery's with its distance from UTC; anything else as it is."""
    if isinstance(cell, datetime) and cell.tzinfo is None:
        return cell.replace(tzinfo=paper.made_at.tzinfo)
    return cell


def _section(section: AuditSection) -> dict[str, object]:
    table = section.table
    names = [column.name for column in table.columns] if table else []
    rows = table.rows if table else ()
    return {
        "key": section.key,
        "heading": section.heading,
        "sentences": list(section.sentences),
        "rows": [
            dict(zip(names, map(_plain, row), strict=True))  # a cell that is None is not known
            for row in rows
        ],
    }


def _plain(cell: Cell) -> str | int | float | bool | None:
    if isinstance(cell, datetime):
        return cell.isoformat(timespec="seconds")
    return cell.isoformat() if isinstance(cell, date) else cell
