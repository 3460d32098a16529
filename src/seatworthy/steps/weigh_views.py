"""What is shown of a weighed call."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from seatworthy.steps.tasted import Tasted
from seatworthy.steps.views import Choice

Mark = Literal["start", "called", "other", "silent", "nowhere"]


@dataclass(frozen=True)
class Question:
    """What somebody asks to have weighed.

    Attributes:
        family: Key of the beer family.
        label: What the beer is called ("Tank 12").
        words: What each taster said.
        is_blind: Whether they tasted blind, before any talk.
        batch_id: The batch, None for a beer that is not on record.
        sample_id: The sample of a sitting, None for words that were typed in.
    """

    family: str
    label: str
    words: tuple[Tasted, ...]
    is_blind: bool = True
    batch_id: str | None = None
    sample_id: str | None = None


@dataclass(frozen=True)
class Possibility:
    """One thing the beer may have.

    Attributes:
        label: In plain words.
        chance: How likely.
        limits: Range that holds eight chances in ten.
        is_leading: Whether it is what the call is about.
    """

    label: str
    chance: float
    limits: tuple[float, float]
    is_leading: bool


@dataclass(frozen=True)
class RungLine:
    """One row of the ladder.

    Attributes:
        head: "Bo said DMS".
        notes: One or two short lines under it.
        chance: Chance after this word.
        mark: How it is drawn.
    """

    head: str
    notes: tuple[str, ...]
    chance: float
    mark: Mark


@dataclass(frozen=True)
class OutcomeLine:
    """What may come of the next step.

    Attributes:
        head: "If all three say DMS".
        after: Chance of what the call is about then; None where there is nothing to compute.
        action: What that means.
        chance: How likely this outcome is.
    """

    head: str
    after: float | None
    action: str
    chance: float | None


@dataclass(frozen=True)
class StepLine:
    """One way to go on.

    Attributes:
        kind: "retaste", "triangle", "laboratory" or "nothing".
        sentence: What to do.
        lines: What may come of it.
        bits: What it is expected to tell.
        told: The same in words.
        people: Person ids of those who taste.
    """

    kind: str
    sentence: str
    lines: tuple[OutcomeLine, ...]
    bits: float
    told: str
    people: tuple[str, ...]


@dataclass(frozen=True)
class WeighedView:
    """A weighed call.

    Attributes:
        question: What was asked.
        family_label: The beer family as it is shown.
        where: Small words on top.
        answer: First half of the sentence.
        catch: The half that needs a person, "" if nothing does.
        lead: Who said what, and what it means.
        refusal: Why no chance is given; "" where one is. Then all that follows is empty.
        about: What the ladder is about ("DMS"); "" where it is any fault.
        possibilities: What the beer may have.
        rungs: The ladder, from what was known before.
        step: The next step; None without a chance.
        others: Other steps.
        if_talked: What the number would be worth if they had talked.
        assumptions: Small print.
        chances: Chance by "nothing", compound key and "unlisted", with 8 decimals in the record.
        in_words: Whether people's scores are left out.
    """

    question: Question
    family_label: str
    where: tuple[str, ...]
    answer: str
    catch: str
    lead: str
    refusal: str
    about: str
    possibilities: tuple[Possibility, ...]
    rungs: tuple[RungLine, ...]
    step: StepLine | None
    others: tuple[StepLine, ...]
    if_talked: str
    assumptions: tuple[str, ...]
    chances: tuple[tuple[str, float], ...]
    in_words: bool


@dataclass(frozen=True)
class KeptLine:
    """One weighed call on record.

    Attributes:
        what: What it was about, in words.
        chance: The chance given.
        outcome: What the beer really had, in words; "" if nobody said so yet.
        is_confirmed: Whether that is what the call was about; None if not known.
    """

    weighing_id: str
    weighed_on: date
    label: str
    family_label: str
    what: str
    chance: float
    outcome: str
    is_confirmed: bool | None


@dataclass(frozen=True)
class BandLine:
    """Calls given about so much, and how many were confirmed.

    Attributes:
        given: Mean chance given; None without a call.
        calls: Calls whose truth is known.
        confirmed: Of these.
        limits: 90 % limits of the share; None where there are too few.
        sentence: The same in a sentence.
    """

    head: str
    given: float | None
    calls: int
    confirmed: int
    limits: tuple[float, float] | None
    sentence: str


@dataclass(frozen=True)
class KeptView:
    """All weighed calls on record.

    Attributes:
        lines: The latest first.
        bands: The calibration, lowest chance first.
        sentence: What it shows, in one sentence.
    """

    lines: tuple[KeptLine, ...]
    bands: tuple[BandLine, ...]
    sentence: str


@dataclass(frozen=True)
class KeptWeighing:
    """One weighed call as it was kept.

    Attributes:
        view: Weighed again from the record as it stood then.
        differs: Where today's program weighs that record otherwise, a sentence; else "".
        outcome: What was stated of the truth, in a sentence; "" if nothing yet.
        digest: Of the text that was sealed.
        chances_then: What was given then, by "nothing", compound key and "unlisted".
    """

    weighing_id: str
    weighed_on: date
    view: WeighedView
    differs: str
    outcome: str
    digest: str
    chances_then: tuple[tuple[str, float], ...]


@dataclass(frozen=True)
class ShareLine:
    """How often such beers have something.

    Attributes:
        what: Compound key or "unlisted".
        share: The share in use.
        words: The same in words ("1 in 50").
        origin: Where it comes from.
    """

    what: str
    label: str
    share: float
    words: str
    origin: str


@dataclass(frozen=True)
class ToWeigh:
    """A beer of a release sitting that nobody has weighed yet.

    Attributes:
        sample_id: Of its jug.
        label: "Tank 12, House Pils".
        session_label: The sitting's session.
        session_on: Its day.
    """

    sample_id: str
    label: str
    session_label: str
    session_on: date


@dataclass(frozen=True)
class Choices:
    """What a page offers to choose from.

    Attributes:
        families: Beer families.
        people: Everybody on record.
        compounds: Every compound of the vocabulary.
    """

    families: tuple[Choice, ...]
    people: tuple[Choice, ...]
    compounds: tuple[Choice, ...]
