"""Keeps the record safe: backup, restore, and a check that it adds up."""

from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import seatworthy.store.backup as backups
import seatworthy.store.restore as restores
from seatworthy.errors import StoreDamaged, StoreError
from seatworthy.intake.words import fold
from seatworthy.steps.desk import Desk, open_desk
from seatworthy.store.checks import impossible_facts
from seatworthy.store.history import broken_entries, last_entry

SYNC_FOLDERS = ("dropbox", "onedrive", "google drive", "googledrive", "icloud", "nextcloud",
                "owncloud", "syncthing", "pcloud", "mega")  # fmt: skip


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
        StoreDamaged: with every sentence about what does not add up.
    """
    with desk.store.reading() as cursor:
        wrong = [*broken_entries(cursor), *impossible_facts(cursor, desk.end_of(desk.today()))]
    wrong += _strange_keys(desk)
    if wrong:
        lines = "\n".join(f"- {sentence}" for sentence in wrong)
        message = f"{desk.store.path} does not add up:\n{lines}\nRestore the last good backup."
        raise StoreDamaged(message)
    return size_of(desk)


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
        folder = desk.store.path.parent / "backups"
        folder.mkdir(exist_ok=True)
        stamp = datetime.now(UTC).strftime("%Y%m%d-%H%M%S")
        target = _free(folder / f"{desk.store.path.stem}-{stamp}.duckdb")
    backups.back_up(desk.store, target)
    return target


def restore(backup: Path, target: Path, *, replace: bool = False) -> None:
    """Put a backup in the place of a store after checking it; nothing is overwritten unasked.

    Raises:
        StoreError: if the backup does not match its manifest, or the target is in the way.
    """
    if backup.resolve() == target.resolve():
        message = "The backup and the store to restore are the same file. Name another place."
        raise StoreError(message)
    restores.restore(backup, target, replace=replace)


def folder_warning(path: Path) -> str | None:
    """A sentence if the store lies in a folder that a sync program owns, else None."""
    for part in path.resolve().parent.parts:
        if any(part.casefold().startswith(name) for name in SYNC_FOLDERS):
            return (
                f"Warning: {path} lies in “{part}”, a folder that a sync program copies while it is "
                "being written. Keep the store in a plain folder and put backups there instead."
            )
    return None


def _free(path: Path) -> Path:
    number = 1
    candidate = path
    while candidate.exists():
        number += 1
        candidate = path.with_stem(f"{path.stem}-{number}")
    return candidate
