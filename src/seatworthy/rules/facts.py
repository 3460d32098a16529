"""What the rules look at besides the estimates: single answers, dated, of one panellist.

Everything here is scored already, not set aside, and of a closed session; own words whose meaning
is still open, and glasses without a known level, are left out by whoever gathers it.
"""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Glass:
    """One scored glass with something in it, or one forced-choice set.

    Attributes:
        serving: Its id, by which a page shows it.
        day: Day of the session.
        session: Its id.
        compound: What was in it.
        method: "naming", "3afc", "triangle", "duo_trio", "2afc".
        level: Actual total level, a multiple of the working threshold.
        is_right: Named right, or the odd glass found.
        position: Place among the person's glasses, by day and serving order.
    """

    serving: str
    day: date
    session: str
    compound: str
    method: str
    level: float
    is_right: bool
    position: int = 0


@dataclass(frozen=True, slots=True)
class OwnEstimate:
    """One best-estimate threshold of an ascending series, a multiple of the working threshold."""

    day: date
    threshold: float


@dataclass(frozen=True, slots=True)
class RatedPair:
    """Two ratings of the same sample by the same person in one session."""

    day: date
    first: float
    second: float


@dataclass(frozen=True, slots=True)
class RatedGlass:
    """A rating beside the median of all ratings of the same sample (own one included)."""

    day: date
    rating: float
    median: float


@dataclass(frozen=True, slots=True)
class RatedSeries:
    """Ratings of one compound in one session, from the weakest level to the strongest."""

    day: date
    compound: str
    ratings: tuple[float, ...]
