"""Who tasted which glass and what they said, from either shape."""

from collections.abc import Iterator
from decimal import Decimal
from functools import partial
from typing import NamedTuple

from seatworthy.intake.answers import FORCED_CHOICE, Answer, read_answer
from seatworthy.intake.columns import ANSWERS
from seatworthy.intake.glasses import Reading, as_text
from seatworthy.intake.table import Cell
from seatworthy.intake.words import Unreadable, Vocabulary

_NO_ANSWER = (
    "answer is empty; write nothing if nothing was noticed, and leave the row out if the glass was "
    "not tasted."
)


class Tasting(NamedTuple):
    """One panellist's answer about the glass of one row."""

    row: int
    panellist: str
    answer: Answer


_Served = tuple[str, str | None, Decimal | None]  # method, blind code, rating


class _AnswerReader:
    """Reads answers of cells, each distinct one once."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self._read = partial(read_answer, vocabulary=vocabulary)
        self._known: dict[tuple[str, Cell, str | None], Answer] = {}

    def read(self, method: str, cell: Cell, code: str | None) -> Answer:
        """The answer in a filled cell; raises `Unreadable` as `read_answer` does."""
        key = (method, cell, code if method in FORCED_CHOICE else None)
        found = self._known.get(key)
        if found is None:
            found = self._known[key] = self._read(method, as_text(cell), key[2])
        return found


def read_tastings(reading: Reading, vocabulary: Vocabulary) -> list[Tasting]:
    """Every answer of a table, in the order of the file.

    Args:
        reading: The table with its glasses read; faults and notes are added to it.
        vocabulary: The words that stand for a compound.
    """
    reader = _AnswerReader(vocabulary)
    if reading.columns.shape == ANSWERS:
        return list(_a_row_each(reading, reader))
    tastings = list(_a_column_each(reading, reader))
    silent = set(reading.columns.panellists.values()) - {one.panellist for one in tastings}
    if silent and tastings:
        names = ", ".join(name for name in reading.columns.panellists.values() if name in silent)
        reading.notes.append(f"No answer in this file from: {names}.")
    return tastings


def _a_row_each(reading: Reading, reader: _AnswerReader) -> Iterator[Tasting]:
    values = reading.values
    columns = ("panellist", "method", "code", "rating", "set aside")
    cells = reading.cells("answer")
    rows = zip(cells, *(values[name] for name in columns), strict=True)
    unread = reading.faulty("method")
    ratings_alone = left_out = 0
    for row, (cell, panellist, method, code, rating, aside) in enumerate(rows):
        if row in unread:
            continue
        if cell == "" and aside is not None and rating is None:
            left_out += 1
            continue
        ratings_alone += rating is not None and method != "intensity"
        answer = _answer_of(reading, reader, row, cell, (method, code, rating))
        if answer is not None and panellist is not None:
            yield Tasting(row, panellist, answer)
    if ratings_alone:
        reading.notes.append(
            f"The rating was ignored in {ratings_alone} rows whose method is not intensity."
        )
    if left_out:
        reading.notes.append(f"{left_out} rows were set aside without an answer and left out.")


def _answer_of(
    reading: Reading, reader: _AnswerReader, row: int, cell: Cell, served: _Served
) -> Answer | None:
    """The answer of a row, from its answer or rating column; None, and blamed, if neither will do."""
    method, code, rating = served
    rated = (
        Answer("rating", rating=rating) if method == "intensity" and rating is not None else None
    )
    if cell == "":
        if rated is None and row not in reading.unread.get("rating", ()):
            reading.blame(row, "answer", _NO_ANSWER)
        return rated
    try:
        answer = reader.read(method, cell, code)
    except Unreadable as fault:
        reading.blame(row, "answer", f"answer {fault}")
        return None
    if rated is not None and rated != answer:
        reading.blame(row, "answer", "answer and rating are two different numbers; keep one.")
    return answer


def _a_column_each(reading: Reading, reader: _AnswerReader) -> Iterator[Tasting]:
    names = tuple(reading.columns.panellists.values())
    answers = zip(*(reading.by_column[p] for p in reading.columns.panellists), strict=True)
    served = zip(reading.values["method"], reading.values["code"], strict=True)
    unread = reading.faulty("method")
    empty_rows = 0
    for row, (cells, (method, code)) in enumerate(zip(answers, served, strict=True)):
        if row in unread:
            continue
        empty_rows += not any(cells)
        for name, cell in zip(names, cells, strict=True):
            if cell == "":
                continue
            try:
                yield Tasting(row, name, reader.read(method, cell, code))
            except Unreadable as fault:
                reading.blame(row, "answer", f"the answer of {name} {fault}")
    if empty_rows:
        reading.notes.append(f"{empty_rows} glasses were tasted by nobody and left out.")
