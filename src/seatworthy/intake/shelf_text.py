"""TOML tables with the lines they stand on: values are asked for, what will not do is blamed."""

import re
import tomllib
from collections.abc import Callable, Iterator
from datetime import date, datetime
from decimal import Decimal
from typing import Any, Final, Self

from seatworthy.errors import Fault, FileRefused
from seatworthy.intake.words import Unreadable, quoted, read_label

_HEAD: Final = re.compile(r"\s*\[\[?\s*([^\[\],]+?)\s*\]\]?\s*(?:#.*)?")
_ABSENT: Final = object()
_LONGEST_REASON: Final = 200
_MOST_POINTS: Final = 1000  # in one line; a key of very many parts takes the reading very long
_EARLIEST: Final = date(1900, 1, 1)
_LATEST: Final = date(2200, 1, 1)  # an earlier or later day is a slip of the keys
_WRITTEN_SO: Final = (
    "Write a key as key = value, a text in quotation marks, a table as [table], and a key only once "
    "in its table."
)


class ShelfText:
    """A TOML text.

    Attributes:
        name: The file's name, for messages.
        found: What it says.
        faults: What was blamed so far.
    """

    def __init__(self, name: str, text: str) -> None:
        self.name = name
        self.faults: list[Fault] = []
        self._lines = text.splitlines()
        self._places: dict[tuple[str, int], int] = {}
        counts: dict[str, int] = {}
        for index, line in enumerate(self._lines):
            if match := _HEAD.fullmatch(line):
                head = re.sub(r"[\"'\s]", "", match[1])
                self._places[head, counts.get(head, 0)] = index
                counts[head] = counts.get(head, 0) + 1
        self.found = self._parsed(text)

    def _parsed(self, text: str) -> dict[str, Any]:
        for number, line in enumerate(self._lines, start=1):
            if (points := line.count(".")) > _MOST_POINTS:
                sentence = f"holds {points} points; break it up, at most {_MOST_POINTS} are read."
                raise FileRefused(self.name, [Fault(number, sentence)])
        try:
            return tomllib.loads(text, parse_float=Decimal)
        except (ValueError, ArithmeticError, RecursionError) as error:
            place = re.search(r"line (\d+)", str(error))
            what = "it is nested too deeply" if isinstance(error, RecursionError) else str(error)
            what = what if len(what) <= _LONGEST_REASON else f"{what[:_LONGEST_REASON]} ..."
            sentence = f"cannot be read as TOML: {what}. {_WRITTEN_SO}"
            fault = Fault(int(place[1]) if place else None, sentence)
            raise FileRefused(self.name, [fault]) from error

    def blame(self, line: int | None, text: str) -> None:
        """Note a fault."""
        self.faults.append(Fault(line, text))

    def line_of(self, head: str, nth: int, key: str | None = None) -> int | None:
        """Line of a key in the nth table headed so, else of the table, else None."""
        start = self._places.get((head, nth), self._places.get((head, 0)))
        if start is None:
            return self._line_of_key(0, head)
        return (key and self._line_of_key(start + 1, key)) or start + 1

    def _line_of_key(self, start: int, key: str) -> int | None:
        for index in range(start, len(self._lines)):
            line = self._lines[index]
            if re.match(rf"\s*[\"']?{re.escape(key)}[\"']?\s*=", line):
                return index + 1
            if start and _HEAD.fullmatch(line):
                break
        return None

    def listed(self, head: str) -> Iterator["Entry"]:
        """The tables of a list of tables; none if the file does not speak of it."""
        tables = self.found.get(head, [])
        if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
            self.blame(
                self.line_of(head, 0), f"{head} must be written as [[{head}]], once for each."
            )
            return
        for nth, table in enumerate(tables):
            yield Entry(self, head, nth, table)

    def single(self, head: str) -> "Entry | None":
        """The one table headed so; None if the file does not speak of it."""
        table = self.found.get(head, {})
        if not isinstance(table, dict):
            self.blame(self.line_of(head, 0), f"{head} must be a table, written as [{head}].")
            return None
        return Entry(self, head, 0, table) if head in self.found else None

    def named(self, head: str) -> Iterator[tuple[str, "Entry"]]:
        """The tables below one head, each with its name, as in [beer_families.pale_lager]."""
        tables = self.found.get(head, {})
        if not isinstance(tables, dict) or not all(isinstance(t, dict) for t in tables.values()):
            self.blame(self.line_of(head, 0), f"{head} must be written as [{head}.some_key].")
            return
        for key, table in tables.items():
            yield key, Entry(self, f"{head}.{key}", 0, table)


