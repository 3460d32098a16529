"""What the papers of a session show."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal


@dataclass(frozen=True)
class PaperGlass:
    """One glass on paper: its place, code and the letter of its vessel."""

    position: int
    code: str
    mark: str


@dataclass(frozen=True)
class PaperOrder:
    """The glasses of one person, or of a spare order ("Spare 1")."""

    name: str
    is_spare: bool
    glasses: tuple[PaperGlass, ...]


@dataclass(frozen=True)
class PaperSample:
    """One vessel.

    Attributes:
        label: Compound's label, or "nothing added".
        level: Multiple; None for a blank.
        addition: What will be added.
        glasses: Glasses poured from it, spares included, without the control.
        volume_ml: What that needs, without a reserve.
        caution: Handling note of the compound, "" for a blank.
        keeping: How long it may stand between dosing and tasting ("hours", "day", "days"), or "".
    """

    mark: str
    label: str
    level: Decimal | None
    addition: str
    glasses: int
    volume_ml: Decimal
    caution: str
    keeping: str


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
