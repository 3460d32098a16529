"""Volumes and strengths: from the unit on a label to ours, and into words."""

from decimal import Decimal
from types import MappingProxyType
from typing import Final

from seatworthy.sessions.doses.stock import SOLUTION, UNIT, Stock
from seatworthy.sessions.wording import plain, times

# Micrograms in a microlitre of one of each.
UG_PER_UL: Final = MappingProxyType(
    {
        "g/l": Decimal(1),
        "mg/l": Decimal("0.001"),
        "µg/l": Decimal("0.000001"),
        "ng/l": Decimal("0.000000001"),
        "mg/ml": Decimal(1),
        "µg/ml": Decimal("0.001"),
        "µg/µl": Decimal(1),
        "ng/µl": Decimal("0.001"),
    }
)
UL_IN_ML: Final = Decimal(1000)
ML_IN_L: Final = Decimal(1000)
_WRITTEN_IN: Final = ("g/l", "mg/l", "µg/l", "ng/l")
_EXACT_FIGURES: Final = 4  # a setting such as 112.5 µl is never rounded


def ug_per_ul(value: Decimal, unit: str) -> Decimal:
    """A strength in micrograms per microlitre, exactly.

    Args:
        value: The number on the label.
        unit: One of `UG_PER_UL`. Parts per million are none of them: by weight they ask for a density.

    Raises:
        ValueError: if the unit is another one.
    """
    if unit not in UG_PER_UL:
        message = f"{unit!r} is no unit of strength; expected one of {', '.join(UG_PER_UL)}."
        raise ValueError(message)
    return value * UG_PER_UL[unit]


def ul_words(microlitres: Decimal) -> str:
    """A volume as it is said: 330 µl, 82.5 µl, 2.4 ml, 12 ml.

    Up to four figures stand as they are; a longer number is rounded to three.
    """
    shown = to_figures(microlitres)
    if abs(shown) >= UL_IN_ML:
        return f"{plain(shown / UL_IN_ML)} ml"
    return f"{plain(shown)} µl"


def to_figures(number: Decimal, figures: int = 3) -> Decimal:
    """The number as it is if it has at most four figures, else rounded to so many."""
    if len(number.normalize().as_tuple().digits) <= _EXACT_FIGURES:
        return number
    return round(number, figures - 1 - number.adjusted())


def strength_words(stock: Stock) -> str:
    """What a stock's strength is: 1 g/l; 1 ml in 1 l gives 3×; one unit in 1 l gives 3×."""
    if stock.kind == SOLUTION:
        return _concentration(stock.strength)
    if stock.kind == UNIT:
        return f"one unit in 1 l gives {times(to_figures(stock.strength))}"
    return f"1 ml in 1 l gives {times(to_figures(stock.strength * UL_IN_ML))}"


def _concentration(strength: Decimal) -> str:
    unit = next((u for u in _WRITTEN_IN if strength >= UG_PER_UL[u]), _WRITTEN_IN[-1])
    return f"{plain(to_figures(strength / UG_PER_UL[unit]))} {unit}"
