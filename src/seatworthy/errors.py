"""Every way in which Seatworthy says no to its user.

Each message says where, what was found, what was expected and what to do; none is a programmer's
slip (those are ``ValueError``). The command prints the message and leaves with ``exit_code``.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar


class PanelError(Exception):
    """Something in the user's data or files stands in the way; the message says what to do."""

    exit_code: ClassVar[int] = 1


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing to correct in a file.

    Attributes:
        line: Line of a text file or row of a sheet, counted from 1; None for the file as a whole.
        text: What was found and what was expected, one sentence.
    """

    line: int | None
    text: str

    def __str__(self) -> str:
        return self.text if self.line is None else f"line {self.line}: {self.text}"


class FileRefused(PanelError):
    """A file was not taken in; nothing of it was stored.

    Attributes:
        name: The file's name without its folder.
        faults: All that must be corrected, in the order of the file.
    """

    shown: ClassVar[int] = 40

    def __init__(self, name: str, faults: Sequence[Fault]) -> None:
        self.name = name
        self.faults = tuple(faults)
        super().__init__(str(self))

    def __str__(self) -> str:
        sentences = _grouped(self.faults)
        lines = [f"- {sentence}" for sentence in sentences[: self.shown]]
        if len(sentences) > self.shown:
            lines.append(f"- and {len(sentences) - self.shown} other faults; correct these first.")
        return "\n".join([f"{self.name} was not imported; correct these lines:", *lines])


def _grouped(faults: Sequence[Fault]) -> list[str]:
    """One sentence for each different fault, with the lines on which it stands."""
    lines: dict[str, list[int]] = {}
    for fault in faults:
        found = lines.setdefault(fault.text, [])
        if fault.line is not None and fault.line not in found:
            found.append(fault.line)
    return [f"{_where(found)}{text}" for text, found in lines.items()]


def _where(lines: Sequence[int], shown: int = 8) -> str:
    if not lines:
        return ""
    if len(lines) == 1:
        return f"line {lines[0]}: "
    listed = ", ".join(str(line) for line in lines[:shown])
    more = f" and {len(lines) - shown} more" if len(lines) > shown else ""
    return f"lines {listed}{more}: "


class DatesUndecided(FileRefused):
    """Every date of a file can be read day first or month first; one question decides."""


class StrangersInFile(FileRefused):
    """A file names people whom the record does not know; the leader says who they are."""


class StoreError(PanelError):
    """The store cannot be used as it is."""

    exit_code: ClassVar[int] = 2


class StoreReadOnly(StoreError):
    """The store lies where nothing can be written."""


class StoreBusy(StoreError):
    """Another process holds the store.

    Attributes:
        path: The store's file; None where only the sentence is known.
        process: Number of the process that holds it; None if the system does not tell.
        program: What that process runs, as the system names it; "" if it does not.
    """

    def __init__(
        self, message: str, path: Path | None = None, process: int | None = None, program: str = ""
    ) -> None:
        self.path, self.process, self.program = path, process, program
        super().__init__(message)


class StoreNewer(StoreError):
    """The store was written by a later version."""


class StoreDamaged(StoreError):
    """The store, a backup or the history in it does not add up."""


class RulebookRefused(FileRefused):
    """A rulebook cannot be used; its faults are listed with their lines."""

    def __str__(self) -> str:
        lines = [f"- {fault}" for fault in self.faults]
        return "\n".join([f"{self.name} cannot be used as a rulebook:", *lines])


class PlanRefused(PanelError):
    """A session cannot be planned as it was asked for; nothing was recorded.

    Attributes:
        faults: All that must be changed, a finished sentence each.
    """

    def __init__(self, faults: Sequence[str]) -> None:
        self.faults = tuple(faults)
        super().__init__(str(self))

    def __str__(self) -> str:
        lines = [f"- {fault}" for fault in self.faults]
        return "\n".join(["This plan can't be made yet:", *lines])
