"""While pages are open: the note beside the store, and the hatch it leads to."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager

from seatworthy.commands.hatch import Hatch
from seatworthy.commands.note import KeptNote, Note
from seatworthy.commands.running import run_words
from seatworthy.steps.desk import Desk

_NO_NOTE = (
    "Warning: no note could be written beside {store} ({why}); other commands must wait until these "
    "pages are closed."
)
_WAITING = "A command from another terminal is being finished."


@contextmanager
def taking_commands(desk: Desk, address: str, *, is_lan: bool) -> Iterator[None]:
    """Let commands of this machine be done at the held desk, as long as this lasts.

    The note goes last, when nothing is taken in any more.

    Args:
        desk: The held desk.
        address: Of the pages, for a browser on this machine.
        is_lan: Whether phones may come.
    """
    hatch = Hatch(desk, run_words)
    kept = None
    try:
        note = Note.of_this_process(address, hatch.port, hatch.secret, is_lan=is_lan)
        kept = KeptNote(desk.store.path, note)
    except OSError as error:
        print(_NO_NOTE.format(store=desk.store.path, why=error.strerror), file=sys.stderr)
    try:
        yield
    finally:
        if hatch.is_at_work:
            print(_WAITING, flush=True)
        try:
            hatch.close()
        finally:
            if kept is not None:
                kept.take_away()
