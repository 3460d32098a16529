"""What the pages and papers of a session are given to show: finished answers, as in `steps.views`.

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
    """Everything that a plan may choose from, and what hinders planning at all ("" if nothing)."""

    today: date
    beers: tuple[BeerChoice, ...]
    compounds: tuple[CompoundChoice, ...]
    people: tuple[PersonChoice, ...]
    hindrance: str


@dataclass(frozen=True)
class PlanPreview:
    """A plan laid out and not yet recorded.

    Attributes:
        answer: The plan in one sentence.
        alcohol_g: Grams that one person would take at most, as counted (spat share or whole).
        swallowed_g: Grams if everything were swallowed.
        left_out: Sentences, one for each person who doesn't get a glass.
        notes: Cautions that refuse nothing.
    """

    answer: str
    alcohol_g: Decimal
    swallowed_g: Decimal
    left_out: tuple[str, ...]
    notes: tuple[str, ...]


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


@dataclass(frozen=True)
class SheetRow:
    """One line of somebody's sheet.

    Attributes:
        state: "waiting", "answered", "spilled" or "gone" (the person left before it).
        said: The answer as it stands, in words; "" if none.
        read_as: How it is read: a compound's label, "nothing", "something, no name" or "own words";
            "" without an answer.
        is_aside: Whether it is set aside.
    """

    serving_id: str
    position: int
    code: str
    state: str
    said: str
    read_as: str
    is_aside: bool


@dataclass(frozen=True)
class SheetTab:
    """One person's sheet in the list of sheets; ``key`` is sitting and person."""

    key: str
    person_id: str
    name: str
    sitting: str
    glasses: int
    answered: int


@dataclass(frozen=True)
class SheetView:
    """One person's sheet, to be filled in from paper.

    Attributes:
        key: Of this sheet.
        is_open: Whether answers may still be entered (the session isn't closed or called off).
        sheets: All sheets of the session, in the order of sittings and names.
        words: Every wording that names a compound, with the compound's label, for completion.
        answer: The sentence on top.
    """

    session_id: str
    session_on: date
    session_label: str
    key: str
    person_id: str
    name: str
    sitting: str
    is_open: bool
    rows: tuple[SheetRow, ...]
    sheets: tuple[SheetTab, ...]
    words: tuple[tuple[str, str], ...]
    answer: str
    catch: str


@dataclass(frozen=True)
class Entered:
    """What became of one line typed.

    Attributes:
        outcome: "kept", "known" (the same answer was on record already), "asks" (own words: say
            again to keep them), or "refused" (nothing was stored).
        code: The code as typed.
        said: The answer as read, in words.
        read_as: As in `SheetRow`.
        sentence: What the reader is told.
    """

    outcome: str
    code: str
    said: str
    read_as: str
    sentence: str


@dataclass(frozen=True)
class StandingChange:
    """A standing that a closed session moved, or a seat (``compound`` is "" then)."""

    person_id: str
    name: str
    compound: str
    label: str
    family: str
    before: str
    after: str
    sentence: str


@dataclass(frozen=True)
class SampleResult:
    """What came of one sample.

    Attributes:
        named_right: Of the counted answers.
        is_suspect: Whether nearly everybody missed what they usually find.
        sentence: For a suspect one, what speaks for looking at the bottle first.
    """

    sample_id: str
    sitting: str
    mark: str
    label: str
    level: Decimal | None
    answers: int
    named_right: int
    missed: int
    other_names: int
    is_aside: bool
    is_suspect: bool
    sentence: str


@dataclass(frozen=True)
class RevealView:
    """A closed session: what was in the glasses and what it changed."""

    session_id: str
    session_on: date
    label: str
    family: str
    answer: str
    catch: str
    lead: str
    changes: tuple[StandingChange, ...]
    samples: tuple[SampleResult, ...]
    people: tuple[Choice, ...]
    not_counted: tuple[str, ...]


@dataclass(frozen=True)
class FeedbackGlass:
    """One of the person's own glasses.

    Attributes:
        was: What was in it ("Diacetyl, 3×", "nothing added").
        outcome: "right", "wrong" (another name), "open" (noticed, no name, or own words), "missed".
        others: Other people who answered the same sample; None if fewer than four.
        others_right: Of these, right; None likewise.
        note: "" or why it doesn't count ("set aside", "you prepared it").
    """

    position: int
    code: str
    was: str
    said: str
    outcome: str
    others: int | None
    others_right: int | None
    note: str


@dataclass(frozen=True)
class ProgressRow:
    """One compound of this session beside the person's own past.

    Attributes:
        standing: As in `CellView`.
        now_right: Glasses of this session named right, of ``now_glasses``.
        before_right: Counted glasses in the 12 months before named right, of ``before_glasses``.
        chance, low, high: Chance to name it right, and its 8-in-10 range; None where not known.
        words: What is missing, or "".
    """

    label: str
    standing: str
    now_right: int
    now_glasses: int
    before_right: int
    before_glasses: int
    chance: float | None
    low: float | None
    high: float | None
    words: str


@dataclass(frozen=True)
class FeedbackView:
    """One person's page about one closed session.

    Attributes:
        name: Whole name.
        answer: The sentence on top, progress first.
        compared: How this compares with their own last months, one or two sentences.
        smell_next: One thing to smell next, one or two sentences; "" if nothing stands out.
        needed: Share that must be named right, where the dashed line stands.
        reference_level: Level at which chances are stated, a multiple.
        people: Everybody with a page, for moving between them on screen.
    """

    session_id: str
    session_on: date
    session_label: str
    brewery: str
    family: str
    person_id: str
    name: str
    answer: str
    compared: str
    smell_next: str
    glasses: tuple[FeedbackGlass, ...]
    progress: tuple[ProgressRow, ...]
    needed: float
    reference_level: float
    people: tuple[Choice, ...]


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
