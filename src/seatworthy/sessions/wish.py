"""What a panel leader asks of a session, before anything is laid out."""

from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal
from types import MappingProxyType
from typing import Final

PURPOSES: Final = ("training", "qualification", "monitoring")
NAMING: Final = "naming"
INTENSITY: Final = "intensity"
YES_NO: Final = "a_not_a"
# Methods that ask about one compound by name, whether it is in the glass or not.
ASKED: Final = (INTENSITY, YES_NO)
# A rating is a whole number from 0 to this; ours, no source.
SCALE_TOP: Final = 10
# Glasses in a set by forced-choice method: one differs, and whoever tastes says which.
SETS: Final = MappingProxyType({"3afc": 3, "triangle": 3, "2afc": 2})
METHODS: Final = (NAMING, *ASKED, *SETS)
# What may be poured where a glass asks whether it is a certain beer.
OWN: Final = "own"
AGED: Final = "aged"
OTHER_BATCH: Final = "other_batch"
SISTER: Final = "sister"
VARIANTS: Final = (OWN, AGED, OTHER_BATCH, SISTER)


@dataclass(frozen=True)
class WantedSample:
    """One preparation.

    Attributes:
        compound: Compound key; None for a blank, to which nothing is added.
        level: Multiple of the working threshold, total; None for a blank.
        addition: What will be added, by whatever means ("18 µl of the 10 mg/l stock in 1.2 l").
        glasses: How many of it each panellist gets; 2 is a hidden duplicate pair. 0 for a blank
            that is poured in sets alone.
        method: One of `METHODS`; for a set, the sample is the glass that differs, and the others are
            filled from the first blank of the wish.
        asks: Key of the compound that is asked about by one of `ASKED`; None for any other method.
        batch: Id of the batch that is poured to be judged: nobody knows what is in it; None for a
            preparation.
        knows: Where a glass asks whether it is a certain beer: the key of that beer, and what is
            poured of it, one of `VARIANTS`.
        beer: Key of the beer that is poured; None for the base beer of the wish.
    """

    compound: str | None
    level: Decimal | None
    addition: str = ""
    glasses: int = 1
    method: str = NAMING
    asks: str | None = None
    batch: str | None = None
    knows: tuple[str, str] | None = None
    beer: str | None = None


@dataclass(frozen=True)
class WantedSitting:
    """One group at one time.

    Attributes:
        label: "Early shift"; sittings of one session differ in it.
        starts_at: Local time at the brewery, without a zone.
        people: Person ids of those who come.
    """

    label: str
    starts_at: datetime
    people: tuple[str, ...]


@dataclass(frozen=True)
class Limits:
    """What a plan may ask of a person.

    Attributes:
        most_glasses: Glasses with a code, for one person in one session.
        alcohol_g: Grams of alcohol that one person may swallow in one session.
        spat_share: Share of a spat glass that counts as swallowed, 0 to 1.
    """

    most_glasses: int = 8
    alcohol_g: Decimal = Decimal(8)
    spat_share: Decimal = Decimal("0.2")


@dataclass(frozen=True)
class Wish:
    """A session as asked for.

    Attributes:
        session_on: The day.
        label: Its name ("Thursday panel").
        purpose: One of `PURPOSES`.
        beer: Key of the base beer.
        abv_percent: Alcohol by volume of it, percent.
        volume_ml: Volume of one glass.
        samples: Preparations, each poured at every sitting.
        sittings: Groups and times.
        has_control: Whether a control, named as such, is poured first to everybody.
        spits: Whether everybody spits.
        preparers: Person ids of panellists who prepare; empty if somebody else does.
        spares: Complete spare orders with codes for each sitting, for late arrivals.
        leaves_out: Whether a glass somebody is not to be served is left out for that person; the
            plan is refused otherwise.
        seed: Decides codes and orders; the same wish with the same seed is the same plan.
        limits: Caps on glasses and alcohol.
        repeats: Id of the session that this one repeats, if any.
        flight: Glasses (or sets) that each person tastes of those wanted, shared out in balanced
            incomplete blocks; None if everybody tastes everything.
        strong_late: Whether strong and lingering glasses come last in everybody's order.
        container: Id of the kind of vessel that is dosed; None if what is added is written by hand.
        is_release: Whether it asks of every glass if the beer is as it should be.
    """

    session_on: date
    label: str
    purpose: str
    beer: str
    abv_percent: Decimal
    volume_ml: Decimal
    samples: tuple[WantedSample, ...]
    sittings: tuple[WantedSitting, ...]
    has_control: bool = True
    spits: bool = True
    preparers: tuple[str, ...] = ()
    spares: int = 1
    leaves_out: bool = False
    seed: int = 0
    limits: Limits = field(default_factory=Limits)
    repeats: str | None = None
    flight: int | None = None
    strong_late: bool = True
    container: str | None = None
    is_release: bool = False
