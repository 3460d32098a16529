"""What the papers of a session show."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal


@dataclass(frozen=True)
class PaperSetGlass:
    """One glass of a forced-choice set: its place from the left, code and vessel."""

    place: int
    code: str
    mark: str
    is_odd: bool


@dataclass(frozen=True)
class PaperGlass:
    """One glass on paper: its place, code and the letter of its vessel.

    The code of a set is that of its odd glass, which is the key; what stands on paper are the codes
    of its glasses.

    Attributes:
        method: How it is asked about ("naming", "intensity", "a_not_a", "3afc", "triangle", "2afc").
        glasses: The glasses of a set from left to right; empty for a single glass.
        asks: Label inside a sentence of the compound that is asked about; "" for none.
        asks_beer: Label of the beer that is asked about; "" for none.
    """

    position: int
    code: str
    mark: str
    method: str = "naming"
    glasses: tuple[PaperSetGlass, ...] = ()
    asks: str = ""
    asks_beer: str = ""

    @property
    def poured(self) -> "tuple[PaperGlass | PaperSetGlass, ...]":
        """Everything that is poured for it, from left to right."""
        return self.glasses or (self,)


@dataclass(frozen=True)
class PaperOrder:
    """The glasses of one person, or of a spare order ("Spare 1")."""

    name: str
    is_spare: bool
    glasses: tuple[PaperGlass, ...]


@dataclass(frozen=True)
class PaperRecipe:
    """What goes into each vessel of one sample at one sitting, worked out from the bench.

    Attributes:
        stock: What it is taken from, with its lot; "" for a blank.
        pipette: Which pipette; "" for units, a blank, and where there is none.
        take: "3 shots of 110 µl", "2 units", "330 µl"; "" where nothing is added.
        total: "330 µl in all"; "" where `take` says it.
        into_ml: Beer in each vessel with the dose.
        vessels: Names of the vessels at this sitting: "A1", "A2".
        is_shared: Whether the same vessels serve the other sittings too.
        level: What the level really will be, multiples; None for a blank.
        level_off: How far it may be off (k = 2), multiples; None where nothing is known of it.
        ethanol: What a blank gets so that it equals the others ("30 µl of ethanol"), or "".
        takes_out_first: Whether as much beer is taken out first.
        prepare_from: Earliest local time; None if it keeps any time.
        prepare_until: Latest local time; None if nobody knows.
        keeps_h: Hours from dosing to serving; None for a blank.
    """

    stock: str
    pipette: str
    take: str
    total: str
    into_ml: Decimal
    vessels: tuple[str, ...]
    is_shared: bool
    level: Decimal | None
    level_off: float | None
    ethanol: str
    takes_out_first: bool
    prepare_from: datetime | None
    prepare_until: datetime | None
    keeps_h: Decimal | None


@dataclass(frozen=True)
class PaperSample:
    """One preparation.

    Attributes:
        label: Compound's label, or "nothing added".
        level: Multiple; None for a blank.
        addition: What will be added.
        glasses: Glasses poured from it, spares included, without the control.
        volume_ml: What that needs, without a reserve.
        caution: Handling note of the compound, "" for a blank.
        keeping: How long it may stand between dosing and tasting ("hours", "day", "days"), or "".
        recipe: What goes into its vessels; None where what is added is written by hand.
        compound: Compound key, by which what a tip may touch is told; "" for a blank.
        is_asked_in_sets: Whether it is poured in forced-choice sets.
    """

    mark: str
    label: str
    level: Decimal | None
    addition: str
    glasses: int
    volume_ml: Decimal
    caution: str
    keeping: str
    recipe: PaperRecipe | None = None
    compound: str = ""
    is_asked_in_sets: bool = False


@dataclass(frozen=True)
class PaperSitting:
    """One sitting on paper; ``orders`` holds people in the order of names, then spares."""

    label: str
    starts_at: datetime
    samples: tuple[PaperSample, ...]
    orders: tuple[PaperOrder, ...]


@dataclass(frozen=True)
class PaperView:
    """Everything that the papers of one session show.

    Attributes:
        brewery: Its name, "" if not stated.
        beer: Label of the base beer.
        control_ml: Volume of the control poured to each; 0 if there is none.
        names_offered: Labels of the compounds that the panel may name, by name.
        not_served: Sentences: who is not to be served what.
        alcohol: One sentence on alcohol.
        preparers: Names of panellists who prepare.
        printed_at: Local moment of printing.
        record: The newest entry of the record it was made from, for the foot; "" to name none.
        rests: Between which places everybody rests: a finished sentence each.
        is_release: Whether every glass asks if the beer is as it should be.
        bench_notes: What the trainer should know of the doses: a finished sentence each.
    """

    session_id: str
    session_on: date
    label: str
    purpose: str
    brewery: str
    beer: str
    family: str
    volume_ml: Decimal
    control_ml: Decimal
    sittings: tuple[PaperSitting, ...]
    names_offered: tuple[str, ...]
    not_served: tuple[str, ...]
    alcohol: str
    preparers: tuple[str, ...]
    printed_at: datetime
    record: str = ""
    rests: tuple[str, ...] = ()
    bench_notes: tuple[str, ...] = ()
    is_release: bool = False
