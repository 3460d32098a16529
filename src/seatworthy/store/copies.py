"""The copies of a store that lie beside it: what they are called, which there are, which may go.

A copy's name says whose it is, when it was made (UTC) and why: ``panel-20260314-101500.duckdb`` by
hand, ``...-after-close.duckdb`` after a session was closed, ``...-before-upgrade.duckdb``.
"""

import glob
import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Final

from seatworthy.errors import PanelError, StoreError
from seatworthy.store.copying import Manifest, check_copy, manifest_path

BY_HAND: Final = ""
AFTER_CLOSE: Final = "after-close"
BEFORE_UPGRADE: Final = "before-upgrade"
KEEP_ALL_DAYS: Final = 30

_STAMP: Final = "%Y%m%d-%H%M%S"


@dataclass(frozen=True, slots=True)
class Copy:
    """One copy of a store.

    Attributes:
        path: The file.
        made_at: When, UTC, to the second.
        why: `BY_HAND`, `AFTER_CLOSE` or `BEFORE_UPGRADE`.
    """

    path: Path
    made_at: datetime
    why: str

    def manifest(self) -> Manifest:
        """What it must hold.

        Raises:
            StoreDamaged: if the manifest is missing or is none.
        """
        return Manifest.read(manifest_path(self.path))

    def fault(self) -> str | None:
        """Why it is no good copy, found by reading all of it; None for a good one."""
        try:
            check_copy(self.path, self.manifest(), with_history=True)
        except PanelError as error:
            return str(error)
        return None


def folder_of(store: Path) -> Path:
    """Where the copies of a store lie unless another place is named."""
    return store.parent / "backups"


def new_place(store: Path, why: str = BY_HAND) -> Path:
    """A free name for a copy made now; its folder is made.

    Raises:
        StoreError: if the folder cannot be made.
    """
    folder = folder_of(store)
    try:
        folder.mkdir(exist_ok=True)
    except OSError as error:
        message = f"The folder {folder} for backups could not be made: {error.strerror}."
        raise StoreError(message) from error
    start = f"{store.stem}-{datetime.now(UTC).strftime(_STAMP)}{why and f'-{why}'}"
    place, number = folder / f"{start}.duckdb", 1
    while place.exists() or manifest_path(place).exists():
        number += 1
        place = folder / f"{start}-{number}.duckdb"
    return place


def copies_of(store: Path) -> list[Copy]:
    """Every copy of a store in its folder, the newest first; others' files are passed over."""
    name = re.compile(
        rf"{re.escape(store.stem)}-(\d{{8}}-\d{{6}})(?:-({AFTER_CLOSE}|{BEFORE_UPGRADE}))?"
        r"(?:-(\d+))?\.duckdb"
    )
    found = []
    for path in folder_of(store).glob("*.duckdb"):
        if parts := name.fullmatch(path.name):
            made_at = _moment(parts[1])
            if made_at is not None:
                found.append((made_at, int(parts[3] or 1), Copy(path, made_at, parts[2] or "")))
    return [copy for *_, copy in sorted(found, key=lambda each: each[:2], reverse=True)]


def last_good(store: Path) -> Copy | None:
    """The newest copy that matches its manifest and whose history adds up; None if there is none."""
    return next((copy for copy in copies_of(store) if copy.fault() is None), None)


def superfluous(copies: Iterable[Copy], now: datetime) -> dict[Copy, Copy]:
    """Which copies the keep-rule lets go, each with the one of its month that stays.

    Only copies made after a close ever go: of those older than 30 days the last of each month stays.

    Args:
        copies: Any copies of one store.
        now: This moment, UTC.
    """
    closes = [copy for copy in copies if copy.why == AFTER_CLOSE]
    last: dict[tuple[int, int], Copy] = {}
    for copy in sorted(closes, key=lambda copy: (copy.made_at, copy.path)):
        last[copy.made_at.year, copy.made_at.month] = copy
    oldest_kept = now - timedelta(days=KEEP_ALL_DAYS)
    return {
        copy: stays
        for copy in closes
        if copy.made_at < oldest_kept
        and (stays := last[copy.made_at.year, copy.made_at.month]) != copy
    }


def remove_superfluous(store: Path, now: datetime) -> list[Path]:
    """Remove what the keep-rule lets go, where the one that stays for it is good.

    What a process that was killed left unfinished goes too, a day later.

    Args:
        store: The store.
        now: This moment, UTC.

    Returns:
        What was removed.
    """
    removed, is_good = [], {}
    for copy, stays in superfluous(copies_of(store), now).items():
        if stays not in is_good:
            is_good[stays] = stays.fault() is None
        if is_good[stays]:
            copy.path.unlink(missing_ok=True)
            manifest_path(copy.path).unlink(missing_ok=True)
            removed.append(copy.path)
    for left in folder_of(store).glob(f"{glob.escape(store.stem)}-*.unfinished*"):
        if datetime.fromtimestamp(left.stat().st_mtime, UTC) < now - timedelta(days=1):
            left.unlink(missing_ok=True)
            removed.append(left)
    return removed


def _moment(stamp: str) -> datetime | None:
    try:
        return datetime.strptime(stamp, _STAMP).replace(tzinfo=UTC)
    except ValueError:
        return None
