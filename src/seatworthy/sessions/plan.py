"""What a plan is made from besides the wish, and what it comes to."""

from collections.abc import Mapping
from dataclasses import dataclass, field
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
        lingers: Whether it stays in nose and room, so that glasses of it come late.
        ceiling: Highest level at which it is served; None for no ceiling of its own.
    """

    label: str
    serve: str
    has_threshold: bool
    reference: str = ""
    caution: str = ""
    lingers: bool = False
    ceiling: Decimal | None = None


@dataclass(frozen=True)
class BeerFacts:
    """A beer as far as a plan must know it: its label, its family, and how that is called."""

    label: str
    family: str
    family_label: str


@dataclass(frozen=True)
class BatchFacts:
    """A batch that may be judged: its label, the key of its beer, who made it (person ids)."""

    label: str
    beer: str
    crew: frozenset[str] = frozenset()


@dataclass(frozen=True)
class ShelfFacts:
    """The shelf as far as a plan must know it.

    Attributes:
        beer_label: Label of the base beer that the wish names.
        family: Key of its beer family.
        family_label: Label of its beer family ("Pale lagers").
        compounds: Every compound on record by its key.
        counted_levels: Lowest and highest level that counts for a seat, by the rulebook in force;
            None if no rulebook is asked or every level counts, and nothing is said of it then.
        counted_methods: Methods whose glasses or sets count for a compound, by the rulebook in force;
            () if no rulebook is asked.
        beers: Every beer on the shelf by its key.
        batches: Every batch on record by its id.
    """

    beer_label: str
    family: str
    family_label: str
    compounds: Mapping[str, CompoundFacts]
    counted_levels: tuple[Decimal, Decimal] | None = None
    counted_methods: tuple[str, ...] = ()
    beers: Mapping[str, BeerFacts] = field(default_factory=dict)
    batches: Mapping[str, BatchFacts] = field(default_factory=dict)


@dataclass(frozen=True)
class Past:
    """What was served in earlier sessions, so that balance is kept over them.

    Attributes:
        places: How often somebody had something at a place: by person id, compound key ("" for a
            blank) and position from 1.
        served: How often somebody had it at all: by person id and compound key.
        together: How often two compounds stood in one person's flight: by person id and the two
            keys in alphabetical order.
    """

    places: Mapping[tuple[str, str, int], int] = field(default_factory=dict)
    served: Mapping[tuple[str, str], int] = field(default_factory=dict)
    together: Mapping[tuple[str, str, str], int] = field(default_factory=dict)


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
        method: How it is asked about, one of `wish.METHODS`.
        asks: Key of the compound that is asked about by one of `wish.ASKED`, else None.
        batch, knows, beer: As in `wish.WantedSample`.
    """

    mark: str
    compound: str | None
    level: Decimal | None
    addition: str
    glasses: int
    method: str = "naming"
    asks: str | None = None
    batch: str | None = None
    knows: tuple[str, str] | None = None
    beer: str | None = None

    @property
    def is_blank(self) -> bool:
        """Whether it is known that nothing was added; of a batch nobody knows what is in it."""
        return self.compound is None and self.batch is None and self.knows is None


@dataclass(frozen=True)
class SetGlass:
    """One glass of a forced-choice set.

    Attributes:
        place: From 1, left to right.
        code: Three digits.
        mark: Letter of the sample in it.
        is_odd: Whether it is the one that differs.
    """

    place: int
    code: str
    mark: str
    is_odd: bool


@dataclass(frozen=True)
class PlannedGlass:
    """One glass, or one forced-choice set.

    Attributes:
        position: From 1, in the order of serving.
        code: Three digits; of a set, the code of the glass that differs.
        mark: Letter of the sample in it; of a set, the spiked sample.
        duplicate_mark: The same letter if the person gets another glass of it, else None.
        method: One of `wish.METHODS`.
        glasses: The glasses of a set from left to right; empty for a single glass.
    """

    position: int
    code: str
    mark: str
    duplicate_mark: str | None
    method: str = "naming"
    glasses: tuple[SetGlass, ...] = ()


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
        rests: Between which places everybody rests, and how long: a finished sentence each.
    """

    samples: tuple[PlannedSample, ...]
    sittings: tuple[PlannedSitting, ...]
    alcohol_g: Decimal
    swallowed_g: Decimal
    left_out: tuple[str, ...]
    notes: tuple[str, ...]
    rests: tuple[str, ...] = ()
