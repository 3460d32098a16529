"""Hostile results files: bytes damaged, cells that can't be, workbooks that were never saved so."""

import csv
import io
import unicodedata
from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path
from random import Random
from typing import Any, Final

import fuzz_hostile as hostile
from fuzz_clear import check_all, check_clear, fail

from seatworthy.errors import PanelError
from seatworthy.intake.results import ResultRow, ResultsFile, read_results
from seatworthy.intake.template import write_template
from seatworthy.intake.words import Vocabulary

TODAY: Final = date(2026, 11, 25)
KEYS: Final = ("diacetyl", "dms", "acetaldehyde", "t2n")
KINDS: Final = {
    "naming": {"words", "something", "nothing"},
    "a_not_a": {"yes", "no"},
    "intensity": {"rating"},
} | {method: {"right", "wrong"} for method in ("3afc", "triangle", "duo_trio", "2afc")}
HEADER: Final = ("date", "session", "sitting", "panellist", "method", "position", "code", "compound",
                 "level", "dose", "volume", "answer", "rating", "duplicate", "base beer",
                 "beer family", "set aside", "note")  # fmt: skip
_JOINERS: Final = "\u200c\u200d"


def judge(found: ResultsFile, today: date = TODAY) -> None:
    """Raise where a file was taken in that should not have been; independent of the reader."""
    if not found.rows:
        fail("accepted without a row")
    for row in found.rows:
        check_all(f"line {row.line}: {broken}" for broken in _broken(row, today))
    check_all(_served_twice(found.rows))


def _broken(row: ResultRow, today: date) -> Iterator[str]:
    if type(row.session_on) is not date or not date(1970, 1, 1) <= row.session_on <= today:
        yield f"day {row.session_on}"
    labels = (row.session, row.sitting, row.duplicate, row.sample, row.base_beer, row.beer_family)
    for text, longest in [*((label, 60) for label in labels), (row.panellist, 60),
                          (row.blind_code, 20), (row.words, 120), (row.set_aside, 500),
                          (row.note, 500)]:  # fmt: skip
        if text is not None and not _is_decent(text, longest):
            yield f"text {text!r}"
    if not any(letter.isalnum() for letter in unicodedata.normalize("NFKD", row.panellist)):
        yield f"name {row.panellist!r}"
    if row.position is not None and not 1 <= row.position <= 999:
        yield f"position {row.position}"
    yield from _broken_spike(row)
    if row.answer not in KINDS.get(row.method, ()):
        yield f"{row.answer} to {row.method}"
    if (row.words is not None) != (row.answer == "words") or row.words == "":
        yield f"words {row.words!r} with {row.answer}"
    if (row.rating is not None) != (row.answer == "rating"):
        yield f"rating {row.rating} with {row.answer}"
    if row.rating is not None and not (row.rating.is_finite() and 0 <= row.rating <= 1000):
        yield f"rating {row.rating}"


def _broken_spike(row: ResultRow) -> Iterator[str]:
    amounts = {"level": row.level, "dose": row.dose_ug, "volume": row.volume_ml}
    given = {name for name, amount in amounts.items() if amount is not None}
    for name in given:
        amount = amounts[name]
        if not amount.is_finite() or amount <= 0 or amount != round(amount, 9):
            yield f"{name} {amount}"
    if row.level is not None and row.level.is_finite() and row.level > 1000:
        yield f"level {row.level}"
    if row.compound is None and (given or row.method in ("3afc", "triangle", "duo_trio", "2afc")):
        yield f"a blank with {given or row.method}"
    if row.compound is not None and (
        row.compound not in KEYS or given not in ({"level"}, {"dose", "volume"})
    ):
        yield f"{row.compound} with {given}"


def _is_decent(text: str, longest: int) -> bool:
    """Whether a text can be shown, is of the length, and has no blanks at its ends."""
    seen = text.translate(dict.fromkeys(map(ord, _JOINERS)))
    return len(text) <= longest and seen.isprintable() and text == text.strip()


def _served_twice(rows: Sequence[ResultRow]) -> Iterator[str]:
    seen: set[tuple[Any, ...]] = set()
    for row in rows:
        who = (row.session_on, row.session, row.sitting, row.panellist.casefold())
        for what, mark in (("code", row.blind_code), ("position", row.position)):
            if mark is not None and (*who, what, mark) in seen:
                yield f"line {row.line}: {what} {mark} twice"
            seen.add((*who, what, mark))