class Entry:
    """One table of a shelf file; use it in a ``with`` block, which blames keys nobody asked for.

    Attributes:
        line: Where it stands.
    """

    def __init__(self, shelf: ShelfText, head: str, nth: int, table: dict[str, Any]) -> None:
        self._shelf, self._head, self._nth, self._table = shelf, head, nth, table
        self._asked: dict[str, None] = {}
        self._is_whole = True
        self.line = shelf.line_of(head, nth)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        known = ", ".join(self._asked)
        for key in self._table.keys() - self._asked.keys():
            self.blame(key, f"{quoted(key)} is not known in [{self._head}]; it knows {known}.")

    @property
    def is_whole(self) -> bool:
        """Whether nothing in it was blamed so far."""
        return self._is_whole

    def blame(self, key: str | None, text: str) -> None:
        """Note a fault at the line of a key."""
        self._is_whole = False
        self._shelf.blame(self._shelf.line_of(self._head, self._nth, key), text)

    def has(self, key: str) -> bool:
        """Whether it speaks of this."""
        self._asked[key] = None
        return key in self._table

    def value(self, key: str, kinds: tuple[type, ...], meant: str) -> Any:  # noqa: ANN401 - TOML
        """The value of a key, of one of these types; None, and blamed, if there is none such."""
        self._asked[key] = None
        found = self._table.get(key, _ABSENT)
        if found is _ABSENT:
            self.blame(key, f"{key} is missing; write {meant}.")
        elif not isinstance(found, kinds) or isinstance(found, bool):
            self.blame(key, f"{key} must be {meant}, got {quoted(found)}.")
        else:
            return found
        return None

    def text(self, key: str, reader: Callable[[str], Any] = read_label) -> Any:  # noqa: ANN401
        """What a reader makes of a text; None, and blamed, if it cannot."""
        found = self.value(key, (str,), "a text in quotation marks")
        if found is None:
            return None
        try:
            read = reader(found)
        except Unreadable as fault:
            self.blame(key, f"{key} {fault}")
            return None
        if read == "":
            self.blame(key, f"{key} is empty.")
            return None
        return read

    def number(self, key: str, low: int, high: int) -> Decimal | None:
        """A number between two limits; None, and blamed, if it is not."""
        found = self.value(key, (int, Decimal), "a number without quotation marks")
        if found is None:
            return None
        number = Decimal(found) if isinstance(found, Decimal) or abs(found) < 10**12 else None
        if number is None or not number.is_finite() or not low <= number <= high:
            self.blame(key, f"{key} must lie between {low} and {high}, got {quoted(found)}.")
            return None
        return number

    def day(self, key: str) -> date | None:
        """A day; None, and blamed, if it is none, or one that nobody can mean."""
        found = self.value(key, (date,), "a day without quotation marks, like 2026-03-05")
        day = found.date() if isinstance(found, datetime) else found
        if day is not None and not _EARLIEST <= day <= _LATEST:
            self.blame(key, f"{key} must lie between {_EARLIEST} and {_LATEST}, got {day}.")
            return None
        return day

    def texts(self, key: str) -> list[Any]:
        """A list, which may be left out."""
        if not self.has(key):
            return []
        return self.value(key, (list,), "a list in square brackets") or []
