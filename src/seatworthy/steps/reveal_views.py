"""What is shown of a closed session: standings that changed, samples, and one's own page."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from seatworthy.sessions.wording import plain
from seatworthy.steps.views import Choice


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
class Rated:
    """What some glasses of one sample were rated: how many, the median, the lowest and highest."""

    ratings: int
    median: Decimal
    lowest: Decimal
    highest: Decimal

    @property
    def words(self) -> str:
        """As "median 6 (3 to 8)"; "6" where there is one rating, "all 6" where all are the same."""
        if self.lowest < self.highest:
            return f"median {plain(self.median)} ({plain(self.lowest)} to {plain(self.highest)})"
        return f"{'all ' * (self.ratings > 1)}{plain(self.median)}"


@dataclass(frozen=True)
class SampleResult:
    """What came of one sample.

    Attributes:
        answers: Answers that count; own words that still wait for a meaning are not among them.
        named_right: Of these, right.
        other_names: Of these, another name.
        unnamed: Of these, noticed without a name.
        unfit: Why its answers are kept and not for qualification, "" if they are.
        is_suspect: Whether nearly everybody missed what they usually find.
        sentence: For a suspect one, what speaks for looking at the bottle first.
        asks: Label inside a sentence of the compound it was asked about; "" for none.
        rated: What it was rated, where it was.
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
    unnamed: int
    is_aside: bool
    is_suspect: bool
    sentence: str
    unfit: str = ""
    asks: str = ""
    rated: Rated | None = None


@dataclass(frozen=True)
class ChangeLine:
    """One correction, one answer changed by whoever gave it, or one glass or jug set aside or put back.

    Attributes:
        recorded_at: Local time.
        what: Code of the glass, or the jug.
        name: Whose glass, "" for a jug.
        kind: "corrected", "changed" (by the panellist, before the close), "set aside" or "put back".
        before: The answer before, "" unless it was corrected or changed.
        after: The answer since, likewise.
        by: Who signed, "" if nobody did.
    """

    recorded_at: datetime
    what: str
    name: str
    kind: str
    before: str
    after: str
    reason: str
    by: str


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
    corrections: tuple[ChangeLine, ...] = ()


@dataclass(frozen=True)
class FeedbackGlass:
    """One of the person's own glasses.

    Attributes:
        was: What was in it ("Diacetyl, 3×", "nothing added").
        outcome: "right", "wrong" (another name), "open" (noticed, no name, or own words), "missed",
            or "rated" (neither right nor wrong).
        others: Other people who answered the same sample; None if fewer than four.
        others_right: Of these, right; None likewise.
        note: "" or why it doesn't count ("set aside", "you prepared it").
        codes: Of a forced-choice set, its codes from left to right; empty for a single glass, whose
            code is ``code``. A wrong pick is "missed".
        method: How it was asked about; a yes to nothing is "wrong".
        others_rated: What the others rated it; None unless it was rated, by four others or more.
    """

    position: int
    code: str
    was: str
    said: str
    outcome: str
    others: int | None
    others_right: int | None
    note: str
    codes: tuple[str, ...] = ()
    method: str = "naming"
    others_rated: Rated | None = None


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
        record: The newest entry of the record it was made from, for the foot of its paper; "" for none.
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
    record: str = ""
