"""Dilutions: planned from a stock, and logged as a stock of their own."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any, Final

from seatworthy.sessions.doses.amounts import strength_words, ul_words
from seatworthy.sessions.doses.stock import SOLUTION, UNIT, stock_fault
from seatworthy.steps.bench_facts import rounded_to_twelve, stock_of
from seatworthy.steps.bench_reading import (
    Asked,
    check_expiry,
    read_figure,
    read_figure_or,
    read_microlitres,
    read_word,
    refuse,
)
from seatworthy.steps.bench_writing import KIND, free_label, new_stock_id, record_stock
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import short_label
from seatworthy.steps.sentences import day_in_sentence, in_sentence, sentence_start

Row = Mapping[str, Any]
_ETHANOL: Final = Asked(
    "The ethanol in what it was made up with", "%", Decimal(0), Decimal(100), places=2
)
_DEAD: Final = Asked("What stays in its vial", "µl", Decimal(0), Decimal(1_000_000))
_WEAKEST: Final = Decimal("0.000000000001")  # the store keeps twelve decimals


@dataclass(frozen=True)
class Made:
    """A dilution as somebody logged it.

    Attributes:
        stock_id: The stock it was made from.
        taken: What was taken of it, in `taken_unit`.
        taken_unit: "µl" or "ml".
        made: What it was made up to, millilitres.
        solvent_percent: Ethanol in what it was made up with, percent by volume.
        lot: Its lot; "" for the parent's with a number behind it.
        expires_on: The last day on which it may be used; None for the parent's.
        is_narrow: Whether only a fine tip reaches the bottom of its vial.
        dead_ul: Microlitres that can't be got out of its vial; "" for none.
    """

    stock_id: str
    taken: str
    taken_unit: str
    made: str
    solvent_percent: str
    lot: str = ""
    expires_on: date | None = None
    is_narrow: bool = False
    dead_ul: str = ""


def log_dilution(desk: Desk, typed: Made, *, by: str | None = None) -> str:
    """Record a dilution as a stock; what was taken for it is off its parent.

    Its strength follows from the parent's, and so does how far that may be off: what pipette and flask
    add to it is small beside that and isn't counted.

    Raises:
        PanelError: if the parent can't be used, holds too little or isn't a liquid, or a figure, a
            name or a day will not do.
    """
    with desk.store.recording(KIND) as act:
        parent = stock_row(desk, typed.stock_id)
        check_usable(desk, parent)
        taken, made = _volumes(parent, typed)
        expires_on = _expiry(desk, parent, typed.expires_on)
        row = _row(desk, parent, typed, taken, made)
        record_stock(act, row, None, expires_on, by)
    return (
        f"{sentence_start(row['label'])} stands on the bench: {ul_words(taken)} of {parent['label']} "
        f"made up to {ul_words(made)}."
    )


def stock_row(desk: Desk, stock_id: str) -> dict[str, Any]:
    """The row of a stock from which something is to be made.

    Raises:
        PanelError: if there is no such stock.
    """
    for row in desk.store.rows("bench_stocks"):
        if row["stock_id"] == stock_id:
            return row
    message = "Choose the stock that the dilution is made from."
    raise refuse(message)


def check_usable(desk: Desk, row: Row) -> None:
    """Refuse a stock from which no dilution may be made.

    Raises:
        PanelError: if it comes in whole units, or is used up, expired, empty or not to be served.
    """
    if row["kind"] == UNIT:
        message = f"{sentence_start(row['label'])}: a whole unit can't be diluted; dose it whole."
        raise refuse(message)
    fault = stock_fault(stock_of(dict(row)), desk.today(), row["serve"])
    if fault:
        raise refuse(fault)


def _volumes(parent: Row, typed: Made) -> tuple[Decimal, Decimal]:
    taken = read_microlitres("What was taken", typed.taken, typed.taken_unit)
    made = read_microlitres("What it was made up to", typed.made, "ml")
    if made <= taken:
        message = (
            f"{ul_words(taken)} made up to {ul_words(made)} is no dilution: look at the units."
        )
        raise refuse(message)
    stock = stock_of(dict(parent))
    if stock.left is not None and taken > (there := max(stock.left - stock.dead_ul, Decimal(0))):
        message = (
            f"{sentence_start(parent['label'])} gives {ul_words(there) if there else 'nothing'} more, "
            f"got {ul_words(taken)}. Take another lot, or say under Stocks how much is left."
        )
        raise refuse(message)
    return taken, made


def _expiry(desk: Desk, parent: Row, asked: date | None) -> date | None:
    check_expiry(asked)
    last: date | None = parent["expires_on"]
    if asked is None or last is None:
        return asked or last
    if asked > last:
        message = (
            f"A dilution doesn't outlive what it is made from: {parent['label']} may be used until "
            f"{day_in_sentence(last, desk.today())}. Write that day or an earlier one."
        )
        raise refuse(message)
    return asked


def _row(desk: Desk, parent: Row, typed: Made, taken: Decimal, made: Decimal) -> dict[str, Any]:
    strength = round(parent["strength"] * taken / made, 12)
    if strength < _WEAKEST:
        message = "That is too weak to be kept on record: look at the units."
        raise refuse(message)
    lot = read_word("Its lot", typed.lot) if typed.lot.strip() else _next_lot(desk, parent)
    name = in_sentence(short_label(parent["compound_label"]))
    words = "reference, diluted"
    if parent["kind"] == SOLUTION:
        words = strength_words(replace(stock_of(dict(parent)), strength=strength))
    return {
        **{key: parent[key] for key in ("compound", "kind", "strength_off_percent", "is_food_grade",
           "is_bought_dilution")},
        "stock_id": new_stock_id(),
        "label": free_label(desk, f"{name} {words}, lot {lot}"),
        "lot": lot,
        "strength": rounded_to_twelve(strength),
        "full_amount": made,
        "dead_ul": read_figure_or(_DEAD, typed.dead_ul, Decimal(0)),
        "ethanol_percent": _ethanol(parent, typed, taken / made),
        "is_narrow": typed.is_narrow,
        "made_from": parent["stock_id"],
        "taken_ul": taken,
        "made_ul": made,
    }  # fmt: skip


def _ethanol(parent: Row, typed: Made, share: Decimal) -> Decimal:
    """Ethanol of the dilution, percent: the parent's share and the rest of what it is made up with."""
    solvent = read_figure(_ETHANOL, typed.solvent_percent)
    return round(parent["ethanol_percent"] * share + solvent * (1 - share), 2)


def _next_lot(desk: Desk, parent: Row) -> str:
    """The parent's lot with the next number: 7/1, 7/2."""
    taken = {
        row["lot"]
        for row in desk.store.rows("bench_stocks")
        if row["compound"] == parent["compound"]
    }
    number = 1
    while f"{parent['lot']}/{number}" in taken:
        number += 1
    return f"{parent['lot']}/{number}"
