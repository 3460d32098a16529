"""A stock made weaker, step by step, with the pipettes and flasks that are there."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from seatworthy.sessions.doses.amounts import ML_IN_L, UL_IN_ML
from seatworthy.sessions.doses.equipment import Pipette
from seatworthy.sessions.doses.recipe import Shots
from seatworthy.sessions.doses.shots import shots_for
from seatworthy.sessions.doses.stock import UNIT, Stock
from seatworthy.sessions.doses.uncertainty import pipetting_uncertainty
from seatworthy.sessions.wording import at_start

FLASKS_ML: Final = tuple(Decimal(ml) for ml in (10, 25, 50, 100, 250, 500, 1000))
MOST_STEPS: Final = 3
MOST_OFF: Final = Decimal("0.02")  # of the wanted strength; ours, no source
_ROUND: Final = tuple(Decimal(f) for f in (10, 20, 25, 50, 100, 200, 250, 500, 1000))


@dataclass(frozen=True)
class DilutionStep:
    """One flask.

    Attributes:
        take: What is pipetted into it.
        of: Label of what it is taken from.
        make_up_ml: What the flask is made up to.
        strength: What comes of it, exactly, as `Stock.strength` counts.
    """

    take: Shots
    of: str
    make_up_ml: Decimal
    strength: Decimal


def strength_for(
    added_level: Decimal, threshold_ug_l: Decimal, volume_ml: Decimal, dose_ul: Decimal
) -> Decimal:
    """Micrograms per microlitre that a solution must have so that such a dose adds such a level."""
    return added_level * threshold_ug_l * volume_ml / ML_IN_L / dose_ul


def dilute(
    stock: Stock, wanted_strength: Decimal, pipettes: Sequence[Pipette],
    flasks_ml: Sequence[Decimal] = FLASKS_ML, most_steps: int = MOST_STEPS,
) -> tuple[DilutionStep, ...]:  # fmt: skip
    """The fewest steps that come within `MOST_OFF` of a strength; of these the surest.

    Args:
        stock: What it starts from, a liquid one.
        wanted_strength: As `Stock.strength` counts, more than 0.
        pipettes: Those on the bench.
        flasks_ml: What can be made up to.
        most_steps: Flasks at most.

    Returns:
        In the order of work; empty if it can't be done: `dilution_fault` says why.
    """
    if stock.kind == UNIT or not 0 < wanted_strength < stock.strength:
        return ()
    for steps in range(1, most_steps + 1):
        found = list(_chains(stock, wanted_strength, pipettes, flasks_ml, steps))
        if found:
            return min(found, key=lambda chain: _off(chain, wanted_strength))
    return ()


def dilution_fault(
    stock: Stock, wanted_strength: Decimal, pipettes: Sequence[Pipette],
    flasks_ml: Sequence[Decimal] = FLASKS_ML, most_steps: int = MOST_STEPS,
) -> str:  # fmt: skip
    """Why `dilute` finds no way, and what to do; "" if it finds one."""
    name = at_start(stock.label)
    if stock.kind == UNIT:
        return f"{name}: a whole unit can't be diluted; dose it whole."
    if wanted_strength <= 0:
        return "The wanted strength is not more than 0: write what the dilution is to have."
    if wanted_strength >= stock.strength:
        return (
            f"{name} is not stronger than what is wanted: dose it as it is, or take a stronger lot."
        )
    if not pipettes:
        return f"No pipette is on the bench, so no dilution of {stock.label} is planned: add one."
    if dilute(stock, wanted_strength, pipettes, flasks_ml, most_steps):
        return ""
    return (
        f"No dilution of {stock.label} in up to {most_steps} steps comes within "
        f"{MOST_OFF * 100:.0f}% of that strength with these pipettes and flasks: add a smaller "
        "pipette or a larger flask."
    )


def _chains(
    stock: Stock, wanted: Decimal, pipettes: Sequence[Pipette], flasks_ml: Sequence[Decimal],
    steps: int,
) -> Iterator[tuple[DilutionStep, ...]]:  # fmt: skip
    """Chains of exactly so many steps: round factors first, what remains in the last."""
    if steps == 1:
        yield from ((last,) for last in _last_steps(stock, wanted, pipettes, flasks_ml))
        return
    for factor in _ROUND:
        if stock.strength / factor <= wanted:
            return
        first = _round_step(stock, factor, pipettes, flasks_ml)
        if first:
            between = _made(stock, first)
            for rest in _chains(between, wanted, pipettes, flasks_ml, steps - 1):
                yield (first, *rest)


def _round_step(
    stock: Stock, factor: Decimal, pipettes: Sequence[Pipette], flasks_ml: Sequence[Decimal]
) -> DilutionStep | None:
    """The smallest flask in which such a factor is pipetted exactly."""
    for flask in sorted(flasks_ml):
        taken = flask * UL_IN_ML / factor
        ways = shots_for(taken, pipettes, stock.is_narrow)
        if ways and ways[0].total_ul == taken and taken <= _there(stock):
            return DilutionStep(ways[0], stock.label, flask, stock.strength / factor)
    return None


def _last_steps(
    stock: Stock, wanted: Decimal, pipettes: Sequence[Pipette], flasks_ml: Sequence[Decimal]
) -> Iterator[DilutionStep]:
    for flask in flasks_ml:
        taken = flask * UL_IN_ML * wanted / stock.strength
        for way in shots_for(taken, pipettes, stock.is_narrow)[:1]:
            strength = stock.strength * way.total_ul / (flask * UL_IN_ML)
            fits = way.total_ul <= min(_there(stock), flask * UL_IN_ML)
            if fits and abs(strength - wanted) <= MOST_OFF * wanted:
                yield DilutionStep(way, stock.label, flask, strength)


def _there(stock: Stock) -> Decimal:
    return Decimal("Infinity") if stock.left is None else stock.left - stock.dead_ul


def _made(stock: Stock, step: DilutionStep) -> Stock:
    """What stands in the flask after a step, as a stock."""
    return Stock(
        stock_id="",
        compound=stock.compound,
        label="the dilution before",
        lot=stock.lot,
        kind=stock.kind,
        strength=step.strength,
        left=step.make_up_ml * UL_IN_ML,
    )


def _off(chain: Sequence[DilutionStep], wanted: Decimal) -> float:
    rounding = float(abs(chain[-1].strength - wanted) / wanted)
    return rounding + sum(pipetting_uncertainty(step.take) for step in chain)
