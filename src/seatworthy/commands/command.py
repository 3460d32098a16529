"""What a command is, and the words that many share."""

import argparse
import sys
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from seatworthy.errors import StoreError
from seatworthy.steps.desk import Desk, open_desk, store_path
from seatworthy.steps.safekeeping import folder_warning

Said = argparse.Namespace


@dataclass(frozen=True)
class Command:
    """One command.

    Attributes:
        description: What stands above its own help.
        words: Adds its words to a parser.
        run: Does it; returns an exit code, or None for 0.
    """

    description: str
    words: Callable[[argparse.ArgumentParser], None]
    run: Callable[[Said], int | None]


def store_word(parser: argparse.ArgumentParser) -> None:
    """Add --store."""
    parser.add_argument(
        "--store",
        metavar="FILE",
        help="the store (default: $SEATWORTHY_STORE, else panel.duckdb in this folder)",
    )


def desk_of(said: Said) -> Desk:
    """Open the store that is meant, with a warning if it lies where it should not."""
    path = store_path(said.store)
    if warning := folder_warning(path):
        print(warning, file=sys.stderr)
    return open_desk(path)


def existing_desk_of(said: Said) -> Desk:
    """Like `desk_of`, for commands that need a store to be there already.

    Raises:
        StoreError: if there is none; a reading command makes no empty store by mistake.
    """
    path = store_path(said.store)
    if not path.exists():
        message = (
            f"There is no store {path}. Bring in a results file first: "
            "seatworthy import results.csv. Or try: seatworthy demo."
        )
        raise StoreError(message)
    return desk_of(said)


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
    """A path from the command line, with ~ for the home folder."""
    return Path(text).expanduser()
