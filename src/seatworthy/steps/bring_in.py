"""Brings a results file or a shelf file into the store: whole, or not at all."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from hashlib import sha256
from pathlib import Path
from secrets import token_hex

from seatworthy.errors import Fault, FileRefused
from seatworthy.intake.results import ResultRow, ResultsFile, collector_paused, read_results
from seatworthy.intake.shelf import Shelf, read_shelf
from seatworthy.intake.tables import TableRow, beer_rows, result_columns, shelf_rows
from seatworthy.intake.words import fold
from seatworthy.steps.desk import Desk
from seatworthy.steps.people import known_spellings
from seatworthy.steps.strangers import who_is_who
from seatworthy.steps.words import vocabulary
from seatworthy.store.people import record_same_person, record_spellings
from seatworthy.store.results import Contradicted, Planned, record_results

OF_A_PLANNED_SESSION = (
    "this session was planned here, so its answers are entered on its own sheets; take the line "
    "out, or give the session another name."
)


@dataclass(frozen=True)
class BroughtIn:
    """What became of a file.

    Attributes:
        name: The file's name.
        rows: Rows read.
        added: Answers that were new.
        known: Rows that were on record already.
        set_aside: Of these, glasses that the file newly sets aside.
        sessions: Sessions that were new.
        new_people: Spellings added as new people.
        read_as: Spellings taken for somebody known, with whom.
        open_words: Own words that stand for no compound yet, with how often.
        notes: Sentences about how the file was read.
    """

    name: str
    rows: int
    added: int
    known: int
    set_aside: int
    sessions: int
    new_people: tuple[str, ...]
    read_as: Mapping[str, str]
    open_words: Mapping[str, int]
    notes: tuple[str, ...]


@collector_paused()
def bring_in_results(
    desk: Desk,
    path: Path,
    *,
    date_order: str | None = None,
    sheet: str | None = None,
    new_people: Sequence[str] = (),
    same_people: Mapping[str, str] | None = None,
    arrange: Callable[[tuple[ResultRow, ...]], tuple[ResultRow, ...]] | None = None,
) -> BroughtIn:
    """Read a results file and store it.

    Args:
        desk: The open store.
        path: CSV or XLSX, one row per answer or one row per glass.
        date_order: "day-first" or "month-first", for a file that cannot decide.
        sheet: Which sheet of a workbook.
        new_people: Spellings that are new people; "*" for all that are not known.
        same_people: Spelling in the file to the name of the person meant.
        arrange: Rearranges the rows before they are stored (the demo moves its calendar).

    Raises:
        FileRefused: with every fault of the file, its strangers or its contradictions.
        DatesUndecided: if the order of day and month must be said.
    """
    today = desk.today() if arrange is None else date.max
    found = read_results(path, vocabulary(desk), today, date_order=date_order, sheet=sheet)
    if arrange is not None:
        found = replace(found, rows=arrange(found.rows))
    _refuse_two_families(found)
    spellings = known_spellings(desk)
    who = who_is_who(found, spellings, new_people, same_people or {})
    beers = [str(row["beer"]) for row in desk.store.rows("beers")]
    families = [str(row["family"]) for row in desk.store.rows("known_families")]
    with desk.store.recording("results") as act:
        new_ids = record_spellings(act, who.new)
        ids = {**spellings.ids, **new_ids}
        main_ids = dict(spellings.stands_for)
        for spelling, name in who.read_as.items():
            if spelling in new_ids:
                main = main_ids.get(ids[name], ids[name])
                record_same_person(act, new_ids[spelling], main, is_same=True)
                main_ids[new_ids[spelling]] = main
        new_beers = list(beer_rows(found.rows, beers, families))
        act.add_all(new_beers)
        try:
            added = record_results(act, result_columns(found.rows, ids, main_ids))
        except Contradicted as contradicted:
            raise FileRefused(path.name, _contradictions(contradicted)) from contradicted
        except Planned as planned:
            faults = [Fault(line, OF_A_PLANNED_SESSION) for line in planned.lines]
            raise FileRefused(path.name, faults) from planned
        if added.answers or added.set_aside:
            act.add("import_file", _import_row(found, added.answers))
    return BroughtIn(
        name=path.name,
        rows=len(found.rows),
        added=added.answers,
        known=added.known,
        set_aside=added.set_aside,
        sessions=added.sessions,
        new_people=tuple(name for name in who.new if name not in who.read_as),
        read_as=who.read_as,
        open_words=_not_decided(desk, found.open_words),
        notes=(*_about_beers(desk, new_beers), *found.notes),
    )


def bring_in_shelf(desk: Desk, path: Path) -> BroughtIn:
    """Read a shelf file and record what it states; the same file twice adds nothing.

    Raises:
        FileRefused: with every fault of the file.
    """
    shelf = read_shelf(path, vocabulary(desk))
    digest = sha256(path.read_bytes()).hexdigest()
    rows = list(shelf_rows(shelf))
    _refuse_taken_names(desk, path, shelf)
    if [row["file_digest"] for row in desk.store.rows("last_shelf_file")] == [digest]:
        return BroughtIn(path.name, len(rows), 0, len(rows), 0, 0, (), {}, {}, ())
    with desk.store.recording("shelf") as act:
        act.add_all(rows)
        act.add("shelf_file", {"file_name": path.name, "file_digest": digest})
    return BroughtIn(path.name, len(rows), len(rows), 0, 0, 0, (), {}, {}, ())


def _refuse_taken_names(desk: Desk, path: Path, shelf: Shelf) -> None:
    """A new compound must not take a wording that stands for another one."""
    known = vocabulary(desk)
    faults = [
        Fault(None, f"[[compounds]] “{words}” stands for {known.find(words)} already.")
        for compound in shelf.compounds
        for words in (compound.key, compound.label)
        if known.find(words) not in (None, compound.key)
    ]
    accepted = {row["words_key"] for row in desk.store.rows("word_groups")}
    faults += [
        Fault(None, f"[[compounds]] “{words}” is accepted for other compounds already.")
        for compound in shelf.compounds
        for words in (compound.key, compound.label)
        if fold(words) in accepted and known.find(words) != compound.key
    ]
    if faults:
        raise FileRefused(path.name, faults)


def _refuse_two_families(found: ResultsFile) -> None:
    """A base beer stands in one family."""
    families: dict[str, dict[str, str]] = {}
    for beer, family in {(row.base_beer, row.beer_family) for row in found.rows}:
        if beer and family:
            families.setdefault(fold(beer), {}).setdefault(fold(family), family)
    faults = [
        Fault(None, f"base beer {beer} stands in several families: {', '.join(own.values())}.")
        for beer, own in families.items()
        if len(own) > 1
    ]
    if faults:
        raise FileRefused(found.name, faults)


def _not_decided(desk: Desk, words: Mapping[str, int]) -> dict[str, int]:
    """Words that mean no compound and of which nobody has said so yet, the most frequent first."""
    decided = {row["words_key"] for row in desk.store.rows("word_readings")}
    left = [(written, often) for written, often in words.items() if fold(written) not in decided]
    return dict(sorted(left, key=lambda pair: -pair[1]))


def _about_beers(desk: Desk, rows: Sequence[TableRow]) -> list[str]:
    """A sentence for each base beer that is new, since a misspelt one would be another beer."""
    labels = {row["family"]: row["label"] for row in desk.store.rows("known_families")}
    labels |= {row["family"]: row["label"] for table, row in rows if table == "beer_family"}
    return [
        f"New base beer: {row['label']}, among {labels.get(row['family'], row['family'])}. "
        "If that is a misspelling, restore the last backup and correct the file."
        for table, row in rows
        if table == "base_beer" and row["beer"]
    ]


def _contradictions(contradicted: Contradicted) -> list[Fault]:
    return [
        Fault(
            row.line,
            f"the record already holds {row.recorded} for this glass. An import never overwrites "
            "a glass on record: take the line out.",
        )
        for row in contradicted.rows
    ]


def _import_row(found: ResultsFile, added: int) -> dict[str, object]:
    return {
        "import_id": token_hex(8),
        "file_name": found.name,
        "file_digest": found.digest,
        "shape": found.shape,
        "rows_read": len(found.rows),
        "rows_added": added,
    }
