"""What can stand on a brewery's shelf."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Brewery:
    """The brewery: its name and its time zone, such as Europe/Dublin."""

    name: str
    time_zone: str


@dataclass(frozen=True, slots=True)
class BeerFamily:
    """Beers judged alike.

    Attributes:
        key: Small letters, digits and underscores.
        label: As shown.
        critical: Items that a release panel must cover; a group of keys counts as one.
        expected: Compounds that belong in such a beer.
    """

    key: str
    label: str
    critical: tuple[tuple[str, ...], ...]
    expected: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class BaseBeer:
    """A beer that compounds are added to; alcohol by volume in percent, if stated."""

    label: str
    family: str
    abv: Decimal | None


@dataclass(frozen=True, slots=True)
class WorkingThreshold:
    """The brewery's own threshold in micrograms per litre, from a day on; for a family or for all."""

    compound: str
    family: str | None
    ug_l: Decimal
    valid_from: date


@dataclass(frozen=True, slots=True)
class Background:
    """What a beer holds of a compound already; None if that is unknown."""

    beer: str
    compound: str
    ug_l: Decimal | None
    known: str
    valid_from: date


@dataclass(frozen=True, slots=True)
class Synonym:
    """Wordings that stand for a compound."""

    compound: str
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Compound:
    """A compound of the brewery's own, missing from the shipped table."""

    key: str
    label: str


@dataclass(frozen=True)
class Shelf:
    """Everything that a shelf file states.

    Attributes:
        brewery: None if the file does not speak of it.
        compounds: Those the vocabulary does not hold yet.
    """

    brewery: Brewery | None
    families: tuple[BeerFamily, ...]
    base_beers: tuple[BaseBeer, ...]
    working_thresholds: tuple[WorkingThreshold, ...]
    backgrounds: tuple[Background, ...]
    synonyms: tuple[Synonym, ...]
    compounds: tuple[Compound, ...]
