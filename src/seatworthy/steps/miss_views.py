"""What the page "What we would miss" shows: a panel's figures, who sits, what is proposed.

Chances are fractions between 0 and 1; None means that nothing is known, never zero.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from seatworthy.rules.rulebook import Item
from seatworthy.steps.batches import Batch
from seatworthy.steps.views import Choice

USUAL_LIMIT = Decimal("0.20")  # at most so much slips past; ours, the leader sets another


@dataclass(frozen=True)
class Wanted:
    """What the leader chose.

    Attributes:
        family: Beer family's key; None for the most tasted.
        batch_id: The batch, whose family then counts; None without one.
        here: Who is here and fit; None for all who may sit and have room for alcohol.
        sits: Who would sit; None for all who are here.
        callers: Independent callers that make a fault call; None for the rulebook's number.
        limit: How often a critical compound may slip past, a fraction.
        size: People of the best panel looked for; None for one more than the quorum.
    """

    family: str | None = None
    batch_id: str | None = None
    here: tuple[str, ...] | None = None
    sits: tuple[str, ...] | None = None
    callers: int | None = None
    limit: Decimal = USUAL_LIMIT
    size: int | None = None


@dataclass(frozen=True)
class Chance:
    """A chance with the range that holds eight chances in ten."""

    mean: float
    low: float
    high: float


@dataclass(frozen=True)
class ItemFigures:
    """What a panel lets slip of one compound, or of a group of which one counts.

    Attributes:
        item: The compound or group.
        is_critical: Whether the family lists it.
        member: The compound of the group that the figures are of.
        slips: One chance a level; () where nobody of the panel has a glass of it.
        away: Person id of the one whose absence would cost most; None where nobody is counted on.
        without: The chance at the level asked without them; None likewise.
        noses: How many of the panel meet it by the rules.
        deaf: Person ids of those of the panel who don't smell it.
        untested: Person ids of those who have no glass of it.
    """

    item: Item
    is_critical: bool
    member: str
    slips: tuple[Chance, ...]
    away: str | None
    without: float | None
    noses: int
    deaf: tuple[str, ...]
    untested: tuple[str, ...]


@dataclass(frozen=True)
class PanelFigures:
    """What one panel would miss, by ids: what is computed, and what is kept.

    Attributes:
        people: Person ids of those who sit.
        callers: Independent callers that make a fault call.
        limit: How often a critical compound may slip past.
        level: The level asked, one of `levels`.
        levels: Multiples of the working threshold.
        items: Critical items in the order of their list, then the other compounds.
        same: Chance that a clean beer is called for one compound; None without people.
        anything: Chance that enough of them call something in it; None without people.
    """

    people: tuple[str, ...]
    callers: int
    limit: Decimal
    level: float
    levels: tuple[float, ...]
    items: tuple[ItemFigures, ...]
    same: Chance | None
    anything: Chance | None

    def slip(self, item: ItemFigures) -> float | None:
        """The chance at the level asked; None where nothing is known."""
        return item.slips[self.levels.index(self.level)].mean if item.slips else None

    def is_over(self, chance: float | None) -> bool:
        """Whether more slips past than the leader allows, to the hundredth that is shown."""
        return chance is not None and round(chance, 2) > float(self.limit)


@dataclass(frozen=True)
class MissRow:
    """One row of the table.

    Attributes:
        label: The compound's short name, or both of a group.
        note: How many noses there are and who isn't counted on, in a few words.
        is_weak: Critical, and over the limit at the level asked or not known.
        figures: Its numbers.
        away: First name of the one whose absence would cost most, "" for nobody.
    """

    label: str
    note: str
    is_weak: bool
    figures: ItemFigures
    away: str


@dataclass(frozen=True)
class Told:
    """The sentence on top: its middle needs a person, or is empty."""

    start: str
    catch: str
    rest: str
    lead: str

    @property
    def whole(self) -> str:
        """All of it in one line."""
        return f"{self.start}{self.catch}{self.rest}"


@dataclass(frozen=True)
class SitterLine:
    """Somebody who may sit for the family.

    Attributes:
        is_here: Whether the leader says they are here and fit.
        sits: Whether they are on the panel looked at.
        notes: What is to be known: "made it", "on probation", "due by 14 Dec", alcohol taken.
        is_warned: Whether one of the notes needs a person.
    """

    person_id: str
    name: str
    short: str
    is_here: bool
    sits: bool
    notes: tuple[str, ...]
    is_warned: bool


@dataclass(frozen=True)
class ProposalLine:
    """A panel that is proposed, or why there is none.

    Attributes:
        kind: "smallest" or "best".
        people: Person ids; () where none was found.
        sentence: Who they are and what they would miss, or what is in the way.
    """

    kind: str
    people: tuple[str, ...]
    sentence: str


@dataclass(frozen=True)
class MissView:
    """The whole page.

    Attributes:
        families: To choose from.
        batches: Every batch on record, the latest first.
        figures: The panel's numbers.
        told: The sentence on top.
        rows: The weakest critical item first, then the others by name.
        people: Everybody who may sit.
        not_seated: How many others of the panel have no seat for this family.
        rule_sentences: What quorum, independence and cover say.
        proposals: The smallest and the best panel.
        menders: For each weak item a sentence that says who would mend it.
        clean: What is said of a clean beer.
        warnings: What needs a person: alcohol, start-up, an unsigned seat.
        first_names: By person id.
        empty: What to do next where there is nobody to choose from; "" otherwise.
    """

    as_of: date
    family: Choice
    families: tuple[Choice, ...]
    batch: Batch | None
    batches: tuple[Batch, ...]
    figures: PanelFigures
    told: Told
    rows: tuple[MissRow, ...]
    people: tuple[SitterLine, ...]
    not_seated: int
    most_callers: int
    rule_sentences: tuple[str, ...]
    is_met: bool
    proposals: tuple[ProposalLine, ...]
    size: int
    menders: tuple[str, ...]
    clean: str
    warnings: tuple[str, ...]
    first_names: Mapping[str, str]
    empty: str = ""


@dataclass(frozen=True)
class KeptPanel:
    """A panel as it was kept.

    Attributes:
        panel_id: Its id.
        names: The people's names as they stand today, in order.
        told: The sentence its figures give.
        rows: Its table.
        kept_by: Who kept it, "" if nobody said so.
        moment: When, by the brewery's clock.
        digest: SHA-256 of the text it is kept by.
    """

    panel_id: str
    chosen_on: date
    family_label: str
    batch_label: str
    names: tuple[str, ...]
    figures: PanelFigures
    told: Told
    rows: tuple[MissRow, ...]
    clean: str
    rule_sentences: tuple[str, ...]
    kept_by: str
    moment: datetime
    digest: str
