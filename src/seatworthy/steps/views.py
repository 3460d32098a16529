"""What a page is given to show: finished answers, so that a page neither computes nor judges.

Chances are fractions between 0 and 1, levels and thresholds multiples of the working threshold,
days are dates in the brewery's time zone. ``None`` means "not known", never zero.
"""

from dataclasses import dataclass
from datetime import date

from seatworthy.steps.reason_views import ReasonView


@dataclass(frozen=True)
class Choice:
    """One entry of a list to choose from: a key for the address, a label for the reader."""

    key: str
    label: str


@dataclass(frozen=True)
class CellView:
    """Where one panellist stands on one compound.

    Attributes:
        standing: "met", "not_met", "too_little", "insensitive" or "no_glasses".
        named_right: Counted glasses named right (2 to 4 times threshold, last 12 months).
        glasses: Counted glasses.
        until: Day on which a met would lapse if nothing more were poured; None if not met.
        is_due_soon: Whether that day lies within the notice of the rulebook.
        sentence: The verdict in one sentence, with its numbers and what would change it.
    """

    person_id: str
    compound: str
    standing: str
    named_right: int
    glasses: int
    until: date | None
    is_due_soon: bool
    sentence: str


@dataclass(frozen=True)
class PersonView:
    """One column of the board.

    Attributes:
        name: As the leader wrote it; user text, escape it.
        can_sit: Whether they hold a signed seat; before any is signed, whether they meet the rule.
        reason: Why not, in two or three words ("in training", "off for now"); empty if they can.
        until: Day on which the seat would fall away if nothing more were poured.
        term_left: Share of the rulebook's validity that is left, 0 to 1.
        critical_met: Critical compounds (a group counts once) that are met.
        sentence: The seat verdict in one sentence.
    """

    person_id: str
    name: str
    can_sit: bool
    reason: str
    until: date | None
    term_left: float
    is_due_soon: bool
    critical_met: int
    critical_asked: int
    sentence: str


@dataclass(frozen=True)
class CompoundRow:
    """One row of the board.

    Attributes:
        note: A describing word ("butterscotch"), may be empty.
        cells: By person id; a person never served the compound has standing "no_glasses".
        noses: People who can sit today and meet it.
        is_weak: Critical and covered by fewer people than the rulebook asks for.
    """

    compound: str
    label: str
    note: str
    is_critical: bool
    cells: dict[str, CellView]
    noses: int
    is_weak: bool


@dataclass(frozen=True)
class BoardView:
    """Who can sit today for one beer family, and why.

    Attributes:
        answer: First half of the sentence on top, without its full stop if a catch follows.
        catch: The half that needs a person, "" if nothing does.
        lead: One or two sentences of proof or advice under it.
        people: Those who can sit first (soonest due first), then the rest.
        rows: Critical compounds first.
        counted_levels: Lowest and highest level that count for a seat, multiples.
        counted_months: How many months back glasses count.
        start_here: Sentence for an empty store, "" otherwise; then everything else is empty.
        is_signed: Whether seats of the family are signed; else "can sit" means that the rule is met.
    """

    as_of: date
    family: Choice
    families: tuple[Choice, ...]
    rulebook: str
    in_force_since: date
    answer: str
    catch: str
    lead: str
    people: tuple[PersonView, ...]
    rows: tuple[CompoundRow, ...]
    counted_levels: tuple[float, float]
    counted_months: int
    start_here: str = ""
    is_signed: bool = True


@dataclass(frozen=True)
class RuleLine:
    """One rule of the seat and its answer.

    Attributes:
        standing: "met", "not_met" or "too_little".
        sentence: The answer with its numbers.
        change: What would change it, "" where nothing is missing.
    """

    title: str
    standing: str
    sentence: str
    change: str


