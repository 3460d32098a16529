"""How names, numbers, days and times stand in the sentences of a plan."""

from collections.abc import Sequence
from datetime import date, datetime
from decimal import Decimal


def listed(names: Sequence[str]) -> str:
    """Names in a row: Ada; Ada and Bo; Ada, Bo and Carmen."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def plain(number: Decimal | int) -> str:
    """A number without needless zeros: 5, 4.8, 100."""
    found = Decimal(number)
    return f"{found.normalize():f}" if found.is_finite() else str(found)


def times(level: Decimal) -> str:
    """A level: 3×."""
    return f"{plain(level)}×"


def counted(number: int, thing: str) -> str:
    """A count with its thing: 1 glass, 5 glasses."""
    if number == 1:
        return f"1 {thing}"
    return f"{number} {thing}{'es' if thing.endswith('s') else 's'}"


def people_words(number: int) -> str:
    """1 person, 9 people."""
    return "1 person" if number == 1 else f"{number} people"


def day_words(day: date) -> str:
    """A day in full: 12 November 2026."""
    return f"{day.day} {day:%B %Y}"


def moment_words(moment: datetime) -> str:
    """A local time in full: 01:30 on 29 March 2026."""
    return f"{moment:%H:%M} on {day_words(moment.date())}"


def in_sentence(label: str) -> str:
    """A label inside a sentence: small first letter, unless it is an acronym or a formula."""
    is_name = len(label) > 1 and (label[1].isupper() or not label[0].isalpha())
    return label if is_name else label[:1].lower() + label[1:]


def at_start(text: str) -> str:
    """The same words with a capital at the start."""
    return text[:1].upper() + text[1:]
