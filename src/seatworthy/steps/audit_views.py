"""What a paper for an audit holds: sections of sentences and tables, for print, CSV and JSON alike."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Final

from seatworthy.steps.chain_head import ChainHead
from seatworthy.steps.spreadsheet import Cell

AS_RECORDED_NOW: Final = "by today's record"
SUPPORTS_ONLY: Final = "It supports a decision; it never releases beer."
OWN_ANSWERS: Final = (
    "Everybody is judged on their own answers only, never on other people's; “too little evidence” is "
    "an answer. Not to smell a compound, an illness and a leave are no fault."
)


@dataclass(frozen=True)
class AuditColumn:
    """One column of a table.

    Attributes:
        head: What stands over it on paper; short.
        name: What it is called in a file, with its unit.
        width: Its share of the width of the paper, against the other columns.
        digits: Decimals of its numbers on paper; a file has them whole.
        may_lack: Whether it is left out where no row has anything to put there.
    """

    head: str
    name: str
    width: float
    digits: int = 0
    may_lack: bool = False


@dataclass(frozen=True)
class AuditTable:
    """Rows of cells; a cell that is None is not known.

    Attributes:
        columns: From left to right.
        rows: As many cells each.
        is_dense: Whether it is set small, for rows by the hundred.
    """

    columns: tuple[AuditColumn, ...]
    rows: tuple[tuple[Cell, ...], ...]
    is_dense: bool = False


def table_of(
    columns: Sequence[AuditColumn], rows: Sequence[Sequence[Cell]], *, is_dense: bool = False
) -> AuditTable:
    """A table without those columns that may be left out and have nothing in any row."""
    kept = [
        number
        for number, column in enumerate(columns)
        if not column.may_lack or any(row[number] not in (None, "") for row in rows)
    ]
    return AuditTable(
        tuple(columns[number] for number in kept),
        tuple(tuple(row[number] for number in kept) for row in rows),
        is_dense,
    )


@dataclass(frozen=True)
class AuditSection:
    """One section.

    Attributes:
        key: What it is called in a file.
        heading: What stands over it.
        sentences: A paragraph each.
        table: Under them; None without one, and not drawn without rows.
    """

    key: str
    heading: str
    sentences: tuple[str, ...]
    table: AuditTable | None = None


@dataclass(frozen=True)
class AuditPaper:
    """One paper.

    Attributes:
        title: What kind of paper it is.
        about: Whose, or of which beers.
        as_of: The day asked.
        question: "by today's record" or "as the record stood at the end of ...".
        sentence: The answer, on top.
        lead: What follows from it, one or two sentences; may be empty.
        sign_off: Who signs it, a line each.
        cautions: A paragraph each.
        foot: Who may see it.
        read: The newest entry of what was read.
        head: The newest entry on record.
        made_at: Moment of making, aware.
        file_name: Without its ending.
    """

    title: str
    about: str
    as_of: date
    question: str
    brewery: str
    sentence: str
    lead: str
    sections: tuple[AuditSection, ...]
    sign_off: tuple[str, ...]
    cautions: tuple[str, ...]
    foot: str
    read: ChainHead
    head: ChainHead
    made_at: datetime
    file_name: str


def question_words(known_on: date | None) -> str:
    """Which record was read: today's, or the one of that evening."""
    if known_on is None:
        return AS_RECORDED_NOW
    return f"as the record stood at the end of {known_on.day} {known_on:%B} {known_on.year}"
