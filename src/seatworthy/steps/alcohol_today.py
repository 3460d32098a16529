"""What of alcohol everybody took today already, and what is planned for them still."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from seatworthy.sessions.alcohol import taken_g
from seatworthy.sessions.wish import Limits
from seatworthy.steps.desk import Desk


@dataclass(frozen=True)
class AlcoholToday:
    """One person's day in planned sessions.

    Attributes:
        had_g: Grams that count as swallowed, of glasses that were answered.
        to_come_g: The same of glasses poured or planned that wait for an answer.
        limit_g: The least of the limits set for that day's sessions.
        unknown: Sessions of the day of which no volume is on record.
    """

    had_g: Decimal
    to_come_g: Decimal
    limit_g: Decimal
    unknown: tuple[str, ...]

    @property
    def is_over(self) -> bool:
        """Whether no more may be taken."""
        return self.had_g >= self.limit_g

    @property
    def words(self) -> str:
        """In a few words; "" where nothing is to be said."""
        parts = []
        if self.had_g:
            over = ", the limit" if self.is_over else ""
            parts.append(
                f"{self.had_g:.1f} g of alcohol today{over or f' of {float(self.limit_g):g} g'}"
            )
        if self.to_come_g:
            parts.append(f"{self.to_come_g:.1f} g planned")
        if self.unknown:
            parts.append("more today, volume not on record")
        return ", ".join(parts)


NOTHING_TAKEN = AlcoholToday(Decimal(0), Decimal(0), Limits().alcohol_g, ())


def alcohol_today(desk: Desk, day: date) -> Mapping[str, AlcoholToday]:
    """Alcohol by person who has a glass on a day; see `NOTHING_TAKEN` for everybody else."""
    own: dict[str, list[dict[str, Any]]] = defaultdict(list)
    for row in desk.store.rows("tasted_today", session_on=day):
        own[row["person_id"]].append(row)
    return {person: _added(rows) for person, rows in own.items()}


def _added(rows: list[dict[str, Any]]) -> AlcoholToday:
    known = [row for row in rows if row["volume_ml"] is not None]
    had = (_grams(row, row["had"], with_control=bool(row["had"])) for row in known)
    to_come = (
        _grams(row, row["to_come"], with_control=not row["had"]) for row in known if row["is_open"]
    )
    return AlcoholToday(
        had_g=sum(had, Decimal(0)),
        to_come_g=sum(to_come, Decimal(0)),
        limit_g=min((row["alcohol_limit_g"] for row in known), default=Limits().alcohol_g),
        unknown=tuple(row["label"] for row in rows if row["volume_ml"] is None and row["had"]),
    )


def _grams(row: dict[str, Any], glasses: int, *, with_control: bool) -> Decimal:
    """Of so many glasses; a control, if there is one, was or will be tasted with the first."""
    volume_ml = (glasses + bool(glasses and row["has_control"] and with_control)) * row["volume_ml"]
    share = row["spat_share"] if row["spits"] else Decimal(1)
    return taken_g(volume_ml, row["abv_percent"], share)
