"""From a wanted level to the amount that gives it, and back; every reason why it can't be given."""

from decimal import Decimal
from typing import Final

from seatworthy.sessions.doses.amounts import ML_IN_L, UL_IN_ML, to_figures, ul_words
from seatworthy.sessions.doses.equipment import Container
from seatworthy.sessions.doses.recipe import Need
from seatworthy.sessions.doses.stock import SOLUTION, UNIT, Stock
from seatworthy.sessions.wording import at_start, plain, times

# A dose above this share of the vessel thins the beer. Ours, no source.
MOST_SHARE: Final = Decimal("0.10")
# Above this share as much beer is taken out first, or the level is off by as much. Ours, no source.
TAKE_OUT_ABOVE: Final = Decimal("0.005")


def background_level(need: Need) -> Decimal:
    """What the base beer holds already, multiples; 0 if nobody knows, or for a blank."""
    if need.background_ug_l is None or not need.threshold_ug_l:
        return Decimal(0)
    return need.background_ug_l / need.threshold_ug_l


def added_level(need: Need) -> Decimal:
    """What must be added to reach the wanted level, multiples; 0 for a blank."""
    return Decimal(0) if need.level is None else need.level - background_level(need)


def added_by(
    amount: Decimal, stock: Stock, threshold_ug_l: Decimal | None, volume_ml: Decimal
) -> Decimal:
    """Multiples that so much of a stock adds.

    Args:
        amount: Microlitres or whole units.
        stock: What is added.
        threshold_ug_l: Working threshold; only a solution asks for it.
        volume_ml: Beer with the dose in it, more than 0.

    Raises:
        ValueError: if the volume, or the threshold a solution asks for, is not more than 0.
    """
    per_level = _per_level(stock, threshold_ug_l, volume_ml)
    return amount * stock.strength * ML_IN_L / (volume_ml * per_level)


def amount_for(need: Need, stock: Stock, volume_ml: Decimal) -> Decimal:
    """Microlitres, or units with their fraction, that bring a vessel to the wanted level.

    Args:
        need: What is wanted.
        stock: What it is dosed from.
        volume_ml: Beer in the vessel with the dose, more than 0.

    Raises:
        ValueError: if the volume, or the threshold a solution asks for, is not more than 0.
    """
    per_level = _per_level(stock, need.threshold_ug_l, volume_ml)
    if stock.kind == SOLUTION:
        missing = (need.level or Decimal(0)) * per_level - (need.background_ug_l or Decimal(0))
    else:
        missing = added_level(need)
    return missing * volume_ml / (ML_IN_L * stock.strength)


def _per_level(stock: Stock, threshold_ug_l: Decimal | None, volume_ml: Decimal) -> Decimal:
    """What one multiple is in a litre: micrograms of a solution; else the strength counts multiples."""
    per_level = Decimal(1) if stock.kind != SOLUTION else threshold_ug_l or Decimal(0)
    if volume_ml <= 0 or per_level <= 0:
        message = f"Volume and threshold are more than 0, got {volume_ml} and {threshold_ug_l}."
        raise ValueError(message)
    return per_level


def level_from(need: Need, stock: Stock, amount: Decimal, volume_ml: Decimal) -> Decimal:
    """The level, background included, that so many microlitres or units give; see `amount_for`."""
    return background_level(need) + added_by(amount, stock, need.threshold_ug_l, volume_ml)


def takes_out_first(amount_ul: Decimal, container: Container, volume_ml: Decimal) -> bool:
    """Whether beer is taken out before the dose: it would overflow, or the level would be off."""
    dose_ml = amount_ul / UL_IN_ML
    return dose_ml > container.headspace_ml or dose_ml > TAKE_OUT_ABOVE * volume_ml


def need_fault(need: Need) -> str:
    """Why no dose at all can reach the wanted level; "" if one may."""
    if need.level is None or need.level <= 0:
        return f"Sample {need.mark} has no level: write how many times its threshold {need.label} is to be."
    holds = background_level(need)
    if holds >= need.level:
        return (
            f"Sample {need.mark}: the beer holds {times(to_figures(holds))} {need.label} already, "
            f"and {times(need.level)} is wanted: choose a higher level or another beer."
        )
    return ""


def dose_fault(need: Need, stock: Stock, volume_ml: Decimal) -> str:
    """Why this stock can't bring a vessel to the wanted level, and what to do; "" if it can."""
    if volume_ml <= 0:
        return f"A vessel of {plain(volume_ml)} ml holds nothing: correct its content on the bench."
    if stock.kind == SOLUTION and not (need.threshold_ug_l and need.threshold_ug_l > 0):
        return (
            f"{at_start(need.label)} has no working threshold, so no amount of {stock.label} follows "
            "from its level: choose one on the shelf."
        )
    amount = amount_for(need, stock, volume_ml)
    most = MOST_SHARE * volume_ml * UL_IN_ML
    if stock.kind == UNIT or amount <= most:
        return ""
    return (
        f"Sample {need.mark}: {times(need.level or Decimal(0))} takes {ul_words(amount)} of "
        f"{stock.label}, more than {plain(MOST_SHARE * 100)}% of {plain(volume_ml)} ml: use a stock at "
        f"least {plain(_stronger(amount / most))} times as strong, or a lower level."
    )


def _stronger(ratio: Decimal) -> Decimal:
    """Rounded up to two figures, so that the advice suffices."""
    unit = Decimal(1).scaleb(ratio.adjusted() - 1)
    return -(-ratio // unit) * unit
