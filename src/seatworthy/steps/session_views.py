"""What the pages of a session are given to show: finished answers, as in `steps.views`.

Times are local to the brewery; names and words are user text, to be escaped.
"""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from seatworthy.steps.views import Choice


@dataclass(frozen=True)
class SessionLine:
    """One session in the list.

    Attributes:
        state: "planned", "in_hand" (answers have come in), "over" (every sitting is over),
            "closed", "called_off", or "brought_in" (from a file).
        people: People served or to be served.
        glasses: Glasses to be answered.
        answered: Of these, answered.
        sentence: What is next, or what came of it.
    """

    session_id: str
    session_on: date
    label: str
    purpose: str
    state: str
    people: int
    glasses: int
    answered: int
    sentence: str


@dataclass(frozen=True)
class SessionsView:
    """Every session, the planned ones first, then the newest."""

    answer: str
    catch: str
    lead: str
    sessions: tuple[SessionLine, ...]


@dataclass(frozen=True)
class BeerChoice:
    """A base beer to plan with: its family and alcohol (percent), None if not stated."""

    key: str
    label: str
    family: str
    family_label: str
    abv_percent: Decimal | None


@dataclass(frozen=True)
class CompoundChoice:
    """A compound to plan with.

    Attributes:
        families: Beer families for which a working threshold is in force; "" stands for all.
        serve: "yes", "prediluted" or "no".
        caution: Its handling note.
    """

    key: str
    label: str
    families: tuple[str, ...]
    serve: str
    caution: str


@dataclass(frozen=True)
class PersonChoice:
    """Somebody to plan with; ``not_served`` in words, "" for nothing."""

    person_id: str
    name: str
    not_served: str


@dataclass(frozen=True)
class PlanChoices:
    """Everything that a plan may choose from, and what hinders planning at all ("" if nothing).

    Attributes:
        containers: Kinds of vessel on the bench that may be dosed; empty where no bench is kept.
    """

    today: date
    beers: tuple[BeerChoice, ...]
    compounds: tuple[CompoundChoice, ...]
    people: tuple[PersonChoice, ...]
    hindrance: str
    containers: tuple[Choice, ...] = ()


@dataclass(frozen=True)
class DoseLine:
    """One jug's dose, worked out from the bench and not yet recorded.

    Attributes:
        mark: Its letter.
        what: Compound, or "nothing added".
        take: What is pipetted and from what; "" for nothing.
        vessels: "2 vessels of 330 ml".
        level: What the level really will be, with its range; "" for a blank.
        when: Earliest and latest time to prepare it, for each sitting.
        others: Other ways to pipette it, in words.
    """

    mark: str
    what: str
    take: str
    vessels: str
    level: str
    when: str
    others: tuple[str, ...]


@dataclass(frozen=True)
class PlanPreview:
    """A plan laid out and not yet recorded.

    Attributes:
        answer: The plan in one sentence.
        alcohol_g: Grams that one person would take at most, as counted (spat share or whole).
        swallowed_g: Grams if everything were swallowed.
        left_out: Sentences, one for each person who doesn't get a glass.
        notes: Cautions that refuse nothing.
        doses: What is pipetted, in the order of work; empty where it is written by hand.
        rests: Between which places everybody rests.
    """

    answer: str
    alcohol_g: Decimal
    swallowed_g: Decimal
    left_out: tuple[str, ...]
    notes: tuple[str, ...]
    doses: tuple[DoseLine, ...] = ()
    rests: tuple[str, ...] = ()


@dataclass(frozen=True)
class GlassLine:
    """One glass of one person.

    Attributes:
        mark: Letter of the sample really in it.
        said: The answer in words, "" if none is in yet.
        event: "", "spilled", "short" or "swapped".
        is_aside: Whether it is set aside, alone or with its sample.
    """

    serving_id: str
    position: int
    code: str
    mark: str
    said: str
    event: str
    is_aside: bool


@dataclass(frozen=True)
class SeatedView:
    """One person at one sitting.

    Attributes:
        state: "expected", "late", "left" or "absent".
        waiting: Glasses whose answer is still missing.
        own_aside: Whether all their glasses are set aside.
    """

    person_id: str
    name: str
    state: str
    glasses: tuple[GlassLine, ...]
    waiting: int
    own_aside: bool


@dataclass(frozen=True)
class SampleLine:
    """One preparation at one sitting.

    Attributes:
        label: Compound's label, or "nothing added".
        planned_level: Multiple; None for a blank.
        actual_level: What it really was, if somebody said so.
        age_minutes: Minutes from dosing to serving, if somebody said so.
        per_person: Glasses of it each person gets.
    """

    sample_id: str
    mark: str
    compound: str | None
    label: str
    planned_level: Decimal | None
    actual_level: Decimal | None
    age_minutes: int | None
    addition: str
    per_person: int
    is_aside: bool


@dataclass(frozen=True)
class SittingView:
    """One group at one time."""

    sitting_id: str
    label: str
    starts_at: datetime | None
    seated: tuple[SeatedView, ...]
    samples: tuple[SampleLine, ...]
    spares_left: int
    is_over: bool


@dataclass(frozen=True)
class SessionView:
    """One session, from plan to close.

    Attributes:
        state: As in `SessionLine`.
        answer: The sentence on top: what is the case.
        catch: What needs a person, "" if nothing does.
        preparers: Names.
        is_recoded: Whether somebody else put the codes on.
        recoded_by: Their name, "" if not on the list of people.
        hindrances: What still stands in the way of closing, one sentence each.
        missing: Glasses that would stay without an answer.
        may_come: People on record who have no glass in this session.
        people: Everybody on record, to say who did something.
        care: Lines of care for this session: alcohol, not to be served, handling.
        preparing: How far its vessels are prepared; "" where nothing is dosed from the bench.
        lead_besides: The lead without whose answers are missing, for a page that counts those itself.
    """

    session_id: str
    session_on: date
    label: str
    purpose: str
    beer: str
    family: str
    state: str
    answer: str
    catch: str
    lead: str
    sittings: tuple[SittingView, ...]
    preparers: tuple[str, ...]
    is_recoded: bool
    recoded_by: str
    hindrances: tuple[str, ...]
    missing: int
    may_come: tuple[Choice, ...]
    people: tuple[Choice, ...]
    care: tuple[str, ...]
    preparing: str = ""
    lead_besides: str = ""
