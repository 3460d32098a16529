"""Doses in whole units: nobody halves one, so the level or the volume gives way."""

from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal

from seatworthy.sessions.doses.amounts import to_figures
from seatworthy.sessions.doses.dose import added_level, amount_for, level_from
from seatworthy.sessions.doses.equipment import PITCHER, Container
from seatworthy.sessions.doses.recipe import Need
from seatworthy.sessions.doses.stock import Stock
from seatworthy.sessions.wording import plain, times

_PLACES = 12  # so that three units less a speck are three


def units_and_volume(
    need: Need, stock: Stock, container: Container, pour_ml: Decimal
) -> tuple[Decimal, Decimal] | None:
    """Whole units into each vessel, and its beer in millilitres; None if no whole number will do.

    A bottle or a keg keeps its content and takes the nearest whole number. A pitcher is filled as far
    as the units reach, to whole millilitres: as many as fit in its content, and at least one glass must come out of it.
    """
    exact = round(amount_for(need, stock, container.content_ml), _PLACES)
    if container.kind != PITCHER:
        count = exact.to_integral_value(ROUND_HALF_UP)
        return (count, container.content_ml) if count else None
    count = exact.to_integral_value(ROUND_FLOOR)
    if not count:
        return None
    reaches = amount_for(need, stock, Decimal(1))  # units for one millilitre
    volume = round(count / reaches, _PLACES).to_integral_value(ROUND_FLOOR)
    return (count, volume) if volume >= pour_ml + container.dead_ml else None


def units_fault(need: Need, stock: Stock, container: Container, pour_ml: Decimal) -> str:
    """Why no whole number of units will do, with the two nearest ways; "" if one will."""
    if units_and_volume(need, stock, container, pour_ml):
        return ""
    content = container.content_ml
    one = to_figures(level_from(need, stock, Decimal(1), content))
    litres = to_figures(stock.strength / added_level(need))
    wanted = times(need.level or Decimal(0))
    if litres * 1000 > content:
        return (
            f"Sample {need.mark}: one unit of {stock.label} gives {times(one)} in {plain(content)} ml, "
            f"and half a unit can't be dosed. Take {times(one)}, or a vessel of {plain(litres)} l for "
            f"{wanted}."
        )
    return (
        f"Sample {need.mark}: {wanted} is reached in {plain(litres * 1000)} ml for each unit of "
        f"{stock.label}, which fits no glass of {plain(pour_ml)} ml. Pour less, or ask for a lower level."
    )
