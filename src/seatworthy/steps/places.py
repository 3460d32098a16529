"""Where a store should not lie: what copies it while it is written, or lets two machines in at once."""

import os
import re
from collections.abc import Iterable
from pathlib import Path
from typing import Final

from seatworthy.steps.mounts import NETWORK, REMOVABLE, Mount, drive_kind

_SYNC_FOLDERS: Final = re.compile(
    "(?:dropbox|onedrive|google ?drive|icloud|icloud ?drive|nextcloud|owncloud|syncthing|pcloud|pcloud ?drive"
    "|mega|megasync|cloudstorage|mobile documents)(?![a-z])"
)
# What such programs leave in the folders they own, whatever these are called; from memory. In
# somebody's home a folder .dropbox only holds settings.
_SYNC_MARKS: Final = (".stfolder", ".dropbox.cache", ".owncloudsync.log", ".nextcloudsync.log")
_SYNC_FILES: Final = (".dropbox",)

_SYNCED = (
    "{path} lies in “{part}”, a folder that a sync program copies while it is being written; a copy "
    "taken in the middle is no store. Keep the store in a plain folder and put backups there instead."
)
_ON_NETWORK = (
    "{path} lies on a drive of the network. There a lock may fail to keep a second machine out, and a "
    "broken connection may damage the store. Keep it on this machine and put backups there instead."
)
_PULLED_OUT = (
    "{path} lies on a drive that can be pulled out. Stop Seatworthy before you do; and better keep the "
    "store on this machine and put backups there."
)


def place_warnings(path: Path, mounts: Iterable[Mount] | None = None) -> tuple[str, ...]:
    """What is wrong with where a store lies, a sentence each; empty where nothing is.

    Args:
        path: The store.
        mounts: What hangs where; None to ask this system.
    """
    folder = path.resolve().parent
    found = []
    if part := _synced_part(folder):
        found.append(_SYNCED.format(path=path, part=part))
    kind = drive_kind(folder, mounts)
    if kind == NETWORK:
        found.append(_ON_NETWORK.format(path=path))
    elif kind == REMOVABLE:
        found.append(_PULLED_OUT.format(path=path))
    return tuple(found)


def is_on_network(path: Path) -> bool:
    """Whether another machine may have the same file open."""
    return drive_kind(path.resolve().parent) == NETWORK


def _synced_part(folder: Path) -> str:
    """The folder of a sync program in which another lies; "" if there is none."""
    named = os.environ.get("ONEDRIVE") or ""  # Windows knows it in any case
    for above in reversed([folder, *folder.parents]):
        is_named = named and above == Path(named).resolve()
        if is_named or _SYNC_FOLDERS.match(above.name.casefold()) or _is_marked(above):
            return above.name
    return ""


def _is_marked(folder: Path) -> bool:
    marks, files = [folder / name for name in _SYNC_MARKS], [folder / name for name in _SYNC_FILES]
    return any(mark.exists() for mark in marks) or any(file.is_file() for file in files)
