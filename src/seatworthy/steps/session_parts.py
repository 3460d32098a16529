"""The parts of a session as they stand on record: glasses, samples, sittings, spare orders."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from seatworthy.sessions.wish import AGED, INTENSITY, OTHER_BATCH, OWN, SISTER
from seatworthy.sessions.wording import plain

NOTHING_SAID = "nothing"
SOMETHING_SAID = "something, no name"
OWN_WORDS = "own words"
AS_IT_SHOULD_BE = "as it should be"
NOT_AS_IT_SHOULD_BE = "not as it should be, no name"
NO_COMPOUND_MEANT = "no compound"
NOTHING_ADDED = "nothing added"
_VARIANTS = {OWN: "", AGED: ", aged", OTHER_BATCH: ", another batch", SISTER: ", a sister brand"}


@dataclass(frozen=True)
class SetPart:
    """One glass of a forced-choice set: its place from the left, and whether it is the odd one."""

    place: int
    code: str
    sample_id: str
    is_odd: bool


@dataclass(frozen=True)
class Glass:
    """One glass of one person, or one forced-choice set, which has one answer.

    ``blind_code`` of a set is the code of its odd glass, which is the key: what is shown are
    `codes`, `label` and `title`.

    Attributes:
        sample_id: What was really in it.
        planned_sample_id: What was planned for it.
        kind: How it was answered, as in the table answer; None without an answer.
        named_compound: The one compound that own words name; None where they name none, or several.
        is_known: Whether somebody has said what the own words mean.
        right_for: What own words may mean, where somebody has said so.
        event: "", "spilled", "short" or "as_planned".
        is_glass_aside: Whether this very glass is set aside.
        is_own_aside: Whether the person themselves had it set aside, without a reason.
        is_aside: Whether it is set aside, by itself or with its sample.
        picked: Code of the glass of a set that was picked; None without a pick.
        parts: The glasses of a set from left to right; empty for a single glass.
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
    picked: str | None = None
    right_for: tuple[str, ...] = ()
    parts: tuple[SetPart, ...] = ()

    @property
    def codes(self) -> tuple[str, ...]:
        """What stands on it: of a set all codes from left to right; none if it has no code."""
        own = (self.blind_code,) if self.blind_code else ()
        return tuple(part.code for part in self.parts) or own

    @property
    def label(self) -> str:
        """What it is called on pages: "417", "set 3 (417 258 903)", or its place without a code."""
        if self.parts:
            return f"set {self.position} ({' '.join(self.codes)})"
        return self.blind_code or str(self.position or "")

    @property
    def title(self) -> str:
        """The same at the start of a sentence: "Glass 417", "Set 3 (417 258 903)"."""
        return self.label.capitalize() if self.parts else f"Glass {self.label}"

    @property
    def is_rated(self) -> bool:
        """Whether it was rated: an answer that is neither right nor wrong."""
        return self.method == INTENSITY and self.kind == "rating"

    @property
    def poured_from(self) -> tuple[str, ...]:
        """The sample planned for each glass that is poured."""
        return tuple(part.sample_id for part in self.parts) or (self.planned_sample_id,)

    @property
    def is_swapped(self) -> bool:
        """Whether something else was in it than planned."""
        return self.sample_id != self.planned_sample_id

    @property
    def said(self) -> str:
        """The answer as it was given, in words; "" without one. Of a set, what was picked."""
        if self.parts:
            return f"picked {self.picked}" if self.kind else ""
        if self.kind == "words":
            return self.words or ""
        if self.rating is not None:
            return plain(self.rating)
        fixed = {"nothing": NOTHING_SAID, "something": SOMETHING_SAID, None: ""}
        return fixed.get(self.kind, self.kind or "")


@dataclass(frozen=True)
class Sample:
    """One preparation at one sitting; levels are multiples, None where not stated.

    Attributes:
        given_level: As planned.
        actual_level: As somebody stated that it really was.
        age_minutes: From adding to pouring, as somebody stated it.
        dosed_level: As it follows from what was written down of the dosing, loss taken off.
        dosed_minutes: From dosing to the start of the sitting, likewise.
        keeps_h: Hours that it keeps; None where nothing is known of it.
        is_kept_too_long: Whether it was served after that.
        has_expired_lot: Whether its stock had expired by then.
        differs: Whether its vessels held levels more than a tenth apart.
        asks: Compound that its glasses ask about, None where they ask about none.
        beer: Key of the beer in it, beer_label its label.
        batch_id: The batch that it is, of which nobody knows what is in it; None for a preparation.
        batch: Label of that batch; "" for none.
        asks_beer: Key of the beer that its glasses ask about; None where they ask about none.
        asks_beer_label: Its label.
        variant: What is poured where a beer is asked about, one of `wish.VARIANTS`.
    """

    sample_id: str
    sitting_id: str
    mark: str
    compound: str | None
    given_level: Decimal | None
    actual_level: Decimal | None
    age_minutes: int | None
    dosed_level: float | None
    dosed_minutes: int | None
    keeps_h: Decimal | None
    is_kept_too_long: bool
    has_expired_lot: bool
    differs: bool
    addition: str
    is_aside: bool
    asks: str | None = None
    beer: str = ""
    beer_label: str = ""
    batch_id: str | None = None
    batch: str = ""
    asks_beer: str | None = None
    asks_beer_label: str = ""
    variant: str | None = None

    @property
    def is_poured_as_it_is(self) -> bool:
        """Whether it is a batch or a beer asked about, and no preparation."""
        return self.batch_id is not None or self.asks_beer is not None

    @property
    def poured_label(self) -> str:
        """What is poured as it is: "Tank 12, House Pils"; "House Pils, aged"; "" for a preparation."""
        if self.batch_id is not None:
            return f"{self.batch}, {self.beer_label}"
        return f"{self.beer_label}{_VARIANTS[self.variant or OWN]}" if self.asks_beer else ""

    @property
    def level(self) -> Decimal | None:
        """The level it really had, as far as anybody said."""
        if self.actual_level is None and self.dosed_level is not None:
            return round(Decimal(self.dosed_level), 9).normalize()
        return self.actual_level or self.given_level

    @property
    def unfit(self) -> str:
        """Why its answers are kept and not for qualification; "" if they are."""
        if self.has_expired_lot:
            return "its lot had expired"
        if self.differs:
            return "its vessels held different levels"
        return "it was kept too long" if self.is_kept_too_long else ""


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
    is_release: bool
    is_recoded: bool
    recoded_by: str | None
