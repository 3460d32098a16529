"""A results file, in either shape, as checked rows: one per glass answered by one panellist."""

import gc
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Final

from seatworthy.errors import Fault, FileRefused
from seatworthy.intake.columns import find_columns
from seatworthy.intake.glasses import Reading, read_glasses
from seatworthy.intake.repeats import code_clashes, name_notes, repeated_servings
from seatworthy.intake.sheets import read_table
from seatworthy.intake.tastings import Tasting, read_tastings
from seatworthy.intake.words import Vocabulary, fold


@dataclass(frozen=True, slots=True)
class ResultRow:
    """One glass (or one forced-choice set) answered by one panellist.

    Attributes:
        line: Line (CSV) or row (XLSX) in the file; the header is 1.
        session_on: Day of the session.
        session: Its label as written, "" if there is none.
        sitting: Likewise.
        panellist: As written, composed (NFC), outer and double spaces removed.
        method: Code of the method.
        position: Place in the serving order, from 1.
        blind_code: Text, zeros kept.
        compound: Key of the compound; None for a blank.
        level: Multiple of the working threshold as given, above 0; None for a blank or a dose.
        dose_ug: Added amount, micrograms.
        volume_ml: Volume it was added to, millilitres.
        answer: words, something, nothing, right, wrong, yes, no or rating.
        words: As written, where the answer is words; what they mean is resolved later.
        rating: The number, where the answer is rating.
        duplicate: Mark of a hidden pair.
        sample: Mark that tells two preparations apart.
        base_beer: As written.
        beer_family: As written.
        set_aside: Why the glass must not count.
        note: As written.
    """

    line: int
    session_on: date
    session: str
    sitting: str
    panellist: str
    method: str
    position: int | None
    blind_code: str | None
    compound: str | None
    level: Decimal | None
    dose_ug: Decimal | None
    volume_ml: Decimal | None
    answer: str
    words: str | None
    rating: Decimal | None
    duplicate: str | None
    sample: str | None
    base_beer: str | None
    beer_family: str | None
    set_aside: str | None
    note: str | None


@dataclass(frozen=True)
class ResultsFile:
    """A results file that was read without a fault.

    Attributes:
        name: The file's name without its folder.
        digest: SHA-256 of its bytes in hex.
        shape: "answers" (a row per answer) or "glasses" (a row per glass, a column per panellist).
        rows: In the order of the file.
        date_order: "iso", "day first" or "month first".
        panellists: Distinct spellings in the order of their first answer.
        open_words: Words that stand for no compound, with how often, the most frequent first.
        notes: Sentences for the user about how the file was read.
    """

    name: str
    digest: str
    shape: str
    rows: tuple[ResultRow, ...]
    date_order: str
    panellists: tuple[str, ...]
    open_words: dict[str, int]
    notes: tuple[str, ...]


def read_results(
    path: Path,
    vocabulary: Vocabulary,
    today: date,
    *,
    date_order: str | None = None,
    sheet: str | None = None,
) -> ResultsFile:
    """Read and check a results file.

    Args:
        path: CSV or XLSX.
        vocabulary: The words that stand for a compound today.
        today: The day at the brewery; no session can be later.
        date_order: "day first" or "month first" (or with a hyphen), for a file that cannot decide.
        sheet: Which sheet of a workbook.

    Raises:
        FileRefused: with every fault of the file.
        DatesUndecided: if nothing in it tells day from month.
    """
    with collector_paused():
        return _read(path, vocabulary, today, date_order, sheet)


def _read(
    path: Path, vocabulary: Vocabulary, today: date, date_order: str | None, sheet: str | None
) -> ResultsFile:
    table, digest = read_table(path, sheet)
    columns, faults = find_columns(table.header, table.header_line)
    if faults:
        raise FileRefused(path.name, _in_order([*faults, *table.faults]))
    reading = read_glasses(path.name, table, columns, vocabulary, today, date_order)
    tastings = read_tastings(reading, vocabulary)
    faults = [*reading.faults, *code_clashes(reading), *repeated_servings(reading, tastings)]
    if not faults and not tastings:
        faults = [Fault(None, "the file holds no answers; expected at least one under the header.")]
    if faults:
        raise FileRefused(path.name, _in_order(faults))
    rows = tuple(_rows(reading, tastings))
    panellists = tuple(dict.fromkeys(row.panellist for row in rows))
    return ResultsFile(
        name=path.name,
        digest=digest,
        shape=columns.shape,
        rows=rows,
        date_order=reading.date_order,
        panellists=panellists,
        open_words=_open_words(rows, vocabulary),
        notes=(*reading.notes, *name_notes(panellists)),
    )


@contextmanager
def collector_paused() -> Iterator[None]:
    """An import makes millions of objects and no cycles; looking for those would take a tenth."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _in_order(faults: Sequence[Fault]) -> list[Fault]:
    """Each fault once, in the order of the file."""
    return sorted(dict.fromkeys(faults), key=lambda fault: fault.line or 0)


def _rows(reading: Reading, tastings: Sequence[Tasting]) -> Iterator[ResultRow]:
    """The rows, whose fields stand in the order of `ResultRow`: what was served, then said."""
    values, lines = reading.values, reading.table.lines
    values["session"] = [session or "" for session in values["session"]]
    values["sitting"] = [sitting or "" for sitting in values["sitting"]]
    values["compound"] = [compound or None for compound in values["compound"]]
    when, served, remarked = (
        list(zip(*(values[name] for name in names), strict=True))
        for names in (_WHEN, _SERVED, _REMARKED)
    )
    for row, panellist, answer in tastings:
        said = (answer.kind, answer.words, answer.rating)
        yield ResultRow(lines[row], *when[row], panellist, *served[row], *said, *remarked[row])


_WHEN: Final = ("date", "session", "sitting")
_SERVED: Final = ("method", "position", "code", "compound", "level", "dose", "volume")
_REMARKED: Final = ("duplicate", "sample", "base beer", "beer family", "set aside", "note")


def _open_words(rows: Sequence[ResultRow], vocabulary: Vocabulary) -> dict[str, int]:
    """Wordings that name no compound, spellings that fold alike counted as the first of them."""
    written = Counter(row.words for row in rows if row.words is not None)
    spelled: dict[str, str] = {}
    counts: Counter[str] = Counter()
    for words, count in written.items():
        if vocabulary.find(words) is None:
            counts[spelled.setdefault(fold(words), words)] += count
    return dict(counts.most_common())
