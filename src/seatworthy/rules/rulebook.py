"""A rulebook: what people are judged by, read from a TOML file and checked on reading.

A rulebook is a set of sections. One, ``[compound]``, says how a compound is judged, by one of six
kinds of rule; ``[[also]]`` adds further rules of these kinds; the others concern a person, a seat
or a panel. A section that may be left out is None then: the rulebook does not ask for it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from datetime import date
from typing import Final

from seatworthy.rules.compound_rules import COMPOUND_KINDS, AlsoRule, CompoundRule, Counted
from seatworthy.rules.person_rules import (
    AttendanceRule,
    DeviationRule,
    DuplicateDifference,
    DuplicateRule,
    DuplicateShare,
    FalseCallRule,
    FalseCallShare,
    InsensitiveRule,
    KnowsBeerRule,
    KnowsBeerShare,
    OrderRule,
)
from seatworthy.rules.rule_fields import number, yes_or_no

Item = tuple[str, ...]  # one critical compound, or a group of which one counts


@dataclass(frozen=True)
class Asked:
    """What the estimate is asked, in every rulebook: the rate of right names at a level.

    Attributes:
        reference_level: Multiple of the working threshold at which the rate is meant.
        named_right: Least rate of right names, a fraction.
    """

    reference_level: float = number(0.5, 20, 3.0)
    named_right: float = number(0.05, 0.99, 0.70)


@dataclass(frozen=True)
class SeatRule:
    """What a seat for one beer family asks for, and how long a decision is valid.

    Attributes:
        critical_met: Least critical compounds met; all of them where a family lists fewer.
        critical_not_met: Most critical compounds not met.
        valid_months: How long a signed seat is valid.
        notice_days: How long before its end it is said to be due.
        grace_days: How long after its end a seat is still honoured, said on every page.
    """

    critical_met: int = number(0, 40)
    critical_not_met: int = number(0, 40)
    valid_months: int = number(1, 120)
    notice_days: int = number(0, 365)
    grace_days: int = number(0, 90, 0)


@dataclass(frozen=True)
class ProbationRule:
    """The time between a first grant and a full seat: sessions attended since, weeks since."""

    sessions: int = number(0, 50)
    weeks: int = number(0, 104)


@dataclass(frozen=True)
class StartUpRule:
    """Until a family has so many seats, fewer critical compounds are enough."""

    until_seats: int = number(1, 40)
    critical_met: int = number(0, 40)


@dataclass(frozen=True)
class RecheckRule:
    """The short recheck that brings somebody back after a pause, an absence or a suspension."""

    glasses: int = number(1, 50)
    right: int = number(0, 50)


@dataclass(frozen=True)
class PanelRule:
    """What a panel as a whole asks for.

    Attributes:
        quorum: Least people.
        people_per_compound: Least people who meet a critical compound, each.
        from_other_crews: Least people who did not make the batch.
        trades: Least different trades or departments among them.
        callers_for_fault: Independent callers that make a fault call.
        callers_for_retaste: Callers that make a blind retaste.
        probation_counts: Whether somebody on probation may sit.
    """

    quorum: int = number(1, 40)
    people_per_compound: int = number(0, 40)
    from_other_crews: int = number(0, 40)
    callers_for_fault: int = number(1, 40)
    callers_for_retaste: int = number(1, 40)
    trades: int = number(1, 10, 1)
    probation_counts: bool = yes_or_no(default=True)


@dataclass(frozen=True)
class FamilyLists:
    """Critical and expected compounds of one beer family."""

    critical: tuple[Item, ...]
    expected: tuple[str, ...] = ()


@dataclass(frozen=True)
class Rulebook:
    """All rules of one version.

    Attributes:
        counts_from: First day on which verdicts are given by it.
        about: What it is for and what it isn't, said on screens.
        follows: The published practice it follows; "" for our own.
        critical: Critical compounds for beer families without a list of their own.
        families: Lists of beer families that go before those of the shelf.
        knows_beer: What is asked of knowing the own beers; most rulebooks ask nothing.
    """

    name: str
    version: int
    counts_from: date
    about: str
    follows: str
    counted: Counted
    asked: Asked
    compound: CompoundRule
    also: tuple[AlsoRule, ...]
    insensitive: InsensitiveRule | None
    false_calls: FalseCallRule | FalseCallShare | None
    duplicates: DuplicateRule | DuplicateShare | DuplicateDifference | None
    deviation: DeviationRule | None
    order: OrderRule | None
    attendance: AttendanceRule | None
    seat: SeatRule
    probation: ProbationRule | None
    start_up: StartUpRule | None
    recheck: RecheckRule | None
    panel: PanelRule
    critical: tuple[Item, ...]
    families: Mapping[str, FamilyLists]
    knows_beer: KnowsBeerRule | KnowsBeerShare | None = None


# Sections of one kind, and those whose kind ``by`` chooses (its default first).
SECTIONS: Final[Mapping[str, type]] = {
    "counted": Counted,
    "asked": Asked,
    "insensitive": InsensitiveRule,
    "deviation": DeviationRule,
    "order": OrderRule,
    "attendance": AttendanceRule,
    "seat": SeatRule,
    "probation": ProbationRule,
    "start_up": StartUpRule,
    "recheck": RecheckRule,
    "panel": PanelRule,
}
CHOSEN_BY: Final[Mapping[str, Mapping[str, type]]] = {
    "compound": COMPOUND_KINDS,
    "false_calls": {"chance": FalseCallRule, "share": FalseCallShare},
    "duplicates": {
        "odds": DuplicateRule,
        "agreement": DuplicateShare,
        "difference": DuplicateDifference,
    },
    "knows_beer": {"chance": KnowsBeerRule, "share": KnowsBeerShare},
}
NEEDED: Final[Sequence[str]] = ("counted", "compound", "seat", "panel", "critical")
EVERY_SECTION: Final = tuple(
    entry.name for entry in fields(Rulebook)
    if entry.name not in ("name", "version", "counts_from", "about", "follows")
)  # fmt: skip
