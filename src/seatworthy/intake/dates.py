"""Session dates: what each can mean, and the one order of day and month the whole file keeps."""

import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from seatworthy.errors import DatesUndecided, Fault
from seatworthy.intake.words import Unreadable, fold, quoted

ISO: Final = "iso"
DAY_FIRST: Final = "day first"
MONTH_FIRST: Final = "month first"
EARLIEST: Final = date(1970, 1, 1)

_MONTHS: Final = (
    *("january", "february", "march", "april", "may", "june"),
    *("july", "august", "september", "october", "november", "december"),
)
_ISO_DATE: Final = re.compile(r"([0-9]{4})([-/.])([0-9]{1,2})\2([0-9]{1,2})(?:[ T][0-9:.]+Z?)?")
_TWO_FIRST: Final = re.compile(
    r"([0-9]{1,2})\s?([-/.])\s?([0-9]{1,2})\s?\2\s?([0-9]{4})(?: [0-9:.]+)?"
)
_SHORT_YEAR: Final = re.compile(r"[0-9]{1,2}([-/. ])([0-9]{1,2}|[A-Za-z]+)\1'?[0-9]{2}")
_NAMED: Final = re.compile(r"([0-9]{1,2})(?:st|nd|rd|th)? ([a-z]{3,9}) ([0-9]{4})")
_NAMED_US: Final = re.compile(r"([a-z]{3,9}) ([0-9]{1,2})(?:st|nd|rd|th)? ([0-9]{4})")
_WEEKDAY: Final = re.compile(r"^(?:mon|tue|wed|thu|fri|sat|sun)[a-z]{0,6} ")


@dataclass(frozen=True, slots=True)
class _TwoWays:
    """A date whose first two numbers are day and month, in an order it may not tell."""

    first: int
    second: int
    year: int
    mark: str

    def read(self, order: str) -> date | None:
        day, month = (self.first, self.second)
        if order == MONTH_FIRST:
            day, month = month, day
        return _day(self.year, month, day)

    def asks_for(self) -> str | None:
        """The only order in which it can be a date; None if both will do, or neither."""
        orders = [order for order in (DAY_FIRST, MONTH_FIRST) if self.read(order)]
        return orders[0] if len(orders) == 1 else None

    def is_open(self) -> bool:
        """Whether the order changes its meaning."""
        readings = {self.read(DAY_FIRST), self.read(MONTH_FIRST)}
        return None not in readings and len(readings) == 2


@dataclass(frozen=True)
class Dates:
    """The dates of a column.

    Attributes:
        by_cell: Date by the text (or date) of its cell; cells with a fault are absent.
        order: "iso" if no date needed an order, else "day first" or "month first".
        why_not: Sentence by cell, for those with a fault.
    """

    by_cell: Mapping[str | date, date]
    order: str
    why_not: Mapping[str | date, str]


def read_dates(
    name: str,
    cells: Sequence[tuple[int, str | date]],
    today: date,
    order: str | None = None,
) -> Dates:
    """Read the dates of a file.

    Args:
        name: The file's name, for the message.
        cells: Line and content of every filled cell.
        today: No session can be later.
        order: "day first" or "month first" where the user has said so ("-" will do for the space).

    Raises:
        DatesUndecided: if nothing in the file tells day from month.
        ValueError: if `order` is neither.
    """
    if order is not None and order.replace("-", " ") not in (DAY_FIRST, MONTH_FIRST):
        message = f"order must be {DAY_FIRST!r} or {MONTH_FIRST!r}, got {order!r}"
        raise ValueError(message)
    first_line = {cell: line for line, cell in reversed(cells)}
    meanings, why_not = _meanings(sorted(first_line, key=first_line.__getitem__))
    both = {cell: meaning for cell, meaning in meanings.items() if isinstance(meaning, _TwoWays)}
    chosen = order.replace("-", " ") if order else _order_of(name, both, cells, first_line)
    if both and any(isinstance(cell, date) for cell in meanings):
        why_not |= {cell: _half_converted(cell) for cell in both}
    by_cell: dict[str | date, date] = {}
    for cell, meaning in meanings.items():
        if cell in why_not:
            continue
        found = meaning.read(chosen) if isinstance(meaning, _TwoWays) else meaning
        wrong = _wrong(cell, found, chosen, today)
        if wrong:
            why_not[cell] = wrong
        elif found is not None:
            by_cell[cell] = found
    return Dates(by_cell, chosen if both else ISO, why_not)


