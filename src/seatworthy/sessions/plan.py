"""What a plan is made from besides the wish, and what it comes to."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal


@dataclass(frozen=True)
class CompoundFacts:
    """A compound as far as a plan must know it.

    Attributes:
        label: As it stands in sentences, without what is in brackets.
        serve: "yes", "prediluted" (only from a bought food-grade dilution) or "no".
        has_threshold: Whether a working threshold is in force for the beer's family.
        reference: What books say of its threshold ("40 to 200 µg/l"), "" if they say nothing.
        caution: Its handling note.
    """

    label: str
    serve: str
    has_threshold: bool
    reference: str = ""
    caution: str = ""


@dataclass(frozen=True)
class ShelfFacts:
    """The shelf as far as a plan must know it.

    Attributes:
        beer_label: Label of the base beer that the wish names.
        family: Key of its beer family.
        family_label: Label of its beer family ("Pale lagers").
        compounds: Every compound on record by its key.
        counted_levels: Lowest and highest level that counts for a seat, by the rulebook in force;
            None if no rulebook is asked, and nothing is said of it then.
    """

    beer_label: str
    family: str
    family_label: str
    compounds: Mapping[str, CompoundFacts]
    counted_levels: tuple[Decimal, Decimal] | None = None


@dataclass(frozen=True)
class PersonFacts:
    """A person as far as a plan must know them.

    Attributes:
        name: Whole name.
        refused_compounds: Keys of compounds they are not to be served; nobody asks why.
        refused_beers: Keys of base beers likewise.
    """

    name: str
    refused_compounds: frozenset[str] = frozenset()
    refused_beers: frozenset[str] = frozenset()


@dataclass(frozen=True)
class PlannedSample:
    """One preparation: the same letter, compound and level at every sitting.

    Attributes:
        mark: Its letter: A, B ... in the order of the wish.
        compound: Compound key; None for a blank.
        level: Multiple of the working threshold, total; None for a blank.
        addition: What will be added.
        glasses: How many of it each person gets, unless it is left out for them.
    """

    mark: str
    compound: str | None
    level: Decimal | None
    addition: str
    glasses: int


@dataclass(frozen=True)
class PlannedGlass:
    """One glass.

    Attributes:
        position: From 1, in the order of serving.
        code: Three digits.
        mark: Letter of the sample in it.
        duplicate_mark: The same letter if the person gets another glass of it, else None.
    """

    position: int
    code: str
    mark: str
    duplicate_mark: str | None


@dataclass(frozen=True)
class PlannedSeat:
    """The glasses of one person at one sitting, in the order of serving."""

    person_id: str
    glasses: tuple[PlannedGlass, ...]


@dataclass(frozen=True)
class PlannedSitting:
    """One group at one time.

    Attributes:
        starts_at: In UTC, without a zone.
        seats: In the order of the wish.
        spares: Complete orders for late arrivals; spare order 1 stands first.
    """

    label: str
    starts_at: datetime
    seats: tuple[PlannedSeat, ...]
    spares: tuple[tuple[PlannedGlass, ...], ...]


@dataclass(frozen=True)
class Plan:
    """A session laid out.

    Attributes:
        alcohol_g: Grams in a whole order, the control included, as counted: the spat share if
            everybody spits, else whole.
        swallowed_g: Grams of the same glasses if everything were swallowed.
        left_out: A sentence for each person who does not get a glass.
        notes: Cautions that refuse nothing.
    """

    samples: tuple[PlannedSample, ...]
    sittings: tuple[PlannedSitting, ...]
    alcohol_g: Decimal
    swallowed_g: Decimal
    left_out: tuple[str, ...]
    notes: tuple[str, ...]
