"""States what stands on the bench: a new stock, and what becomes of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from secrets import token_hex
from typing import Any, Final

from seatworthy.sessions.doses.amounts import ug_per_ul
from seatworthy.sessions.doses.stock import REFERENCE, SOLUTION, UNIT
from seatworthy.steps.bench_reading import (
    Asked,
    check_expiry,
    check_past_day,
    plain,
    read_figure,
    read_figure_or,
    read_microlitres,
    read_whole,
    read_word,
    refuse,
)
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import short_label
from seatworthy.steps.sentences import day_in_sentence, in_sentence, sentence_start
from seatworthy.steps.signing import sign
from seatworthy.store.recording import Recording

KIND: Final = "bench"  # of the act, in the history
CONCENTRATIONS: Final = ("g/l", "mg/l", "µg/l", "ng/l", "mg/ml", "µg/ml", "µg/µl", "ng/µl")
_MOST: Final = Decimal(1_000_000)
_LEAST: Final = Decimal("0.000000000001")  # the store keeps twelve decimals
_STRONGEST: Final = Decimal(100_000_000_000)
_ETHANOL: Final = Asked("The ethanol in its solvent", "%", Decimal(0), Decimal(100), places=2)
_OFF: Final = Asked("How far its strength may be off", "%", Decimal(0), Decimal(100), places=2)
_DEAD: Final = Asked("What stays in its vial", "µl", Decimal(0), _MOST)


@dataclass(frozen=True)
class NewStock:
    """A lot as somebody typed it.

    Attributes:
        compound: Key of the compound in it.
        kind: What is known of its strength, one of `sessions.doses.stock.KINDS`.
        lot: Its lot.
        strength: The concentration ("solution"), else how many times the working threshold it gives.
        strength_unit: One of `CONCENTRATIONS`; only read for a solution.
        gives_amount: What of it gives that strength, in `gives_unit`; only read for a reference.
        gives_unit: "µl" or "ml".
        litres: Beer in which it gives that strength, litres; not read for a solution.
        full_amount: What is in the full vial; "" if nobody knows.
        full_unit: "µl" or "ml"; not read for units.
        ethanol_percent: Of its solvent; not read for units.
        opened_on: The day it was opened; None if it is closed.
        expires_on: The last day on which it may be used; None if nobody knows.
        is_food_grade: Whether it may be tasted.
        is_bought_dilution: Whether it was bought as a dilution fit for serving.
        is_narrow: Whether only a fine tip reaches its bottom.
        dead_ul: Microlitres that can't be got out of its vial; "" for none.
        strength_off_percent: How far its strength may be off; "" if nobody knows.
    """

    compound: str
    kind: str
    lot: str
    strength: str
    strength_unit: str = "g/l"
    gives_amount: str = ""
    gives_unit: str = "µl"
    litres: str = ""
    full_amount: str = ""
    full_unit: str = "ml"
    ethanol_percent: str = ""
    opened_on: date | None = None
    expires_on: date | None = None
    is_food_grade: bool = False
    is_bought_dilution: bool = False
    is_narrow: bool = False
    dead_ul: str = ""
    strength_off_percent: str = ""


def add_stock(desk: Desk, typed: NewStock, *, by: str | None = None) -> str:
    """Put a lot on the bench.

    Args:
        desk: The open store.
        typed: What was typed.
        by: Who did it.

    Raises:
        PanelError: if the compound is unknown, or a figure, a name or a day will not do.
    """
    with desk.store.recording(KIND) as act:
        label = _served_label(desk, typed.compound)
        if typed.opened_on is not None:
            check_past_day("The day on which it was opened", typed.opened_on, desk.today())
        check_expiry(typed.expires_on)
        row = _stock_row(desk, typed, in_sentence(label))
        record_stock(act, row, typed.opened_on, typed.expires_on, by)
    return _added(desk, row, typed)


def record_stock(
    act: Recording, row: Mapping[str, Any], opened_on: date | None, expires_on: date | None,
    by: str | None,
) -> None:  # fmt: skip
    """Add a stock's row with its first state, and who is behind them, to an act of recording."""
    state = {"stock_id": row["stock_id"], "opened_on": opened_on, "expires_on": expires_on,
             "left_amount": None, "is_used_up": False}  # fmt: skip
    act.add("stock", row)
    act.add("stock_state", state)
    sign(act, by)


def new_stock_id() -> str:
    """A name for a lot that nothing else bears."""
    return token_hex(8)