@dataclass(frozen=True)
class GlassView:
    """One answered glass for the chart over time.

    Attributes:
        level: Multiple of the working threshold, total and actual; None if not known.
        outcome: "right", "wrong", "open" (perceived, no name) or "missed".
        said: What was said, "" for nothing; user text, escape it.
        counts: Whether it is one of the counted glasses.
    """

    day: date
    level: float | None
    method: str
    outcome: str
    said: str
    counts: bool


@dataclass(frozen=True)
class ThresholdPoint:
    """The threshold on one day by all own answers: best guess and 90 % interval, multiples."""

    day: date
    mean: float
    low: float
    high: float


@dataclass(frozen=True)
class PlainFigures:
    """The sums an auditor redoes, for one panellist and compound over all counted glasses.

    Attributes:
        wilson: 95 % limits of the share named right; None without glasses.
        jeffreys: 95 % limits, the other common way.
        exact: 95 % limits that never cover too seldom (Clopper-Pearson).
        run: What the run of counted glasses has shown, between lines after ISO 16820; "" without.
        choice_right: Right answers in forced-choice sets (3-AFC, triangle, duo-trio, 2-AFC).
        choice_sets: Sets answered.
        chance_by_guessing: Exact chance of at least so many right by guessing; None without sets.
        best_estimate: Best-estimate threshold of the latest ascending series, a multiple, after
            ASTM E679; None without one.
        best_estimate_edge: "below" or "above" where the series ended at its edge, else "".
    """

    wilson: tuple[float, float] | None
    jeffreys: tuple[float, float] | None
    exact: tuple[float, float] | None
    run: str
    choice_right: int
    choice_sets: int
    chance_by_guessing: float | None
    best_estimate: float | None
    best_estimate_edge: str


@dataclass(frozen=True)
class RecordRow:
    """One compound on a panellist's record.

    Attributes:
        chance_right: Best guess of the chance to name it right at the reference level.
        low: Where the range drawn begins (15 % point on the person's own answers).
        high: Where it ends (95 % point).
        density: 100 numbers that sum to 1: own chance in hundredths; () without glasses.
        missing: What is missing or worth knowing, in words; may be empty.
        history: Every glass of the compound, oldest first.
    """

    compound: str
    label: str
    is_critical: bool
    cell: CellView
    chance_right: float | None
    low: float | None
    high: float | None
    density: tuple[float, ...]
    missing: str
    history: tuple[GlassView, ...]
    figures: PlainFigures


@dataclass(frozen=True)
class Mixup:
    """How often one compound was taken for another ("nothing" when it was missed)."""

    served: str
    said: str
    glasses: int


@dataclass(frozen=True)
class RecordView:
    """One panellist's record for one beer family.

    Attributes:
        since: Day of the first session on record.
        blanks: Blanks tasted in the window of the false-call rule.
        false_calls: Of these, blanks in which a compound was named.
        possible_background: Calls in blanks that the base beer may explain.
        needed: Share that must be named right (.70 by default), where the dashed line stands.
        reference_level: Level at which the chance is stated, a multiple.
        mixups: Last 12 months, most frequent first.
        mixed_up: A sentence for each pair that is mixed up for sure enough, over all time.
        people: Everybody on record, to move between them.
        reasons: The seat verdict with everything behind it; None where it was not asked for.
        unfit: How many answers are kept and not for qualification, and why; "" for none.
    """

    as_of: date
    family: Choice
    families: tuple[Choice, ...]
    people: tuple[Choice, ...]
    person: PersonView
    since: date | None
    blanks: int
    false_calls: int
    possible_background: int
    needed: float
    reference_level: float
    answer: str
    catch: str
    lead: str
    rules: tuple[RuleLine, ...]
    rows: tuple[RecordRow, ...]
    mixups: tuple[Mixup, ...]
    mixed_up: tuple[str, ...]
    sessions_attended: int
    sessions_offered: int
    last_seen: date | None
    reasons: ReasonView | None = None
    unfit: str = ""