class ResultsFiles:
    """The field of results files.

    Args:
        folder: Where files may be written.
    """

    name, share = "results file, CSV", 36

    def __init__(self, folder: Path) -> None:
        words = {key: key for key in KEYS} | {"Butter": "diacetyl"}
        self.vocabulary = Vocabulary(words)
        self.folder, self.good = folder, {}
        for shape in ("answers", "glasses"):
            for ending in (".csv", ".xlsx"):
                path = folder / f"good{ending}"
                write_template(path, shape)
                self.good[shape, ending] = path.read_bytes()
        self.path = folder / "monday.csv"

    def attempt(self, draw: Random) -> bool:
        """Try one file; whether it was accepted."""
        if draw.random() < 0.3:
            shape = draw.choice(("answers", "glasses"))
            return self.read(hostile.damaged(draw, self.good[shape, ".csv"]), draw)
        header, rows = table(draw)
        return self.read(written(draw, header, rows), draw)

    def read(self, data: bytes, draw: Random, **options: str | None) -> bool:
        """Read bytes as a file; whether they were accepted, judged either way."""
        self.path.write_bytes(data)
        order = draw.choice((None, None, "day-first", "month-first"))
        try:
            found = read_results(self.path, self.vocabulary, TODAY, date_order=order, **options)
        except PanelError as refused:
            check_clear(refused)
            return False
        judge(found)
        return True


def good_row(draw: Random, number: int) -> dict[str, str]:
    """A row that is well."""
    method = draw.choice(("naming", "naming", "", "3-AFC", "a/not-a", "intensity"))
    is_blank = method not in ("3-AFC",) and draw.random() < 0.3
    row = dict.fromkeys(HEADER, "")
    row |= {"date": f"2026-03-{draw.randint(13, 28)}", "panellist": draw.choice(("Ann", "Bram")),
            "method": method, "code": str(100 + number), "position": str(number + 1),
            "compound": "blank" if is_blank else draw.choice(KEYS), "session": "spring"}  # fmt: skip
    if not is_blank:
        row |= draw.choice(
            ({"level": "3"}, {"level": "2,5x"}, {"dose": "33 ug", "volume": "330 ml"})
        )
    said = {"3-AFC": "right", "a/not-a": "yes", "intensity": "7"}
    row["answer"] = said.get(method, draw.choice(("diacetyl", "nothing", "sweetcorn", "something")))
    return row


def table(draw: Random) -> tuple[list[str], list[list[str]]]:
    """A header and rows, good ones with a few hostile cells in them."""
    header = list(HEADER)
    rows = [good_row(draw, number) for number in range(draw.randint(0, 5))]
    for _ in range(draw.choice((0, 1, 1, 1, 2, 4))):
        if rows:
            draw.choice(rows)[draw.choice(HEADER)] = cell(draw)
    what = draw.random()
    if what < 0.06:
        header[draw.randrange(len(header))] = draw.choice((*HEADER, hostile.text(draw)))
    cells = [[row[name] for name in HEADER] for row in rows]
    if what > 0.94 and cells:
        draw.choice(cells).append(hostile.text(draw))
    return header, cells


def cell(draw: Random) -> str:
    """Something for a cell."""
    kind = draw.random()
    if kind < 0.35:
        return hostile.number(draw)
    return draw.choice(hostile.DAYS) if kind < 0.5 else hostile.text(draw)


def written(draw: Random, header: Sequence[str], rows: Sequence[Sequence[str]]) -> bytes:
    """A table as the bytes of a CSV file, in one of the ways they come."""
    mark = draw.choice((",", ",", ";", "\t"))
    quoting = draw.choice((csv.QUOTE_MINIMAL, csv.QUOTE_ALL, csv.QUOTE_NONE))
    ends = draw.choice(("\n", "\r\n", "\r"))
    text = io.StringIO()
    try:
        writer = csv.writer(text, delimiter=mark, quoting=quoting, lineterminator=ends)
        writer.writerows([header, *rows])
    except csv.Error:  # unquoted cells with marks of their own
        text.write(ends.join(mark.join(row) for row in [header, *rows]))
    encoding = draw.choice(("utf-8", "utf-8", "utf-8", "utf-8-sig", "utf-16", "cp1252", "latin-1"))
    return text.getvalue().encode(encoding, "surrogatepass" if "utf" in encoding else "replace")