def free_label(desk: Desk, label: str) -> str:
    """The label, with the number of the vial behind it if another vial bears it."""
    taken = {row["label"] for row in desk.store.rows("bench_stocks")}
    number, found = 1, label
    while found in taken:
        number += 1
        found = f"{label}, vial {number}"
    return found


def _served_label(desk: Desk, compound: str) -> str:
    """The label of a compound that may be served."""
    for row in desk.store.rows("compound_care"):
        if row["compound"] != compound:
            continue
        label = short_label(row["label"])
        if row["serve"] == "no":
            message = f"{label} is not to be served, it is in the vocabulary only: choose another compound."
            raise refuse(message)
        return label
    message = "Choose the compound that is in it."
    raise refuse(message)


def _stock_row(desk: Desk, typed: NewStock, name: str) -> dict[str, Any]:
    lot = read_word("Its lot", typed.lot)
    strength, strength_text = _strength(typed)
    is_unit = typed.kind == UNIT
    return {
        "stock_id": new_stock_id(),
        "compound": typed.compound,
        "label": free_label(desk, f"{name} {strength_text}, lot {lot}"),
        "lot": lot,
        "kind": typed.kind,
        "strength": strength,
        "strength_off_percent": read_figure_or(_OFF, typed.strength_off_percent, Decimal(0)),
        "full_amount": _full_amount(typed),
        "dead_ul": Decimal(0) if is_unit else read_figure_or(_DEAD, typed.dead_ul, Decimal(0)),
        "ethanol_percent": Decimal(0) if is_unit else _ethanol(typed.ethanol_percent),
        "is_food_grade": typed.is_food_grade,
        "is_bought_dilution": typed.is_bought_dilution,
        "is_narrow": typed.is_narrow and not is_unit,
        "made_from": None,
        "taken_ul": None,
        "made_ul": None,
    }


def _strength(typed: NewStock) -> tuple[Decimal, str]:
    """The strength as the store counts it, and its words in the stock's label.

    Raises:
        PanelError: if a figure or the unit will not do.
        ValueError: if the kind is not one of ours.
    """
    if typed.kind == SOLUTION:
        number = read_figure(Asked("Its strength", "", Decimal(0), _MOST, 9, True), typed.strength)
        if typed.strength_unit not in CONCENTRATIONS:
            message = "Choose the unit of its strength: the one that stands on its label."
            raise refuse(message)
        strength = ug_per_ul(number, typed.strength_unit)
        return _kept(strength), f"{plain(number)} {typed.strength_unit}"
    times = read_figure(
        Asked("How many times the threshold it gives", "×", Decimal(0), _MOST, 6, True),
        typed.strength,
    )
    litres = read_figure(
        Asked("The beer in which it gives that", "l", Decimal(0), Decimal(10_000), 6, True),
        typed.litres,
    )
    if typed.kind == UNIT:
        return _kept(times * litres), "in whole units"
    if typed.kind != REFERENCE:
        message = f"{typed.kind!r} is no kind of stock."
        raise ValueError(message)
    given = read_microlitres("What of it gives that", typed.gives_amount, typed.gives_unit)
    return _kept(times * litres / given), "reference"


def _kept(strength: Decimal) -> Decimal:
    if not _LEAST <= strength <= _STRONGEST:
        message = "Its strength is not believable: look at the number and the unit."
        raise refuse(message)
    return round(strength, 12)


def _full_amount(typed: NewStock) -> Decimal | None:
    if not typed.full_amount.strip():
        return None
    if typed.kind == UNIT:
        return read_whole("The number of units", typed.full_amount)
    return read_microlitres("What is in the full vial", typed.full_amount, typed.full_unit)


def _ethanol(written: str) -> Decimal:
    if not written.strip():
        message = (
            "How much ethanol is in its solvent is empty: write its percent by volume, 0 for water. "
            "It is counted for everybody who tastes."
        )
        raise refuse(message)
    return read_figure(_ETHANOL, written)


def _added(desk: Desk, row: Mapping[str, Any], typed: NewStock) -> str:
    told = f"{sentence_start(row['label'])} stands on the bench."
    if not typed.is_food_grade:
        return f"{told} It is not food grade: nothing is dosed from it."
    if typed.expires_on is not None and typed.expires_on < desk.today():
        day = day_in_sentence(typed.expires_on, desk.today())
        return f"{told} It expired on {day}: nothing is dosed from it."
    return told
