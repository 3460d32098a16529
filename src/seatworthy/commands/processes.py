"""What the system tells of another process; where it tells nothing, nothing is said."""

import os
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Final

_PROC: Final = Path("/proc")
_STARTED: Final = 19  # of the words after the name; field 22 of proc(5), stat
_SHOWN: Final = 60  # letters


@dataclass(frozen=True)
class RunningProcess:
    """A process.

    Attributes:
        name: What it runs, in a few words.
        started_at: When it started; None if that can't be told.
    """

    name: str
    started_at: datetime | None


def running_process(process: int, proc: Path = _PROC) -> RunningProcess | None:
    """What Linux tells of a process; None elsewhere, or if there is none of that number.

    Args:
        process: Its number.
        proc: Where Linux keeps them.
    """
    folder = proc / str(process)
    try:
        called = (folder / "cmdline").read_bytes().decode("utf-8", "replace").split("\0")
        words = (folder / "stat").read_text("utf-8", "replace").rpartition(")")[2].split()
        boot = (proc / "stat").read_text("ascii", "replace")
    except OSError:
        return None
    return RunningProcess(_name([word for word in called if word]), _started(words, boot))


def _name(called: list[str]) -> str:
    """Seatworthy's own command, else the program and, of an interpreter, what it reads."""
    for place, word in enumerate(called):
        if Path(word).name == "seatworthy" or word == "seatworthy.cli":
            return _plain(" ".join(["seatworthy", *called[place + 1 : place + 2]]))
    shown = [Path(word).name for word in called[:2] if not word.startswith("-")]
    return _plain(" ".join(shown))


def _plain(text: str) -> str:
    """A few letters that do nothing to a terminal."""
    return "".join(letter if letter.isprintable() else "?" for letter in text)[:_SHOWN]


def _started(words: list[str], boot: str) -> datetime | None:
    since_boot = [line.split()[1] for line in boot.splitlines() if line.startswith("btime ")]
    try:
        ticks = int(words[_STARTED]) / os.sysconf("SC_CLK_TCK")
        return datetime.fromtimestamp(int(since_boot[0]), UTC) + timedelta(seconds=ticks)
    except (IndexError, ValueError, OSError, AttributeError):
        return None
