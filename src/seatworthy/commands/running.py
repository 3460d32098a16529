"""Runs one command by its words: here, or where the store is open; no traceback reaches the user."""

import argparse
import sys
import tempfile
import traceback
from collections.abc import Sequence
from importlib.metadata import version
from pathlib import Path

from seatworthy.commands import SUMMARIES, command
from seatworthy.commands.command import Said
from seatworthy.commands.errand import done_by_owner, owner_of
from seatworthy.commands.explaining import explained
from seatworthy.commands.within import is_within
from seatworthy.errors import PanelError, StoreBusy, StoreError

DESCRIPTION = """\
Who may sit on a beer release panel, for which compounds, until when, and why.

Bring in what your panel answered, and every seat is worked out from each person's
own answers, under rules you can read aloud. Try it first on an invented brewery:

  seatworthy demo
"""

EPILOG = """\
The store is one file, panel.duckdb in this folder unless --store names another.
While its pages are open, other commands are done through them.

exit codes:
  0  done
  1  the file or the words need correcting; nothing of that file was stored
  2  the store cannot be used (in use, newer, damaged), or the command was not understood
  3  a fault of Seatworthy itself; a report was written for whoever mends it

The tool supports a decision; it never releases beer.
"""


class _OneSentence(argparse.ArgumentParser):
    """Says what is wrong in one sentence and where help is, instead of the whole usage."""

    def error(self, message: str) -> None:  # type: ignore[override]
        self.exit(2, f"{self.prog}: {message}. See: {self.prog} --help\n")


def parser(chosen: str | None) -> argparse.ArgumentParser:
    """The words of the command; those of one of its commands only if that is chosen."""
    top = _OneSentence(
        prog="seatworthy",
        description=DESCRIPTION,
        epilog=EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    top.add_argument("--version", action="version", version=f"seatworthy {version('seatworthy')}")
    commands = top.add_subparsers(dest="command", metavar="command", required=True)
    for name, summary in SUMMARIES.items():
        sub = commands.add_parser(
            name, help=summary, formatter_class=argparse.RawDescriptionHelpFormatter
        )
        if name == chosen:
            sub.description = command(name).description
            command(name).words(sub)
    return top


def run_words(words: Sequence[str]) -> int:
    """Run one command and return its exit code; what is wrong is said in a sentence."""
    try:
        chosen = next((word for word in words if word in SUMMARIES), None)
        said = parser(chosen).parse_args(words)
        return _run(said, words)
    except PanelError as error:
        print(error, file=sys.stderr)
        return error.exit_code
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:
        return 0
    except OSError as error:
        print(_about_file(error), file=sys.stderr)
        return 2
    except Exception:  # noqa: BLE001 - the last resort: a sentence and a report, never a traceback
        print(
            "Something went wrong inside Seatworthy; nothing half done was stored. "
            f"A report is in {_report()}.",
            file=sys.stderr,
        )
        return 3


def _run(said: Said, words: Sequence[str]) -> int:
    """Run a command here; if another process holds its store, let that one do it, or say why not."""
    chosen = command(said.command)
    if is_within() and chosen.is_alone:
        message = f"“{said.command}” can't be done where the store is open."
        raise StoreError(message)
    try:
        return chosen.run(said) or 0
    except StoreBusy as busy:
        if is_within() or busy.path is None:
            raise
        if not chosen.is_alone and (owner := owner_of(busy.path)) is not None:
            return done_by_owner(owner, busy.path, words)
        raise explained(busy, said.command, is_alone=chosen.is_alone) from busy


def _about_file(error: OSError) -> str:
    if error.filename is None:  # not a file of the user's: the report itself could not be printed
        return f"What was done could not be printed: {error.strerror or error}."
    return f"{error.filename}: {error.strerror or error}."


def _report() -> Path:
    with tempfile.NamedTemporaryFile(
        "w", prefix="seatworthy-report-", suffix=".txt", delete=False, encoding="utf-8"
    ) as file:
        traceback.print_exc(file=file)
    return Path(file.name)
