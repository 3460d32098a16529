"""The copies that lie beside a store: made after a close, listed, and the way back to the last good one."""

from collections import OrderedDict
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from shlex import quote
from typing import Final

import seatworthy.store.backup as backups
from seatworthy.errors import PanelError
from seatworthy.steps.chain_head import chain_head
from seatworthy.steps.desk import Desk
from seatworthy.store.copies import (
    AFTER_CLOSE,
    BEFORE_UPGRADE,
    BY_HAND,
    KEEP_ALL_DAYS,
    Copy,
    copies_of,
    folder_of,
    last_good,
    new_place,
    remove_superfluous,
)
from seatworthy.store.copying import first_digest, manifest_path

WHY_WORDS: Final = {
    BY_HAND: "by hand",
    AFTER_CLOSE: "after a close",
    BEFORE_UPGRADE: "before an upgrade",
}
KEEP_RULE: Final = (
    f"Copies made after a close are kept for {KEEP_ALL_DAYS} days, and the last one of each month for "
    "good; those made by hand or before an upgrade are never removed."
)
REMIND_AFTER_DAYS: Final = 14
_REMEMBERED: Final = 500
_FAULTS: OrderedDict[tuple[Path, int, int], str | None] = OrderedDict()


@dataclass(frozen=True)
class CopyLine:
    """One copy as it is listed.

    Attributes:
        path: The file.
        made_at: When, UTC.
        why: In words.
        last_entry: Number and digest of the last entry it holds; None if its manifest can't be read.
        size_mb: How large the file is.
        fault: What is wrong with it, a sentence; None if it is good or was not read.
        is_read: Whether it was read and checked.
    """

    path: Path
    made_at: datetime
    why: str
    last_entry: tuple[int, str] | None
    size_mb: float
    fault: str | None
    is_read: bool


def copy_after_close(desk: Desk) -> str | None:
    """Keep a checked copy of the record after a session was closed, and let old ones go by the rule.

    Returns:
        None, or a sentence for the reader if it could not be made; the close stands either way.
    """
    try:
        backups.back_up(desk.store, new_place(desk.store.path, AFTER_CLOSE))
        remove_superfluous(desk.store.path, datetime.now(UTC))
    except (PanelError, OSError) as error:
        return (
            "The session is closed and on record, but no copy of the record could be kept "
            f"({str(error).rstrip('.')}). Make room, then make one on the page Safekeeping."
        )
    return None


def copy_lines(store: Path, *, read_all: bool = True) -> tuple[CopyLine, ...]:
    """Every copy in the folder of a store, the newest first.

    Args:
        store: The store; it need not be there.
        read_all: Whether every one is read and checked, or the newest alone; what was read before and
            not written since is not read again.
    """
    found = copies_of(store)
    return tuple(_line(copy, read=read_all or copy is found[0]) for copy in found)


def forget_checks() -> None:
    """Have every copy read again that was read before."""
    _FAULTS.clear()


def way_back(store: Path) -> str:
    """What to do with a damaged store: the last good backup, and the words to put it in place."""
    copy = last_good(store)
    if copy is None:
        return (
            f"There is no good backup in {folder_of(store)}. Keep this file as it is, and look for a "
            "copy elsewhere; seatworthy restore FILE --replace puts it in place."
        )
    entry_no, _ = copy.manifest().last_entry
    words = f"seatworthy restore {quote(str(copy.path))} --store {quote(str(store))} --replace"
    return (
        f"The last good backup is {copy.path}, made on {copy.made_at:%Y-%m-%d at %H:%M} UTC up to "
        f"entry {entry_no}. To put it in place (the damaged file is kept beside it): {words}"
    )


def reminder(desk: Desk) -> str | None:
    """A quiet word where the newest copy is old and something was recorded since; None else."""
    head = chain_head(desk).entry_no
    if head <= 1:  # the shipped vocabulary alone
        return None
    copies = copies_of(desk.store.path)
    if not copies:
        return "There is no copy of this record yet."
    if words := knows_more(desk):
        return words
    age = datetime.now(UTC) - copies[0].made_at
    last = _last_entry(copies[0])
    if age < timedelta(days=REMIND_AFTER_DAYS) or (last and last[0] == head):
        return None
    return f"The newest copy of this record is {age.days} days old, and more was recorded since."


def knows_more(desk: Desk) -> str:
    """A sentence where the newest copy ends with an act that the record doesn't hold; "" else.

    A flipped bit in the journal can cost the newest acts and leave a record that adds up: only a copy,
    or a paper that names the entry, can tell.
    """
    copies = copies_of(desk.store.path)
    last = _last_entry(copies[0]) if copies else None
    if last is None or _holds(desk, last) or not _is_of_one_origin(desk, copies[0]):
        return ""
    return (
        f"The newest copy, {copies[0].path.name}, ends with entry {last[0]}, which this record doesn't hold: "
        "an older copy was put back since, or its newest acts are lost. If it was not meant, put that "
        "copy back (seatworthy restore lists it); if it was, make a new copy."
    )


def is_of_this_record(desk: Desk, copy: CopyLine) -> bool:
    """Whether the record holds the entry with which a copy ends, so that the copy is one of it."""
    return copy.last_entry is not None and _holds(desk, copy.last_entry)


def _is_of_one_origin(desk: Desk, copy: Copy) -> bool:
    first = first_digest(copy.path)
    return first is not None and _holds(desk, (1, first))


def _holds(desk: Desk, entry: tuple[int, str]) -> bool:
    rows = desk.store.rows("entry_digest", entry_no=entry[0])
    return bool(rows) and rows[0]["digest"] == entry[1]


def _last_entry(copy: Copy) -> tuple[int, str] | None:
    try:
        return copy.manifest().last_entry
    except PanelError:
        return None


def _line(copy: Copy, *, read: bool) -> CopyLine:
    mark = _mark(copy)
    if read and mark not in _FAULTS:
        _FAULTS[mark] = copy.fault()
        while len(_FAULTS) > _REMEMBERED:
            _FAULTS.popitem(last=False)
    return CopyLine(
        path=copy.path,
        made_at=copy.made_at,
        why=WHY_WORDS[copy.why],
        last_entry=_last_entry(copy),
        size_mb=copy.path.stat().st_size / 1e6,
        fault=_FAULTS.get(mark),
        is_read=mark in _FAULTS,
    )


def _mark(copy: Copy) -> tuple[Path, int, int]:
    """What stays the same as long as neither of a copy's two files is written: read once is enough."""
    files = [path for path in (copy.path, manifest_path(copy.path)) if path.exists()]
    found = [path.stat() for path in files]
    return copy.path, sum(one.st_mtime_ns for one in found), sum(one.st_size for one in found)
