"""What a command is, and the words that many share."""

import argparse
import sys
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from seatworthy.commands.explaining import check_free
from seatworthy.commands.within import callers_folder, lent_desk
from seatworthy.errors import StoreError
from seatworthy.steps.desk import Desk, open_desk, store_path
from seatworthy.steps.places import place_warnings

Said = argparse.Namespace


@dataclass(frozen=True)
class Command:
    """One command.

    Attributes:
        description: What stands above its own help.
        words: Adds its words to a parser.
        run: Does it; returns an exit code, or None for 0.
        is_alone: Whether it needs the store for itself. Any other is done where the store is open, by
            the process that holds it: it gets its desk from `desk_of`, its paths from `as_path`, and
            asks by `within.ask_hidden`, before anything is recorded.
    """

    description: str
    words: Callable[[argparse.ArgumentParser], None]
    run: Callable[[Said], int | None]
    is_alone: bool = False


def store_word(parser: argparse.ArgumentParser) -> None:
    """Add --store."""
    parser.add_argument(
        "--store",
        metavar="FILE",
        help="the store (default: $SEATWORTHY_STORE, else panel.duckdb in this folder)",
    )


def meant_store(said: Said) -> Path:
    """The store that is meant; where the command is done for another process, the one held here."""
    lent = lent_desk()
    return store_path(said.store) if lent is None else lent.store.path


def desk_of(said: Said, *, may_only_read: bool = False) -> Desk:
    """The store that is meant, open, with a warning if it lies where it should not.

    Args:
        said: The words of the command.
        may_only_read: Whether a store is opened for reading where nothing can be written.

    Raises:
        StoreBusy: if another process holds it; whoever runs the command then asks that one.
    """
    if (lent := lent_desk()) is not None:
        return lent
    path = meant_store(said)
    warn_of_place(path)
    check_free(path)
    desk = open_desk(path, may_only_read=may_only_read)
    say_what_was_kept(desk)
    return desk


def say_what_was_kept(desk: Desk) -> None:
    """Say, where it is no answer to the command, that a store of an earlier version was brought on."""
    if kept := desk.store.kept_before_upgrade:
        print(
            f"{desk.store.path} was of an earlier version and has its new tables now; a copy of it as "
            f"it was is kept: {kept}",
            file=sys.stderr,
        )


def warn_of_place(path: Path) -> None:
    """Say, where it is no answer to the command, what is wrong with where a store lies."""
    for sentence in place_warnings(path):
        print(f"Warning: {sentence}", file=sys.stderr)


def existing_desk_of(said: Said) -> Desk:
    """Like `desk_of`, for commands that need a store to be there already.

    Raises:
        StoreError: if there is none; a reading command makes no empty store by mistake.
    """
    path = meant_store(said)
    if not path.exists():
        message = (
            f"There is no store {path}. Bring in a results file first: "
            "seatworthy import results.csv. Or try: seatworthy demo."
        )
        raise StoreError(message)
    return desk_of(said, may_only_read=True)


def as_day(text: str) -> date:
    """A day from the command line.

    Raises:
        argparse.ArgumentTypeError: if it is not like 2026-03-14.
    """
    try:
        return date.fromisoformat(text)
    except ValueError:
        message = f"“{text}” is not a day like 2026-03-14"
        raise argparse.ArgumentTypeError(message) from None


def as_path(text: str) -> Path:
    """A path from the command line, from the folder it was called in; with ~ for the home folder."""
    return callers_folder() / Path(text).expanduser()
