"""Words that the sentences of the history share."""

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import Any, Final

from seatworthy.steps.sentences import joined

Part = Mapping[str, Any]  # one row of the query history_parts
Teller = Callable[[Sequence[Part]], list[str]]

_NAMED: Final = 4  # more than this are counted
NO_REASON: Final = "no reason is kept"


def plain_day(day: date) -> str:
    """14 March 2026."""
    return f"{day.day} {day:%B} {day.year}"


def counted(number: int, one: str, many: str = "") -> str:
    """``1 glass``, ``3 people``."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def session_of(part: Part) -> str:
    """The session a part is about, with its day; where it is about more than one, that alone."""
    if part["session_on"] is None:
        return "several sessions"
    label = part["session_label"] or "a session"
    return f"{label} of {plain_day(part['session_on'])}"


def listed(part: Part) -> str:
    """Labels in a row, the first few of many."""
    labels = part["words"].split("|")
    if len(labels) <= _NAMED:
        return joined(labels)
    return f"{', '.join(labels[:_NAMED])} and {len(labels) - _NAMED} more"


def from_days(part: Part) -> str:
    """From when statements hold, as the end of a sentence; "" without a day."""
    first, last = part["first_on"], part["last_on"]
    if first is None:
        return ""
    if last is None or first == last:
        return f", from {plain_day(first)}"
    return f", from days between {plain_day(first)} and {plain_day(last)}"


def until_words(part: Part) -> str:
    """The last day, as the end of a sentence; "" without one."""
    return "" if part["last_on"] is None else f" until {plain_day(part['last_on'])}"


def stopped(sentence: str) -> str:
    """A sentence with its full stop, also where somebody else wrote its end."""
    return sentence if sentence.endswith((".", "!", "?")) else f"{sentence}."
