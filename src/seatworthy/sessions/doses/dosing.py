"""One sample from one stock: the whole recipe, or the reason why it can't be made."""

from dataclasses import replace
from decimal import Decimal

from seatworthy.sessions.doses.amounts import to_figures, ul_words
from seatworthy.sessions.doses.dose import (
    amount_for,
    background_level,
    dose_fault,
    level_from,
    takes_out_first,
)
from seatworthy.sessions.doses.ladder import is_counted
from seatworthy.sessions.doses.recipe import Bench, Need, Recipe, Shots
from seatworthy.sessions.doses.shots import MOST_SHOTS, shots_for, smallest_fault
from seatworthy.sessions.doses.solvent import ethanol_ul
from seatworthy.sessions.doses.stock import UNIT, Stock
from seatworthy.sessions.doses.uncertainty import expanded, relative_uncertainty
from seatworthy.sessions.doses.vessels import vessel_counts
from seatworthy.sessions.doses.whole_units import units_and_volume, units_fault
from seatworthy.sessions.doses.window import prepare_window


def recipe_fault(need: Need, stock: Stock, bench: Bench) -> str:
    """Why this stock won't do for a need that has no fault itself; "" if it will."""
    content = bench.container.content_ml
    fault = dose_fault(need, stock, content)
    if fault:
        return fault
    if stock.kind == UNIT:
        return units_fault(need, stock, bench.container, bench.pour_ml)
    wanted = amount_for(need, stock, content)
    if not bench.pipettes:
        return ""
    fault = smallest_fault(wanted, stock.label, bench.pipettes, stock.is_narrow)
    if fault:
        return f"Sample {need.mark}: {fault}"
    if shots_for(wanted, bench.pipettes, stock.is_narrow):
        return ""
    return (
        f"Sample {need.mark}: {ul_words(wanted)} of {stock.label} can't be set in up to {MOST_SHOTS} "
        "shots of any pipette that reaches it: put another pipette on the bench, or use another stock."
    )


def spiked_recipe(need: Need, stock: Stock, bench: Bench) -> Recipe:
    """What goes into each vessel; `recipe_fault` must be silent.

    Raises:
        ValueError: if there is no such recipe.
    """
    offers, amount, volume = _measured(need, stock, bench)
    shots = offers[0] if offers else None
    level = level_from(need, stock, amount, volume)
    vessels = vessel_counts(need.glasses, bench.pour_ml, bench.container, volume)
    is_unit = stock.kind == UNIT
    earliest, latest = prepare_window(bench.starts, bench.container.kind, need.keeps_h)
    return Recipe(
        need=need,
        stock=stock,
        shots=shots,
        offers=offers[1:],
        amount=amount,
        volume_ml=volume,
        vessels=vessels,
        background_level=background_level(need),
        level=level,
        level_off=_level_off(shots, stock, bench, volume, level - background_level(need)),
        solvent_ul=Decimal(0) if is_unit else ethanol_ul(amount, stock.ethanol_percent),
        blank_ul=Decimal(0),
        takes_out_first=not is_unit and takes_out_first(amount, bench.container, volume),
        needed=amount * sum(vessels),
        counts=is_counted(level, bench.counted_levels),
        prepare_from=earliest,
        prepare_until=latest,
    )


def blank_recipe(need: Need, bench: Bench, ethanol: Decimal) -> Recipe:
    """A blank, with as much pure ethanol (microlitres) as the strongest dose of solvent brings."""
    container = bench.container
    return Recipe(
        need=need,
        stock=None,
        shots=None,
        offers=(),
        amount=Decimal(0),
        volume_ml=container.content_ml,
        vessels=vessel_counts(need.glasses, bench.pour_ml, container),
        background_level=Decimal(0),
        level=None,
        level_off=None,
        solvent_ul=Decimal(0),
        blank_ul=ethanol,
        takes_out_first=takes_out_first(ethanol, container, container.content_ml),
        needed=Decimal(0),
        counts=None,
        prepare_from=None,
        prepare_until=prepare_window(bench.starts, bench.container.kind, need.keeps_h)[1],
    )


def _measured(need: Need, stock: Stock, bench: Bench) -> tuple[tuple[Shots, ...], Decimal, Decimal]:
    """Ways to pipette it, the amount, and the beer in each vessel."""
    content = bench.container.content_ml
    if stock.kind == UNIT:
        found = units_and_volume(need, stock, bench.container, bench.pour_ml)
        if found is None:
            message = f"No whole number of {stock.label} gives sample {need.mark}."
            raise ValueError(message)
        return (), *found
    wanted = amount_for(need, stock, content)
    ways = shots_for(wanted, bench.pipettes, stock.is_narrow)
    return ways, ways[0].total_ul if ways else to_figures(wanted), content


def _level_off(
    shots: Shots | None, stock: Stock, bench: Bench, volume_ml: Decimal, added: Decimal
) -> float | None:
    """None where nothing is known of the errors."""
    container = replace(bench.container, content_ml=volume_ml)
    is_unknown = not (container.fill_off_ml or stock.strength_off_percent)
    if not bench.pipettes or (shots is None and is_unknown):
        return None
    relative = relative_uncertainty(shots, container, float(stock.strength_off_percent))
    return expanded(float(added), relative)