def _meanings(
    cells: Iterable[str | date],
) -> tuple[dict[str | date, date | _TwoWays], dict[str | date, str]]:
    """What each cell can mean, or why it means nothing."""
    meanings: dict[str | date, date | _TwoWays] = {}
    why_not: dict[str | date, str] = {}
    for cell in cells:
        try:
            meanings[cell] = cell if isinstance(cell, date) else _meaning(cell)
        except Unreadable as fault:
            why_not[cell] = str(fault)
    return meanings, why_not


def _order_of(
    name: str,
    both: Mapping[str | date, _TwoWays],
    cells: Sequence[tuple[int, str | date]],
    first_line: Mapping[str | date, int],
) -> str:
    """The order that the unmistakable dates of the file ask for; of two, that of the most."""
    counts = Counter(cell for _, cell in cells if cell in both)
    votes: Counter[str] = Counter()
    for cell, meaning in both.items():
        asked = meaning.asks_for()
        if asked:
            votes[asked] += counts[cell]
    if votes:
        return votes.most_common(1)[0][0]
    undecided = [cell for cell, meaning in both.items() if meaning.is_open()]
    if undecided and not all(both[cell].mark == "." for cell in undecided):
        cell = undecided[0]
        text = (
            f"{quoted(cell)} may be {_spoken(both[cell].read(DAY_FIRST))} or "
            f"{_spoken(both[cell].read(MONTH_FIRST))}, and no other date decides; "
            "say --dates day-first or --dates month-first."
        )
        raise DatesUndecided(name, [Fault(first_line[cell], text)])
    return DAY_FIRST


def _meaning(text: str) -> date | _TwoWays:
    plain = unicodedata.normalize("NFKC", text).strip()
    if match := _ISO_DATE.fullmatch(plain):
        found = _day(int(match[1]), int(match[3]), int(match[4]))
        if found is None:
            raise Unreadable(_no_such_day(text))
        return found
    if match := _TWO_FIRST.fullmatch(plain):
        return _TwoWays(int(match[1]), int(match[3]), int(match[4]), match[2])
    if _SHORT_YEAR.fullmatch(plain):
        message = f"needs a year of four digits, got {quoted(text)}."
        raise Unreadable(message)
    return _named(text)


def _named(text: str) -> date:
    plain = _WEEKDAY.sub("", fold(text[:60]))
    match, us_match = _NAMED.fullmatch(plain), _NAMED_US.fullmatch(plain)
    if match is None and us_match is None:
        message = f"must be a date like 2026-03-05, got {quoted(text)}."
        raise Unreadable(message)
    day, word, year = match.groups() if match else (us_match[2], us_match[1], us_match[3])
    months = [n for n, month in enumerate(_MONTHS, start=1) if _is_short_for(word, month)]
    if not months:
        message = f"must name a month in English, got {quoted(text)}; write it like 2026-03-05."
        raise Unreadable(message)
    found = _day(int(year), months[0], int(day))
    if found is None:
        raise Unreadable(_no_such_day(text))
    return found


def _is_short_for(word: str, month: str) -> bool:
    return month.startswith(word) or (word == "sept" and month == "september")


def _day(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _wrong(cell: str | date, found: date | None, order: str, today: date) -> str | None:
    if found is None:
        other = MONTH_FIRST if order == DAY_FIRST else DAY_FIRST
        meaning = _meaning(str(cell))
        if isinstance(meaning, _TwoWays) and meaning.read(other):
            return (
                f"is {other}, while the file is read {order}: {quoted(cell)}; write every date of the "
                "file alike, best like 2026-03-05."
            )
        return _no_such_day(cell)
    if found > today:
        return f"lies in the future: {quoted(cell)}; correct the day, since results come from sessions held."
    if found < EARLIEST:
        return f"lies before {EARLIEST.year}: {quoted(cell)}; correct the year."
    return None


def _no_such_day(cell: object) -> str:
    return f"is no day of the calendar: {quoted(cell)}; correct it, like 2026-03-05."


def _half_converted(cell: object) -> str:
    return (
        f"is text ({quoted(cell)}) while other cells are real dates: a spreadsheet may have turned "
        "some of them the wrong way round. Check the column and write every date like 2026-03-05."
    )


def _spoken(day: date | None) -> str:
    return "" if day is None else f"{day.day} {_MONTHS[day.month - 1].capitalize()} {day.year}"
