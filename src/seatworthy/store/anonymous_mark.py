"""The short list beside a store of who was made anonymous, and whether its file is to be written anew.

It holds random ids alone. A backup from before still has the names: when one is put back, the list
says whose names go again.
"""

import json
import os
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from secrets import token_hex

_ENDING = ".anonymous"
_IN_WORDS = (
    "Ids of people who were made anonymous. Keep this file beside the store: when a backup from before "
    "is put back, their names are taken out of it again."
)


@dataclass(frozen=True)
class Mark:
    """What the list says.

    Attributes:
        person_ids: Every spelling that was made anonymous.
        is_to_rewrite: Whether the file may still hold what was deleted from its tables.
    """

    person_ids: frozenset[str] = frozenset()
    is_to_rewrite: bool = False


def mark_path(store: Path) -> Path:
    """Where the list of a store lies."""
    return store.with_name(store.name + _ENDING)


def read_mark(store: Path) -> Mark:
    """What the list beside a store says; nothing where there is none, or it cannot be read."""
    return _read(mark_path(store))


def write_mark(store: Path, mark: Mark) -> None:
    """Put a list beside a store, whole or not at all."""
    path = mark_path(store)
    if not mark.person_ids and not mark.is_to_rewrite:
        path.unlink(missing_ok=True)
        return
    found = {
        "in_words": _IN_WORDS,
        "person_ids": sorted(mark.person_ids),
        "is_to_rewrite": mark.is_to_rewrite,
    }
    part = path.with_name(f"{path.name}.{token_hex(4)}.unfinished")
    try:
        with part.open("w", encoding="utf-8") as file:
            json.dump(found, file, indent=1)
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)


def carry_over(backup: Path, store: Path) -> None:
    """Before a copy is put back: list for the store whom any list near it or the copy names.

    Args:
        backup: The copy, a file or a folder.
        store: Where it is put.
    """
    folders = {store.resolve().parent, backup.resolve().parent, backup.resolve().parent.parent}
    lists = [path for folder in folders for path in folder.glob(f"*{_ENDING}")]
    ids = frozenset(one for path in lists for one in _read(path).person_ids)
    if ids:
        write_mark(store, Mark(ids, is_to_rewrite=True))


def add_to_mark(store: Path, person_ids: Iterable[str]) -> Mark:
    """Add people to the list of a store and say that its file is to be written anew.

    Returns:
        What the list said before.
    """
    before = read_mark(store)
    write_mark(store, Mark(before.person_ids | set(person_ids), is_to_rewrite=True))
    return before


def _read(path: Path) -> Mark:
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
        ids = [one for one in found["person_ids"] if isinstance(one, str) and len(one) == 16]
        return Mark(frozenset(ids), bool(found["is_to_rewrite"]))
    except (OSError, ValueError, KeyError, TypeError):
        return Mark()
