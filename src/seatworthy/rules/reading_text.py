"""A rulebook's TOML with the lines of its parts and the faults found so far."""

import re
import tomllib
from collections.abc import Collection, Iterable
from datetime import date
from difflib import get_close_matches
from typing import Any, Final

from seatworthy.errors import Fault, RulebookRefused
from seatworthy.rules.reading_lines import Path, lines_of_values

LONGEST_SHOWN: Final = 40
_LONGEST_REASON: Final = 200
LONGEST_LINE: Final = 2000  # characters; longer keys take the reading very long
_HALF_LETTER: Final = re.compile("[\ud800-\udfff]")  # what is left of bytes that were no text
_BYTE_ORDER_MARK: Final = "\ufeff"


class RulebookText:
    """What a rulebook's file says.

    Attributes:
        name: The file's name, for messages.
        found: Its tables.
        faults: What was blamed so far.
    """

    def __init__(self, name: str, text: str) -> None:
        self.name = name
        self.faults: list[Fault] = []
        text = text.removeprefix(_BYTE_ORDER_MARK)
        self.found = self._parsed(text)
        self._lines = lines_of_values(text)

    def _parsed(self, text: str) -> dict[str, Any]:
        for number, line in enumerate(text.splitlines(), start=1):
            if len(line) > LONGEST_LINE:
                sentence = f"this line has {len(line)} characters; break it up, at most {LONGEST_LINE} are read."
                raise RulebookRefused(self.name, [Fault(number, sentence)])
            if _HALF_LETTER.search(line):
                sentence = "this line holds half a letter, which can't be stored; write it again."
                raise RulebookRefused(self.name, [Fault(number, sentence)])
        try:
            return tomllib.loads(text)
        except (ValueError, ArithmeticError, RecursionError) as error:
            place = re.search(r"line (\d+)", str(error))
            what = "it is nested too deeply" if isinstance(error, RecursionError) else str(error)
            what = what if len(what) <= _LONGEST_REASON else f"{what[:_LONGEST_REASON]} ..."
            sentence = (
                f"not readable as TOML: {what}. Write a key as key = value, a text in "
                "quotation marks, a section as [section], and a key only once in its section."
            )
            number = int(place[1]) if place else None
            fault = Fault(number, f"{sentence}{_hint(text, number)}")
            raise RulebookRefused(self.name, [fault]) from error

    def blame(self, path: Path, sentence: str) -> None:
        """Note a fault on the line of a value, or of the nearest table around it."""
        self.faults.append(Fault(self.line_of(path), sentence))

    def line_of(self, path: Path) -> int | None:
        """Line of a value, or of the nearest table around it; None for the file as a whole."""
        for end in range(len(path), 0, -1):
            if path[:end] in self._lines:
                return self._lines[path[:end]]
        return None

    def refuse_if_blamed(self) -> None:
        """Stop with all faults, in the order of the file.

        Raises:
            RulebookRefused: if there are any.
        """
        if self.faults:
            ordered = sorted(self.faults, key=lambda fault: fault.line or 0)
            raise RulebookRefused(self.name, ordered)


def shown(value: object) -> str:
    """A value as a message quotes it, shortened; tables and lists are only named."""
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return f"a list of {len(value)}" if value else "an empty list"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, int) and value.bit_length() > 100:
        return "a number of very many digits"
    return value.isoformat() if isinstance(value, date) else str(value)


def quoted(word: str) -> str:
    """A word in quotation marks, on one line and shortened."""
    plain = "".join(sign if sign.isprintable() else " " for sign in word)
    return f'"{plain if len(plain) <= LONGEST_SHOWN else plain[:LONGEST_SHOWN] + "..."}"'


def nearest(word: str, known: Collection[str]) -> str:
    """The known word that looks most like another, as a question; "" if none does."""
    close = get_close_matches(word[:LONGEST_SHOWN], sorted(known), n=1)
    return f" Did you mean {close[0]}?" if close else ""


def listed(words: Iterable[str]) -> str:
    """Words one after another, with commas."""
    return ", ".join(words)


def _hint(text: str, number: int | None) -> str:
    """What the line that stopped the reading was probably meant to be."""
    lines = text.splitlines()
    line = lines[number - 1].split("#")[0] if number and number <= len(lines) else ""
    if re.search(r"\d{1,2}[./]\d{1,2}[./]\d{2,4}", line):
        return " A day is written year first: 2026-03-14."
    if "%" in line:
        return " A share is written as a part of 1: 0.85 for 85 %."
    if re.search(r"\d,\d", line):
        return " A decimal point is a point: 0.85."
    return ""
