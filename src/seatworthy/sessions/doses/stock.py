"""A stock: one lot of something that doses are taken from."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Final

from seatworthy.sessions.wording import at_start, day_words

# What `Stock.strength` counts, by kind.
SOLUTION: Final = "solution"  # micrograms in a microlitre
REFERENCE: Final = "reference"  # times the working threshold, times litres, in a microlitre
UNIT: Final = "unit"  # times the working threshold, times litres, in one whole unit
KINDS: Final = (SOLUTION, REFERENCE, UNIT)


@dataclass(frozen=True)
class Stock:
    """One lot on the bench.

    Attributes:
        stock_id: Its id.
        compound: Key of the compound in it.
        label: As it stands in sentences and on paper ("diacetyl 1 g/l, lot 7").
        lot: Its lot.
        kind: One of `KINDS`.
        strength: Micrograms in a microlitre ("solution"); or how many times the working threshold
            one microlitre ("reference") or one unit ("unit") gives in one litre. More than 0.
        left: Microlitres or whole units that are left; None if nobody knows.
        dead_ul: Microlitres that can't be got out of its vial; 0 for units.
        ethanol_percent: Ethanol in its solvent, percent by volume; 0 for units.
        opened_on: The day it was opened; None if it is closed or nobody knows.
        expires_on: The last day on which it may be used; None if nobody knows.
        is_used_up: Whether somebody said that nothing is left.
        is_food_grade: Whether it may be tasted.
        is_bought_dilution: Whether it was bought as a dilution fit for serving, or made from one.
        is_narrow: Whether only a fine tip reaches its bottom.
        strength_off_percent: How far its strength may be off, percent; 0 if nobody knows.
    """

    stock_id: str
    compound: str
    label: str
    lot: str
    kind: str
    strength: Decimal
    left: Decimal | None = None
    dead_ul: Decimal = Decimal(0)
    ethanol_percent: Decimal = Decimal(0)
    opened_on: date | None = None
    expires_on: date | None = None
    is_used_up: bool = False
    is_food_grade: bool = True
    is_bought_dilution: bool = False
    is_narrow: bool = False
    strength_off_percent: Decimal = Decimal(0)


def stock_fault(stock: Stock, on: date, serve: str) -> str:
    """Why nothing may be dosed from it on a day, and what to do; "" if it may be used.

    Args:
        stock: The lot.
        on: The day.
        serve: "yes", "prediluted" or "no", as in the vocabulary.
    """
    why = _why_not(stock, on, serve)
    return f"{at_start(stock.label)} {why}" if why else ""


def _why_not(stock: Stock, on: date, serve: str) -> str:
    if serve == "no":
        return "holds a compound that is not for serving: take it out of the session."
    if stock.is_used_up:
        return "is used up: open another lot."
    if stock.expires_on is not None and stock.expires_on < on:
        return (
            f"has expired by {day_words(on)}, its last day is {day_words(stock.expires_on)}: take "
            "another lot."
        )
    if stock.left is not None and stock.left <= stock.dead_ul:
        return "has nothing left that can be taken out: open another lot."
    if not stock.is_food_grade:
        return "is not food grade: nobody tastes it; take a food-grade lot."
    if serve == "prediluted" and not stock.is_bought_dilution:
        return (
            "was not bought as a dilution, and this compound is served from a bought food-grade "
            "dilution only: take such a lot."
        )
    return ""
