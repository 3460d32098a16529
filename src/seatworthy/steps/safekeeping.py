"""Keeps the record safe: backup, restore, and a check that it adds up."""

from dataclasses import dataclass
from pathlib import Path

import seatworthy.store.backup as backups
import seatworthy.store.restore as restores
from seatworthy.errors import StoreDamaged, StoreError
from seatworthy.intake.words import fold
from seatworthy.steps.desk import Desk, open_desk
from seatworthy.steps.last_copy import way_back
from seatworthy.store.checks import impossible_facts
from seatworthy.store.copies import new_place
from seatworthy.store.copying import Manifest, read_whole
from seatworthy.store.history import broken_entries, last_entry
from seatworthy.store.reading_again import read_as_it_lies


@dataclass(frozen=True)
class Size:
    """How much is on record."""

    people: int
    sessions: int
    answers: int
    entries: int


def size_of(desk: Desk) -> Size:
    """How much is on record."""
    row = desk.store.rows("record_size")[0]
    with desk.store.reading() as cursor:
        entries, _ = last_entry(cursor)
    return Size(row["people"], row["sessions"], row["answers"], entries)


def verify(desk: Desk) -> Size:
    """Prove that every fact is as it was sealed and nothing impossible is on record.

    Returns:
        What was checked.

    Raises:
        StoreDamaged: with every sentence about what does not add up, and the way back.
    """
    with desk.store.reading() as cursor:
        wrong = [*broken_entries(cursor), *impossible_facts(cursor, desk.end_of(desk.today()))]
    wrong += _strange_keys(desk)
    if wrong:
        lines = "\n".join(f"- {sentence}" for sentence in wrong)
        path = desk.store.path
        message = f"{path} does not add up:\n{lines}\n{way_back(path)}"
        raise StoreDamaged(message)
    return size_of(desk)


def read_file(path: Path) -> None:
    """Read all of a store that nobody has open, before anything is written into it.

    Raises:
        StoreDamaged: if some of it cannot be read; the sentence names the way back.
    """
    try:
        read_whole(path)
    except StoreDamaged as error:
        message = f"{error}\n{way_back(path)}"
        raise StoreDamaged(message) from error


def verify_all(desk: Desk) -> Size:
    """`verify`, and the file read from the disk again while it stays open.

    Raises:
        StoreDamaged: with what is wrong and the way back.
        StoreError: if there is no room to read it beside.
    """
    try:
        read_as_it_lies(desk.store)
    except StoreDamaged as error:
        message = f"{error}\n{way_back(desk.store.path)}"
        raise StoreDamaged(message) from error
    return verify(desk)


def _strange_keys(desk: Desk) -> list[str]:
    """A sentence where own words stand under another key than theirs, which changes what they mean."""
    strange = sum(
        row["answers"] for row in desk.store.rows("word_keys") if fold(row["words"]) != row["words_key"]
    )  # fmt: skip
    return (
        [f"{strange} answers in own words stand under the key of other words."] if strange else []
    )


def forget_empty(path: Path) -> None:
    """Take away a store that was made a moment ago and holds nothing of the user's."""
    if path.exists():
        desk = open_desk(path)
        try:
            is_empty = size_of(desk).entries <= 1  # the shipped vocabulary alone
        finally:
            desk.close()
        if is_empty:
            path.unlink()


def back_up(desk: Desk, target: Path | None = None) -> Path:
    """Write a backup and prove it equal; beside the store, under the moment, if no place is named.

    Raises:
        StoreError: if it cannot be written or turns out different.
    """
    if target is None:
        target = new_place(desk.store.path)
    backups.back_up(desk.store, target)
    return target


def restore(backup: Path, target: Path, *, replace: bool = False) -> Manifest:
    """Put a backup in the place of a store after checking it; nothing is overwritten unasked.

    Returns:
        What the store holds now, proved.

    Raises:
        StoreError: if the backup does not match its manifest or its history does not add up, or the
            target is in the way.
    """
    if backup.resolve() == target.resolve():
        message = "The backup and the store to restore are the same file. Name another place."
        raise StoreError(message)
    return restores.restore(backup, target, replace=replace)
