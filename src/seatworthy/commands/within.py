"""A command that another process asked for, run at the desk that this process holds."""

import io
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from contextvars import ContextVar
from dataclasses import dataclass, field
from getpass import getpass
from pathlib import Path
from typing import Final, TextIO

from seatworthy.errors import PanelError
from seatworthy.steps.desk import Desk, lent

OUT: Final = "out"
ERR: Final = "err"
LONGEST_OUTPUT: Final = 24 * 2**20  # letters
_TOO_LONG = (
    "More was to be printed than can be handed over. Ask for less, write it into a file (--to), or "
    "stop the pages (Ctrl+C) and say this again."
)


@dataclass
class Errand:
    """What was asked, and what it has printed.

    Attributes:
        desk: The open desk of this process.
        folder: In which the asking process was called.
        ask: Asks its person something that is not shown while it is typed.
    """

    desk: Desk
    folder: Path
    ask: Callable[[str], str]
    _printed: list[tuple[str, list[str]]] = field(default_factory=list)
    _letters: int = 0

    def keep(self, stream: str, text: str) -> None:
        """Keep what is printed.

        Raises:
            PanelError: if it gets too much.
        """
        self._letters += len(text)
        if self._letters > LONGEST_OUTPUT and stream == OUT:
            raise PanelError(_TOO_LONG)
        if not self._printed or self._printed[-1][0] != stream:
            self._printed.append((stream, []))
        self._printed[-1][1].append(text)

    def handed_over(self) -> list[tuple[str, str]]:
        """What was printed since this was asked last, each piece with the stream it went to."""
        taken, self._printed = self._printed, []
        return [(stream, "".join(texts)) for stream, texts in taken]


_ERRAND: ContextVar[Errand | None] = ContextVar("errand", default=None)


def is_within() -> bool:
    """Whether another process asked for what is done here."""
    return _ERRAND.get() is not None


def lent_desk() -> Desk | None:
    """The desk at which another process's command is done; None for a command of one's own."""
    errand = _ERRAND.get()
    return None if errand is None else lent(errand.desk)


def callers_folder() -> Path:
    """The folder in which the command was called; paths are read from there."""
    errand = _ERRAND.get()
    return Path.cwd() if errand is None else errand.folder


def ask_hidden(prompt: str) -> str:
    """Ask in the terminal for what must not be shown; ask before anything is recorded."""
    errand = _ERRAND.get()
    return getpass(prompt) if errand is None else errand.ask(prompt)


def carried_out(errand: Errand, run: Callable[[Sequence[str]], int], words: Sequence[str]) -> int:
    """Run a command as if it had been called alone, keeping what it prints; its exit code.

    Whatever other threads print meanwhile goes where it always goes.
    """
    token = _ERRAND.set(errand)
    try:
        with _sorted_streams():
            return run(words)
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else 2
    finally:
        _ERRAND.reset(token)


class _Sorted(io.TextIOBase):
    """A stream that keeps what an errand prints, and passes on what others do."""

    encoding = "utf-8"  # type: ignore[assignment]

    def __init__(self, stream: str, otherwise: TextIO) -> None:
        self._stream, self._otherwise = stream, otherwise

    def write(self, text: str) -> int:
        errand = _ERRAND.get()
        if errand is None:
            return self._otherwise.write(text)
        errand.keep(self._stream, text)
        return len(text)

    def flush(self) -> None:
        if _ERRAND.get() is None:
            self._otherwise.flush()


@contextmanager
def _sorted_streams() -> Iterator[None]:
    out, err = _Sorted(OUT, sys.stdout), _Sorted(ERR, sys.stderr)
    with redirect_stdout(out), redirect_stderr(err):
        yield
