"""Brings a results file or a shelf file into the store: whole, or not at all."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from hashlib import sha256
from pathlib import Path
from secrets import token_hex

from seatworthy.errors import Fault, FileRefused, StrangersInFile
from seatworthy.intake.results import ResultRow, ResultsFile, read_results
from seatworthy.intake.shelf import read_shelf
from seatworthy.intake.tables import TableRow, beer_rows, result_columns, shelf_rows
from seatworthy.intake.words import fold
from seatworthy.steps.desk import Desk
from seatworthy.steps.people import Spellings, known_spellings, nearest_names
from seatworthy.steps.words import vocabulary
from seatworthy.store.people import record_same_person, record_spellings
from seatworthy.store.results import Contradicted, record_results


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
    spellings = known_spellings(desk)
    who = _who_is_who(found, spellings, new_people, same_people or {})
    beers = [str(row["beer"]) for row in desk.store.rows("beers")]
    with desk.store.recording("results") as act:
        new_ids = record_spellings(act, who.new)
        ids = {**spellings.ids, **new_ids}
        for spelling, name in who.read_as.items():
            if spelling in new_ids:
                record_same_person(
                    act, new_ids[spelling], _main(ids, spellings, name), is_same=True
                )
        new_beers = list(beer_rows(found.rows, beers))
        act.add_all(new_beers)
        try:
            added = record_results(act, result_columns(found.rows, ids))
        except Contradicted as contradicted:
            raise FileRefused(path.name, _contradictions(contradicted)) from contradicted
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
        notes=(*_about_beers(new_beers), *found.notes),
    )


def bring_in_shelf(desk: Desk, path: Path) -> BroughtIn:
    """Read a shelf file and record what it states; the same file twice adds nothing.

    Raises:
        FileRefused: with every fault of the file.
    """
    shelf = read_shelf(path, vocabulary(desk))
    digest = sha256(path.read_bytes()).hexdigest()
    rows = list(shelf_rows(shelf))
    if any(row["file_digest"] == digest for row in desk.store.rows("shelf_files")):
        return BroughtIn(path.name, len(rows), 0, len(rows), 0, 0, (), {}, {}, ())
    with desk.store.recording("shelf") as act:
        act.add_all(rows)
        act.add("shelf_file", {"file_name": path.name, "file_digest": digest})
    return BroughtIn(path.name, len(rows), len(rows), 0, 0, 0, (), {}, {}, ())


@dataclass(frozen=True)
class _WhoIsWho:
    new: tuple[str, ...]  # spellings that get an id
    read_as: dict[str, str]  # of these or of known ones, who is meant


def _who_is_who(
    found: ResultsFile,
    spellings: Spellings,
    new_people: Sequence[str],
    same_people: Mapping[str, str],
) -> _WhoIsWho:
    """Decide for every spelling of a file whether it is known, new, or must be asked about.

    A spelling that differs from another only by capitals or spaces is read as the same person
    (and can be split again); one that differs by accents is asked about, also in an empty store.
    """
    new, read_as, faults = [], {}, []
    is_first_file = not spellings.ids
    by_case = {_same_case(name): name for name in spellings.ids}
    by_fold = {fold(name): name for name in spellings.ids}
    for name in found.panellists:
        if name in spellings.ids:
            continue
        new.append(name)
        if name in same_people:
            meant = by_fold.get(fold(same_people[name]))
            if meant is None:
                faults.append(Fault(None, f"“{same_people[name]}” is nobody on record."))
            else:
                read_as[name] = meant
        elif _same_case(name) in by_case:
            read_as[name] = by_case[_same_case(name)]
        elif name not in new_people and fold(name) in by_fold:
            faults.append(_ask_about(name, [by_fold[fold(name)]]))
        elif not (is_first_file or name in new_people or "*" in new_people):
            faults.append(_ask_about(name, nearest_names(name, spellings.ids)))
        by_case.setdefault(_same_case(name), name)
        by_fold.setdefault(fold(name), name)
    if faults:
        raise StrangersInFile(found.name, faults)
    return _WhoIsWho(tuple(new), read_as)


def _not_decided(desk: Desk, words: Mapping[str, int]) -> dict[str, int]:
    """Words that mean no compound and of which nobody has said so yet, the most frequent first."""
    decided = {row["words_key"] for row in desk.store.rows("meanings")}
    left = [(written, often) for written, often in words.items() if fold(written) not in decided]
    return dict(sorted(left, key=lambda pair: -pair[1]))


def _about_beers(rows: Sequence[TableRow]) -> list[str]:
    """A sentence for each base beer that is new, since a misspelt one would be another beer."""
    labels = {row["family"]: row["label"] for table, row in rows if table == "beer_family"}
    return [
        f"New base beer: {row['label']}, among {labels.get(row['family'], row['family'])}. "
        "If that is a misspelling, restore the last backup and correct the file."
        for table, row in rows
        if table == "base_beer" and row["beer"]
    ]


def _ask_about(name: str, nearest: Sequence[str]) -> Fault:
    like = f" It looks like {' or '.join(nearest)}." if nearest else ""
    same = f'--same "{name}={nearest[0]}"' if nearest else f'--same "{name}=..."'
    return Fault(
        None,
        f'“{name}” is not on record.{like} Say --new "{name}" for a new person, '
        f"or {same} for another spelling of somebody known.",
    )


def _same_case(name: str) -> str:
    return " ".join(name.casefold().split())


def _main(ids: Mapping[str, str], spellings: Spellings, name: str) -> str:
    """Person id that a name stands for in the end."""
    return spellings.stands_for.get(ids[name], ids[name])


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
