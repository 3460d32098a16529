"""What a card with a link shows and says, in the languages that ballots speak."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from types import MappingProxyType
from typing import Final

_EN_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_DE_DAYS = ("Montag", "Dienstag", "Mittwoch", "Donnerstag", "Freitag", "Samstag", "Sonntag")
_ES_DAYS = ("lunes", "martes", "miércoles", "jueves", "viernes", "sábado", "domingo")
_EN_MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
_DE_MONTHS = (
    "Januar", "Februar", "März", "April", "Mai", "Juni",
    "Juli", "August", "September", "Oktober", "November", "Dezember",
)  # fmt: skip
_ES_MONTHS = (
    "enero", "febrero", "marzo", "abril", "mayo", "junio",
    "julio", "agosto", "septiembre", "octubre", "noviembre", "diciembre",
)  # fmt: skip


@dataclass(frozen=True)
class BallotCard:
    """What stands on one person's card.

    Attributes:
        address: Of the ballot, whole; whoever has it answers as this person.
        starts_at: Local; None if no time was stated.
        expires_on: Last day on which the link opens anything.
        language: "en", "de" or "es".
    """

    name: str
    address: str
    session_on: date
    starts_at: datetime | None
    expires_on: date
    language: str


@dataclass(frozen=True)
class CardWords:
    """The words of one language.

    Attributes:
        day: How a day is written, with {weekday}, {day}, {month} and {year}.
        until: How the link's last day is said, with {day} and {month}.
        what_to_do: One sentence.
        care: One sentence.
    """

    weekdays: tuple[str, ...]
    months: tuple[str, ...]
    day: str
    until: str
    what_to_do: str
    care: str

    def whole_day(self, day: date) -> str:
        """A day with everything."""
        return self.day.format(
            weekday=self.weekdays[day.weekday()],
            day=day.day,
            month=self.months[day.month - 1],
            year=day.year,
        )

    def last_day(self, day: date) -> str:
        """Until when the link opens the ballot."""
        return self.until.format(day=day.day, month=self.months[day.month - 1])


CARD_WORDS: Final[Mapping[str, CardWords]] = MappingProxyType(
    {
        "en": CardWords(
            weekdays=_EN_DAYS,
            months=_EN_MONTHS,
            day="{weekday} {day} {month} {year}",
            until="This link is yours alone; it works until {day} {month}.",
            what_to_do="Scan it with your phone, then answer glass by glass.",
            care="Of age, by choice, spit cup, no driving afterwards.",
        ),
        "de": CardWords(
            weekdays=_DE_DAYS,
            months=_DE_MONTHS,
            day="{weekday}, {day}. {month} {year}",
            until="Dieser Link ist nur für dich; er gilt bis {day}. {month}.",
            what_to_do="Mit dem Handy scannen und Glas für Glas antworten.",
            care="Volljährig, freiwillig, Spuckbecher, danach nicht fahren.",
        ),
        "es": CardWords(
            weekdays=_ES_DAYS,
            months=_ES_MONTHS,
            day="{weekday}, {day} de {month} de {year}",
            until="Este enlace es solo tuyo; vale hasta el {day} de {month}.",
            what_to_do="Escanéalo con tu móvil y responde vaso por vaso.",
            care="Mayor de edad, voluntario, escupidera; después no conduzcas.",
        ),
    }
)
