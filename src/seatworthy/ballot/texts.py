"""What a ballot says, in the panellist's language: one TOML file each, with the same keys."""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from functools import cache
from importlib.resources import files
from typing import Any, Final

LANGUAGES: Final = ("en", "de", "es")
USUAL: Final = LANGUAGES[0]
_FORMS: Final = frozenset({"one", "many"})


@dataclass(frozen=True)
class Texts:
    """One language.

    Attributes:
        language: "en", "de" or "es".
        sentences: By key, such as "send.kept"; a pair "one" and "many" where a count decides.
        numbers: Words for none, one, two and so on.
        weekdays: From Monday on.
        months: From January on.
        decimal: The mark between a whole number and its tenths.
        lowers_labels: Whether the name of a compound begins small inside a sentence.
    """

    language: str
    sentences: Mapping[str, str | Mapping[str, str]]
    numbers: tuple[str, ...]
    weekdays: tuple[str, ...]
    months: tuple[str, ...]
    decimal: str
    lowers_labels: bool

    def say(self, key: str, count: int | None = None, **filled: object) -> str:
        """A sentence, filled in.

        Args:
            key: Of the sentence.
            count: Decides between "one" and "many"; stands in the sentence as a word.
            filled: By placeholder.

        Raises:
            KeyError: if the language lacks the sentence, or nothing fills a placeholder of it.
        """
        found = self.sentences[key]
        if not isinstance(found, str):
            found = found["one" if count == 1 else "many"]
        if count is not None:
            filled["count"] = self.number(count)
        return found.format(**filled)

    def number(self, count: int) -> str:
        """A count as a word up to twelve, else in digits."""
        return self.numbers[count] if count < len(self.numbers) else str(count)

    def amount(self, number: Decimal) -> str:
        """A decimal without trailing noughts, with the language's decimal mark."""
        text = f"{number:f}"
        if "." in text:
            text = text.rstrip("0").rstrip(".")
        return text.replace(".", self.decimal)

    def day(self, day: date) -> str:
        """Thursday, 3 December."""
        return self.say("day", **self._day_parts(day))

    def day_at(self, moment: datetime) -> str:
        """Thursday, 3 December, 14:00."""
        return self.say("day_at", **self._day_parts(moment), time=f"{moment:%H:%M}")

    def _day_parts(self, day: date) -> dict[str, object]:
        return {
            "weekday": self.weekdays[day.weekday()],
            "day": day.day,
            "month": self.months[day.month - 1],
        }


@cache
def texts_of(language: str) -> Texts:
    """The texts of a language.

    Raises:
        FileNotFoundError: if there are none in that language.
    """
    read = tomllib.loads((files(__package__) / "texts" / f"{language}.toml").read_text("utf-8"))
    return Texts(
        language=language,
        numbers=tuple(read.pop("numbers")),
        weekdays=tuple(read.pop("weekdays")),
        months=tuple(read.pop("months")),
        decimal=read.pop("decimal"),
        lowers_labels=read.pop("lowers_labels"),
        sentences=dict(_sentences(read)),
    )


def _sentences(
    read: Mapping[str, Any], before: str = ""
) -> Iterator[tuple[str, str | Mapping[str, str]]]:
    for key, found in read.items():
        if isinstance(found, str) or found.keys() == _FORMS:
            yield f"{before}{key}", found
        else:
            yield from _sentences(found, f"{before}{key}.")


def language_of(accepted: str) -> str:
    """The first of our languages that a browser asks for; English if it asks for none of them.

    Args:
        accepted: The header Accept-Language, as it came.
    """
    asked = [_weighed(part, place) for place, part in enumerate(accepted.split(",")[:20])]
    for weight, _, language in sorted(asked):
        if weight < 0 and language in LANGUAGES:
            return language
    return USUAL


def _weighed(part: str, place: int) -> tuple[float, int, str]:
    """How much less than nothing a language weighs, its place, and its first two letters."""
    name, _, weight = part.strip().lower().partition(";q=")
    try:
        wanted = float(weight) if weight else 1.0
    except ValueError:
        wanted = 0.0
    return (-wanted if 0 <= wanted <= 1 else 0.0), place, name.split("-")[0].split(";")[0]
