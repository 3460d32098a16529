"""A rulebook: the numbers people are judged by, read from a TOML file and checked on reading."""

from dataclasses import dataclass, field, fields
from datetime import date
from typing import Any

Item = tuple[str, ...]  # one critical compound, or a group of which one counts


def number(low: float, high: float) -> Any:  # noqa: ANN401
    """A field that must be a number between two limits, both allowed."""
    return field(metadata={"low": low, "high": high})


@dataclass(frozen=True)
class Counted:
    """Which glasses count for or against a seat: levels as multiples, months back."""

    lowest_level: float = number(0.1, 100)
    highest_level: float = number(0.1, 100)
    months: int = number(1, 60)


@dataclass(frozen=True)
class CompoundRule:
    """When a compound is met or not met, on a person's own answers alone.

    Attributes:
        reference_level: Multiple of the working threshold at which the rate is meant.
        named_right: Least rate of right names, a fraction.
        met_when_sure: Least chance that the rate is reached.
        glasses: Least counted glasses for a met.
        days: Least distinct days among them.
        not_met_when_below: Greatest chance for a not met.
        not_met_glasses: Least counted glasses for a not met.
        met_stands_weeks: How long a met stands from the last day it was met.
        met_ends_below: Chance under which it ends at once.
    """

    reference_level: float = number(0.5, 20)
    named_right: float = number(0.05, 0.99)
    met_when_sure: float = number(0.5, 0.999)
    glasses: int = number(1, 100)
    days: int = number(1, 50)
    not_met_when_below: float = number(0.001, 0.5)
    not_met_glasses: int = number(1, 100)
    met_stands_weeks: int = number(1, 260)
    met_ends_below: float = number(0.0, 0.99)


@dataclass(frozen=True)
class InsensitiveRule:
    """When somebody does not smell a compound: chance that the own threshold is that high."""

    threshold_above: float = number(1, 32)
    sure: float = number(0.5, 0.999)
    strong_level: float = number(1, 100)
    strong_glasses: int = number(1, 100)


@dataclass(frozen=True)
class FalseCallRule:
    """Ceiling of the true rate of calls in blanks, how sure, on how many blanks."""

    ceiling: float = number(0.01, 0.9)
    sure: float = number(0.5, 0.999)
    blanks: int = number(1, 500)
    months: int = number(1, 60)


@dataclass(frozen=True)
class DuplicateRule:
    """How improbable so little agreement must be before it is flagged."""

    improbable: float = number(0.0001, 0.2)
    months: int = number(1, 60)


@dataclass(frozen=True)
class AttendanceRule:
    """Share of the sessions offered, and the longest absence."""

    share: float = number(0.0, 1.0)
    months: int = number(1, 60)
    sessions: int = number(1, 200)
    longest_absence_days: int = number(1, 1000)


@dataclass(frozen=True)
class SeatRule:
    """What a seat for one beer family asks for, and how long a decision is valid."""

    critical_met: int = number(1, 40)
    critical_not_met: int = number(0, 40)
    valid_months: int = number(1, 60)
    notice_days: int = number(0, 365)


@dataclass(frozen=True)
class PanelRule:
    """What a panel as a whole asks for."""

    quorum: int = number(1, 40)
    people_per_compound: int = number(1, 40)
    from_other_crews: int = number(0, 40)
    callers_for_fault: int = number(1, 40)
    callers_for_retaste: int = number(1, 40)


@dataclass(frozen=True)
class Rulebook:
    """All rules of one version.

    Attributes:
        counts_from: First day on which verdicts are given by it.
        critical: Critical compounds for beer families without a list of their own.
    """

    name: str
    version: int
    counts_from: date
    counted: Counted
    compound: CompoundRule
    insensitive: InsensitiveRule
    false_calls: FalseCallRule
    duplicates: DuplicateRule
    attendance: AttendanceRule
    seat: SeatRule
    panel: PanelRule
    critical: tuple[Item, ...]


SECTIONS = {
    entry.name: entry.type for entry in fields(Rulebook) if isinstance(entry.type, type)
    and hasattr(entry.type, "__dataclass_fields__")
}  # fmt: skip
