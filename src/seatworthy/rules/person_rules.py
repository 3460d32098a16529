"""The rules that look at a whole person: calls in blanks, duplicates, ratings, attendance."""

from dataclasses import dataclass

from seatworthy.rules.rule_fields import number, yes_or_no


@dataclass(frozen=True)
class InsensitiveRule:
    """When somebody does not smell a compound: chance that the own threshold is that high."""

    threshold_above: float = number(1, 32)
    sure: float = number(0.5, 0.999)
    strong_level: float = number(1, 100)
    strong_glasses: int = number(1, 100)


@dataclass(frozen=True)
class FalseCallRule:
    """``by = "chance"``: ceiling of the true rate of calls in blanks, how sure, on how many."""

    ceiling: float = number(0.01, 0.9)
    sure: float = number(0.5, 0.999)
    blanks: int = number(1, 500)
    months: int = number(1, 60)
    asked_for: bool = yes_or_no(default=True)


@dataclass(frozen=True)
class FalseCallShare:
    """``by = "share"``: ceiling of the bare share of calls in blanks, on how many."""

    ceiling: float = number(0.0, 0.9)
    blanks: int = number(1, 500)
    months: int = number(1, 60)
    asked_for: bool = yes_or_no(default=True)


@dataclass(frozen=True)
class DuplicateRule:
    """``by = "odds"``: how improbable so little agreement must be before it is flagged."""

    improbable: float = number(0.0001, 0.2)
    months: int = number(1, 60)
    pairs: int = number(1, 100, 6)
    asked_for: bool = yes_or_no(default=False)


@dataclass(frozen=True)
class DuplicateShare:
    """``by = "agreement"``: least share of hidden pairs both right or both not."""

    share: float = number(0.05, 1.0)
    pairs: int = number(1, 100)
    months: int = number(1, 60)
    asked_for: bool = yes_or_no(default=True)


@dataclass(frozen=True)
class DuplicateDifference:
    """``by = "difference"``: greatest mean squared difference of hidden pairs of ratings."""

    at_most: float = number(0.0001, 10000)
    pairs: int = number(1, 100)
    months: int = number(1, 60)
    asked_for: bool = yes_or_no(default=True)


@dataclass(frozen=True)
class DeviationRule:
    """Greatest mean squared distance of ratings from the panel's median of the same sample."""

    at_most: float = number(0.0001, 10000)
    glasses: int = number(1, 200)
    months: int = number(1, 60)
    asked_for: bool = yes_or_no(default=True)


@dataclass(frozen=True)
class OrderRule:
    """Rated glasses of one compound in one session stand in the order of their levels.

    Attributes:
        swaps_at_most: Greatest number of neighbouring pairs the wrong way round, in the worst
            series.
        series: Least number of series of three levels or more.
        months: Window in months.
    """

    swaps_at_most: int = number(0, 20)
    series: int = number(1, 50)
    months: int = number(1, 60)
    asked_for: bool = yes_or_no(default=True)


@dataclass(frozen=True)
class AttendanceRule:
    """Share of the sessions offered, and the longest absence."""

    share: float = number(0.0, 1.0)
    months: int = number(1, 60)
    sessions: int = number(1, 200)
    longest_absence_days: int = number(1, 1000)
    asked_for: bool = yes_or_no(default=True)


@dataclass(frozen=True)
class KnowsBeerRule:
    """``by = "chance"``: how far apart own beer and others must lie for somebody, and how sure.

    Attributes:
        apart: Least d' between glasses of the beer and the others, in standard deviations of one
            glass.
        sure: Least chance of that (weak prior).
        own_glasses: Least glasses of the beer itself.
        other_glasses: Least glasses of another: aged, of another batch, of a sister brand.
        months: Window in months.
        beers: Least beers of the family that must be known; all of them where it has fewer.
    """

    apart: float = number(0.2, 3.0)
    sure: float = number(0.7, 0.999)
    own_glasses: int = number(1, 200)
    other_glasses: int = number(1, 200)
    months: int = number(1, 60)
    beers: int = number(1, 20, 1)
    asked_for: bool = yes_or_no(default=True)


@dataclass(frozen=True)
class KnowsBeerShare:
    """``by = "share"``: least share of yes to the beer itself, greatest share of yes to others."""

    own_share: float = number(0.05, 1.0)
    other_share: float = number(0.0, 0.95)
    own_glasses: int = number(1, 200)
    other_glasses: int = number(1, 200)
    months: int = number(1, 60)
    beers: int = number(1, 20, 1)
    asked_for: bool = yes_or_no(default=True)
