"""Copies near the store that still hold the name of somebody who was made anonymous."""

from dataclasses import dataclass
from pathlib import Path

from seatworthy.errors import PanelError
from seatworthy.steps.desk import Desk
from seatworthy.steps.history_phrases import counted
from seatworthy.store import named_copies
from seatworthy.store.anonymous_mark import read_mark


@dataclass(frozen=True)
class NamedCopy:
    """A file near the store.

    Attributes:
        is_read: Whether it could be read; of one that could not, nobody knows what it holds.
    """

    path: Path
    is_read: bool


def who_loses_the_name(store: Path) -> str:
    """What is said once a copy was put back beside a list of people without a name; "" without one."""
    spellings = len(read_mark(store).person_ids)
    if not spellings:
        return ""
    again = "it goes" if spellings == 1 else "they go"
    return (
        f"{counted(spellings, 'name')} taken away for good since may stand in it; {again} again, with "
        "the texts, when the store is opened next."
    )


def copies_with_names(desk: Desk) -> tuple[NamedCopy, ...]:
    """Files in the folder of backups and beside the store that hold such a name."""
    ids = _ids(desk)
    if not ids:
        return ()
    found = named_copies.copies_with_names(desk.store.path, ids)
    return tuple(NamedCopy(path, is_read) for path, is_read in found)


def clean_copies(desk: Desk) -> str:
    """Take the names out of every such copy, each proved equal to what it was beside them.

    Raises:
        PanelError: if one cannot be; those before it are done.
    """
    ids, done = _ids(desk), 0
    for copy in copies_with_names(desk):
        if copy.is_read:
            named_copies.take_names_out(copy.path, ids)
            done += 1
    left = copies_with_names(desk)
    if left:
        names = ", ".join(copy.path.name for copy in left)
        message = f"{counted(done, 'copy is', 'copies are')} anonymous now; not {names}: it cannot be read."
        raise PanelError(message)
    return f"{counted(done, 'copy is', 'copies are')} anonymous now; what else they hold was proved equal."


def delete_copy(desk: Desk, name: str) -> str:
    """Delete one such copy.

    Args:
        desk: The open store.
        name: The file's name, as listed.

    Raises:
        PanelError: if no such copy is listed.
    """
    for copy in copies_with_names(desk):
        if copy.path.name == name:
            named_copies.remove(copy.path)
            return f"{name} is deleted."
    message = f"There is no copy {name} that holds such a name. Nothing was deleted."
    raise PanelError(message)


def _ids(desk: Desk) -> list[str]:
    return sorted({row["person_id"] for row in desk.store.rows("anonymous_spellings")})
