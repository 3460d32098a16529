"""A store that is held as the pages hold it: with its note beside it, and commands taken in."""

from contextlib import contextmanager

from seatworthy.cli import main
from seatworthy.commands.owning import taking_commands
from seatworthy.steps.desk import held_desk, let_go

ADDRESS = "http://127.0.0.1:8501"


@contextmanager
def held(store, address=ADDRESS, *, is_lan=False):
    """The desk of a process that has this store open."""
    desk = held_desk(store)
    try:
        with taking_commands(desk, address, is_lan=is_lan):
            yield desk
    finally:
        let_go(desk)


def said(capsys, *words):
    """Exit code, and what a command prints on either stream."""
    code = main([str(word) for word in words])
    out, err = capsys.readouterr()
    return code, out, err
