"""Every verdict as one flat row, for the terminal, a spreadsheet or another program."""

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from datetime import date
from math import isnan
from typing import Any

from seatworthy.rules.calendar_months import months_before
from seatworthy.rules.verdict import Verdict
from seatworthy.stats.proportions import jeffreys_interval, wilson_interval
from seatworthy.steps.cell_days import Cell, cell_place
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import Judged
from seatworthy.steps.labels import short_label

SEAT = "seat"


@dataclass(frozen=True)
class VerdictRow:
    """One verdict.

    Attributes:
        subject: "seat", another rule's name, or a compound's short name.
        is_critical: Whether the subject is a critical compound of the family.
        standing: met, not_met, too_little, insensitive.
        named_right, glasses: Counted glasses (2 to 4 times threshold, last 12 months); None for rules.
        tasted, missed, wrong_names, names_open: All naming glasses of the last 12 months.
        wilson_low ... jeffreys_high: 95 % limits of the share named right.
        chance: Chance on own answers that the rate needed is reached.
        chance_pooled: The same with the panel's answers as background; shown, never decides.
        until: Last day on which a met stands if nothing more is poured.
    """

    as_of: date
    family: str
    panellist: str
    subject: str
    is_critical: bool
    standing: str
    named_right: int | None
    glasses: int | None
    tasted: int | None
    missed: int | None
    wrong_names: int | None
    names_open: int | None
    wilson_low: float | None
    wilson_high: float | None
    jeffreys_low: float | None
    jeffreys_high: float | None
    chance: float | None
    chance_pooled: float | None
    rate: float | None
    until: date | None
    sentence: str
    change: str

    def as_dict(self) -> dict[str, Any]:
        """Field by field, days as ISO text, for JSON."""
        found = asdict(self)
        return {k: v.isoformat() if isinstance(v, date) else v for k, v in found.items()}


def verdict_rows(desk: Desk, judged: Judged, person: str | None = None) -> Iterator[VerdictRow]:
    """Seat, rules and compounds of everybody (or one person), family by family."""
    tasted = _tasted(desk, judged)
    for family in judged.families:
        for who in judged.people:
            if person in (None, who):
                yield from _rules_of(judged, who, family)
                yield from _compounds_of(judged, who, family, tasted)


def _rules_of(judged: Judged, person: str, family: str) -> Iterator[VerdictRow]:
    seat = judged.seats[person, family]
    yield _row(judged, person, family, SEAT, seat.verdict, until=seat.until)
    for one in judged.answers(person, family):
        yield _row(judged, person, family, one.verdict.rule, one.verdict)


def _compounds_of(
    judged: Judged, person: str, family: str, tasted: dict[Cell, dict[str, Any]]
) -> Iterator[VerdictRow]:
    critical = [c for item in judged.critical[family] for c in item]
    own = [c for p, c, f in judged.cells if (p, f) == (person, family)]
    for compound in sorted(own, key=lambda c: (c not in critical, judged.labels[c])):
        cell = (person, compound, family)
        verdict, today = judged.cells[cell], judged.days[cell]
        place = cell_place(judged.evidence, cell)
        wilson = _limits(wilson_interval(today.hits, today.glasses))
        jeffreys = _limits(jeffreys_interval(today.hits, today.glasses))
        counts = tasted.get(cell, {})
        yield _row(
            judged, person, family, short_label(judged.labels[compound]), verdict.verdict,
            is_critical=compound in critical,
            named_right=today.hits,
            glasses=today.glasses,
            tasted=counts.get("glasses", 0),
            missed=counts.get("misses", 0),
            wrong_names=counts.get("wrong_names", 0),
            names_open=counts.get("names_open", 0),
            wilson_low=wilson[0], wilson_high=wilson[1],
            jeffreys_low=jeffreys[0], jeffreys_high=jeffreys[1],
            chance=today.chance,
            chance_pooled=float(judged.followed.today.chance_met_pooled[place]),
            rate=float(judged.followed.today.rate_mean[place]),
            until=verdict.until,
        )  # fmt: skip


def _row(
    judged: Judged,
    person: str,
    family: str,
    subject: str,
    verdict: Verdict,
    *,
    is_critical: bool = False,
    **numbers: Any,  # noqa: ANN401
) -> VerdictRow:
    empty: dict[str, Any] = dict.fromkeys(
        (
            "named_right", "glasses", "tasted", "missed", "wrong_names", "names_open",
            "wilson_low", "wilson_high", "jeffreys_low", "jeffreys_high",
            "chance", "chance_pooled", "rate", "until",
        )
    )  # fmt: skip
    return VerdictRow(
        as_of=judged.as_of,
        family=judged.families[family],
        panellist=judged.people[person],
        subject=subject,
        is_critical=is_critical,
        standing=str(verdict.standing),
        sentence=verdict.sentence,
        change=verdict.change,
        **{**empty, **numbers},
    )


def _tasted(desk: Desk, judged: Judged) -> dict[Cell, dict[str, Any]]:
    after_on = months_before(judged.as_of, judged.rulebook.counted.months)
    rows = desk.store.rows("cell_counts", judged.known_at, after_on=after_on, until_on=judged.as_of)
    return {(row["person_id"], row["compound"], row["family"]): row for row in rows}


def _limits(interval: Any) -> tuple[float | None, float | None]:  # noqa: ANN401
    low, high = (float(limit) for limit in interval)
    return (None, None) if isnan(low) else (low, high)  # no glass counted: nothing is known
