"""Puts a backup in the place of a store: checked first, nothing overwritten unasked, nothing lost."""

import shutil
from datetime import UTC, datetime
from pathlib import Path

from seatworthy.errors import StoreBusy, StoreError
from seatworthy.store.anonymous_mark import carry_over
from seatworthy.store.connecting import connect
from seatworthy.store.copying import (
    Manifest,
    check_copy,
    discard,
    manifest_path,
    settle,
    unfinished,
)


def restore(backup: Path, target: Path, *, replace: bool = False) -> Manifest:
    """Put a checked backup in the place of a store.

    The new file is written and checked before the old one is moved, so that a full disk or a
    killed process leaves the old store where it was, or aside under its new name.

    Args:
        backup: The backup; its manifest must lie beside it.
        target: Where the store shall be.
        replace: Whether a store that is there may be moved aside (it is kept, never deleted).

    Raises:
        StoreError: if the backup does not match or its history does not add up, the target is in the
            way or in use.
    """
    if not backup.is_file():
        message = f"There is no backup {backup}."
        raise StoreError(message)
    manifest = Manifest.read(manifest_path(backup))
    check_copy(backup, manifest, with_history=True)
    _refuse_in_use(target, replace=replace)
    part = unfinished(target)
    try:
        shutil.copyfile(backup, part)
        check_copy(part, manifest)
        carry_over(backup, target)  # who was made anonymous since is so again when it is opened
        _move_aside(target)
        settle(part, target)
    except OSError as error:
        message = f"{target} could not be restored ({error.strerror}); what was there is kept."
        raise StoreError(message) from error
    finally:
        discard(part)
    return manifest


def _refuse_in_use(target: Path, *, replace: bool) -> None:
    if not target.exists():
        return
    if not replace:
        message = (
            f"{target} exists already. Say --replace to move it aside (it is kept), "
            "or restore into another file."
        )
        raise StoreError(message)
    try:
        connect(target).close()  # settles its write-ahead log, if it still can be opened
    except StoreBusy:
        raise
    except StoreError:
        return  # damaged is what restoring is for; it is moved aside unopened


def _move_aside(target: Path) -> None:
    """Rename a store, and a write-ahead log left beside it, under the moment."""
    stamp = datetime.now(UTC).strftime("%Y%m%d-%H%M%S-%f")
    log = target.with_name(target.name + ".wal")
    aside = target.with_name(f"{target.stem}.before-restore-{stamp}{target.suffix}")
    if target.exists():
        target.rename(aside)
    if log.exists():
        log.rename(aside.with_name(aside.name + ".wal"))
