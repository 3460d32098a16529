"""What stands on the bench as the doses need it: stocks, pipettes, vessels, and limits of a compound."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any, Final

from seatworthy.intake.cells import rounded
from seatworthy.sessions.doses.equipment import Container, Pipette
from seatworthy.sessions.doses.stock import Stock
from seatworthy.steps.desk import Desk

# Multiples of the working threshold above which nothing is served unless the brewery says so.
# Ours; common practice, no source.
USUAL_CEILING: Final = Decimal(10)


@dataclass(frozen=True)
class Limit:
    """What the brewery says of one compound itself; None where the usual holds.

    Attributes:
        keeps_h: Hours for which a preparation keeps between dosing and serving.
        keeps_weak_h: The same at the working threshold or below.
        highest_level: Strongest level that may be served, multiples of the working threshold.
        since: The day from which that counts.
    """

    keeps_h: Decimal | None = None
    keeps_weak_h: Decimal | None = None
    highest_level: Decimal | None = None
    since: date | None = None


def stocks(desk: Desk) -> tuple[Stock, ...]:
    """Every lot on record, by compound and the oldest first; used up and expired ones too."""
    return tuple(stock_of(row) for row in desk.store.rows("bench_stocks"))


def stock_of(row: dict[str, Any]) -> Stock:
    """A row of the query ``bench_stocks`` as a stock."""
    return Stock(
        stock_id=row["stock_id"],
        compound=row["compound"],
        label=row["label"],
        lot=row["lot"],
        kind=row["kind"],
        strength=rounded_to_twelve(row["strength"]),
        left=_left(row),
        dead_ul=rounded(row["dead_ul"]),
        ethanol_percent=rounded(row["ethanol_percent"]),
        opened_on=row["opened_on"],
        expires_on=row["expires_on"],
        is_used_up=row["is_used_up"],
        is_food_grade=row["is_food_grade"],
        is_bought_dilution=row["is_bought_dilution"],
        is_narrow=row["is_narrow"],
        strength_off_percent=rounded(row["strength_off_percent"]),
    )


def rounded_to_twelve(strength: Decimal) -> Decimal:
    """A strength as the store keeps it, twelve decimals, without needless zeros."""
    text = f"{strength:.12f}"
    return Decimal(text.rstrip("0").rstrip("."))


def _left(row: dict[str, Any]) -> Decimal | None:
    """What was last found, else all of it, less what was taken since; None if nobody knows."""
    before = row["full_amount"] if row["found_left"] is None else row["found_left"]
    return None if before is None else rounded(max(before - row["used"], Decimal(0)))


def pipettes(desk: Desk) -> tuple[Pipette, ...]:
    """Those in use, the smallest first."""
    return tuple(
        Pipette(
            pipette_id=row["pipette_id"],
            label=row["label"],
            smallest_ul=rounded(row["smallest_ul"]),
            largest_ul=rounded(row["largest_ul"]),
            step_ul=rounded(row["step_ul"]),
            is_fine=row["is_fine"],
            bias_ul=_maybe(row["bias_ul"]),
            spread_ul=_maybe(row["spread_ul"]),
        )
        for row in desk.store.rows("bench_pipettes")
        if row["is_in_use"]
    )


def containers(desk: Desk) -> tuple[Container, ...]:
    """Kinds of vessels in use, the smallest first."""
    return tuple(
        Container(
            container_id=row["container_id"],
            label=row["label"],
            kind=row["kind"],
            content_ml=rounded(row["content_ml"]),
            fill_off_ml=rounded(row["fill_off_ml"]),
            headspace_ml=rounded(row["headspace_ml"]),
            dead_ml=rounded(row["dead_ml"]),
        )
        for row in desk.store.rows("bench_containers")
        if row["is_in_use"]
    )


def limits_on(desk: Desk, day: date) -> dict[str, Limit]:
    """What is in force on a day, by compound; those of which nothing was stated are absent."""
    return {
        row["compound"]: Limit(
            _maybe(row["keeps_h"]),
            _maybe(row["keeps_weak_h"]),
            _maybe(row["highest_level"]),
            row["valid_from_on"],
        )
        for row in desk.store.rows("bench_limits", on_day=day)
    }


def highest_level(limit: Limit | None) -> Decimal:
    """The strongest level that may be served of a compound: its own, else the usual ceiling."""
    return (limit and limit.highest_level) or USUAL_CEILING


def _maybe(number: Decimal | None) -> Decimal | None:
    return None if number is None else rounded(number)
