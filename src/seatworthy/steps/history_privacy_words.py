"""What is told in the history of how long people are kept, and of names that went."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

from seatworthy.steps.history_phrases import Part, Teller, counted, plain_day
from seatworthy.steps.sentences import joined


def _made_anonymous(parts: Sequence[Part]) -> list[str]:
    names = list(dict.fromkeys(part["name"] for part in parts))
    return [f"A name and own words were taken away for good: {joined(names)}."]


def _retention(parts: Sequence[Part]) -> list[str]:
    months = parts[-1]["number"]
    if not months:
        return ["People are kept without an end."]
    return [f"People are kept for {counted(months, 'month')} after they last sat."]


def _kept_longer(parts: Sequence[Part]) -> list[str]:
    return [f"{part['name']} is kept until {plain_day(part['last_on'])}." for part in parts]


def _person_copy(parts: Sequence[Part]) -> list[str]:
    return [f"{part['name']} was given a copy of what is kept about them." for part in parts]


PRIVACY_TELLERS: Final[Mapping[str, Teller]] = MappingProxyType(
    {
        "made_anonymous": _made_anonymous,
        "retention": _retention,
        "kept_longer": _kept_longer,
        "person_copy": _person_copy,
    }
)
