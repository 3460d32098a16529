"""Amounts per litre as a leader writes and reads them; the store counts micrograms per litre."""

from decimal import Decimal
from types import MappingProxyType
from typing import Final

from seatworthy.errors import PanelError
from seatworthy.intake.cells import read_number, rounded
from seatworthy.intake.words import Unreadable, quoted

# Micrograms in one of each unit; the shelf file reads the same (tests/steps/test_shelf_amounts.py).
UNITS: Final = MappingProxyType(
    {"ng/l": Decimal("0.001"), "µg/l": Decimal(1), "mg/l": Decimal(1000)}
)
HIGHEST_UG_L: Final = 100_000_000
_PLAIN: Final = "µg/l"


def shown_unit(reference_unit: str) -> str:
    """A unit of the vocabulary as it is shown; micrograms per litre where it has none."""
    unit = reference_unit.replace("ug", "µg").replace("/L", "/l")
    return unit if unit in UNITS else _PLAIN


def in_unit(ug_l: Decimal, unit: str) -> Decimal:
    """An amount of the store in one of `UNITS`, without needless zeros."""
    return rounded(ug_l / UNITS[unit])


def amount_text(ug_l: Decimal, unit: str) -> str:
    """An amount of the store with its unit, ``60 µg/l``."""
    return f"{in_unit(ug_l, unit):f} {unit}"


def read_concentration(what: str, written: str, unit: str) -> Decimal:
    """What was written as micrograms per litre; 0 is an amount too.

    Args:
        what: What it is, for the message ("The threshold of DMS").
        written: A number with a decimal point or comma.
        unit: One of `UNITS`.

    Raises:
        PanelError: if it is no number, negative, too small to be kept or beyond belief.
        ValueError: if the unit is not one of ours.
    """
    if unit not in UNITS:
        message = f"{unit!r} is none of {', '.join(UNITS)}."
        raise ValueError(message)
    try:
        value = read_number(written)
    except Unreadable as fault:
        message = f"{what} {fault} Nothing was recorded."
        raise PanelError(message) from fault
    ug_l = rounded(value * UNITS[unit])
    if value < 0 or ug_l > HIGHEST_UG_L or (ug_l == 0 and value != 0):
        message = (
            f"{what} must be at least 0 and believable, got {quoted(written)} {unit}. "
            "Look at the unit. Nothing was recorded."
        )
        raise PanelError(message)
    return ug_l
