"""What a record shows of one compound when it is opened: estimates in words, curve, and glasses.

Chances and shares are fractions, thresholds multiples of the working threshold; None where nothing
is known.
"""

from dataclasses import dataclass
from datetime import date

from seatworthy.steps.views import ThresholdPoint


@dataclass(frozen=True)
class Line:
    """One thing that the answers say.

    Attributes:
        title: What it is about, in a few words.
        words: What is known, with its numbers.
        is_flagged: Whether a person should look at it.
    """

    title: str
    words: str
    is_flagged: bool = False


@dataclass(frozen=True)
class WeighedGlass:
    """One glass behind an estimate.

    Attributes:
        beers: Label of the beer family; "" for the one the record is about.
        level: Multiple of the working threshold, total and actual; None if not known.
        outcome: "right", "wrong", "open" (perceived, no name) or "missed".
        said: What was said, "" for nothing; user text, escape it.
        counts: Whether it is one of the counted glasses.
        weight: What is left of it today, 0 to 1; None where the model cannot read it.
        pull: Log odds of "good enough" with it less without it; above 0 speaks for the person.
    """

    day: date
    beers: str
    level: float | None
    method: str
    outcome: str
    said: str
    counts: bool
    weight: float | None
    pull: float | None


@dataclass(frozen=True)
class CloserView:
    """One panellist and compound from near.

    Attributes:
        head: The threshold of today in one line.
        lines: What the answers say, most asked for first.
        curve: The threshold over time, each day with all own answers, those after it too.
        glasses: Every glass behind the estimate, the newest first.
    """

    compound: str
    label: str
    head: str
    lines: tuple[Line, ...]
    curve: tuple[ThresholdPoint, ...]
    glasses: tuple[WeighedGlass, ...]
