"""The parts of a session as they stand on record: glasses, samples, sittings, spare orders."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

NOTHING_SAID = "nothing"
SOMETHING_SAID = "something, no name"
OWN_WORDS = "own words"
NO_COMPOUND_MEANT = "no compound"
NOTHING_ADDED = "nothing added"


@dataclass(frozen=True)
class Glass:
    """One glass of one person.

    Attributes:
        sample_id: What was really in it.
        planned_sample_id: What was planned for it.
        kind: How it was answered, as in the table answer; None without an answer.
        is_known: Whether somebody has said what the own words mean.
        event: "", "spilled", "short" or "as_planned".
        is_glass_aside: Whether this very glass is set aside.
        is_own_aside: Whether the person themselves had it set aside, without a reason.
        is_aside: Whether it is set aside, by itself or with its sample.
    """

    serving_id: str
    person_id: str
    sitting_id: str
    sample_id: str
    planned_sample_id: str
    method: str
    position: int | None
    blind_code: str | None
    duplicate_mark: str | None
    kind: str | None
    words: str | None
    rating: Decimal | None
    named_compound: str | None
    is_known: bool
    event: str
    is_glass_aside: bool
    is_own_aside: bool
    is_aside: bool

    @property
    def is_swapped(self) -> bool:
        """Whether something else was in it than planned."""
        return self.sample_id != self.planned_sample_id

    @property
    def said(self) -> str:
        """The answer as it was given, in words; "" without one."""
        if self.kind == "words":
            return self.words or ""
        fixed = {"nothing": NOTHING_SAID, "something": SOMETHING_SAID, None: ""}
        return fixed[self.kind] if self.kind in fixed else str(self.rating or self.kind)


@dataclass(frozen=True)
class Sample:
    """One preparation at one sitting; levels are multiples, None where not stated."""

    sample_id: str
    sitting_id: str
    mark: str
    compound: str | None
    given_level: Decimal | None
    actual_level: Decimal | None
    age_minutes: int | None
    addition: str
    is_aside: bool

    @property
    def level(self) -> Decimal | None:
        """The level it really had, as far as anybody said."""
        return self.actual_level or self.given_level


@dataclass(frozen=True)
class Sitting:
    """One group at one time (UTC, without a zone)."""

    sitting_id: str
    label: str
    starts_at: datetime | None
    is_over: bool


@dataclass(frozen=True)
class SpareGlass:
    """One glass of a spare order."""

    sitting_id: str
    spare_no: int
    position: int
    sample_id: str
    blind_code: str
    duplicate_mark: str | None
    taken_by: str | None


@dataclass(frozen=True)
class Head:
    """The session itself; the fields of the plan are None for one that was brought in."""

    session_id: str
    session_on: date
    label: str
    planned_at: datetime
    purpose: str | None
    beer: str | None
    beer_label: str | None
    family: str | None
    family_label: str | None
    volume_ml: Decimal | None
    abv_percent: Decimal | None
    has_control: bool | None
    spits: bool | None
    spat_share: Decimal | None
    alcohol_limit_g: Decimal | None
    most_glasses: int | None
    seed: int | None
    repeats: str | None
    how: str | None
    ended_at: datetime | None
    is_recoded: bool
    recoded_by: str | None
