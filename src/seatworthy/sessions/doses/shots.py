"""How a volume is pipetted: which pipette, set to what, how many shots."""

from collections.abc import Iterator, Sequence
from decimal import ROUND_HALF_EVEN, Decimal
from typing import Final

from seatworthy.sessions.doses.amounts import UL_IN_ML, to_figures, ul_words
from seatworthy.sessions.doses.equipment import Pipette
from seatworthy.sessions.doses.recipe import Shots
from seatworthy.sessions.doses.uncertainty import pipetting_uncertainty

MOST_SHOTS: Final = 12
# A way is clearly worse if it is off by more than so many times the best way, plus so much.
# Ours, no source: of two percent nobody's nose is the wiser, and every shot more can be miscounted.
_TIMES_THE_BEST: Final = 1.5
_AND: Final = 0.015
_FACTORS: Final = (10, 100, 1000)
_FLASKS_ML: Final = (10, 100)


def shots_for(
    wanted_ul: Decimal, pipettes: Sequence[Pipette], is_narrow: bool, most: int = MOST_SHOTS
) -> tuple[Shots, ...]:
    """Ways to deliver about so much, best first.

    How far a way is off is its rounding to the pipette's step plus its relative standard uncertainty.
    Ways that are clearly worse than the best come last; before them the fewest shots come first, and
    of equally many the one that is off least.

    Args:
        wanted_ul: Microlitres, more than 0.
        pipettes: Those on the bench.
        is_narrow: Whether only a fine tip reaches the bottom of the vial.
        most: Shots at most.

    Returns:
        Each pipette with each count of shots that it can be set for; empty if there is none.
    """
    usable = [pipette for pipette in pipettes if pipette.is_fine or not is_narrow]
    ways = [way for pipette in usable for way in _ways(wanted_ul, pipette, most)]
    off = {id(way): way_off(way, wanted_ul) for way in ways}
    limit = min(off.values(), default=0.0) * _TIMES_THE_BEST + _AND
    return tuple(
        sorted(
            ways,
            key=lambda way: (
                (0, way.count, off[id(way)])
                if off[id(way)] <= limit
                else (1, off[id(way)], way.count)
            ),
        )
    )


def way_off(way: Shots, wanted_ul: Decimal) -> float:
    """Rounding and relative standard uncertainty of a way together, a fraction."""
    return float(abs(way.total_ul - wanted_ul) / wanted_ul) + pipetting_uncertainty(way)


def _ways(wanted_ul: Decimal, pipette: Pipette, most: int) -> Iterator[Shots]:
    if wanted_ul <= 0:
        return
    for count in range(1, most + 1):
        setting = _nearest_setting(wanted_ul / count, pipette)
        if pipette.smallest_ul <= setting <= pipette.largest_ul:
            yield Shots(pipette, setting, count)


def _nearest_setting(microlitres: Decimal, pipette: Pipette) -> Decimal:
    """The nearest multiple of the pipette's step."""
    return (microlitres / pipette.step_ul).to_integral_value(ROUND_HALF_EVEN) * pipette.step_ul


def smallest_fault(
    wanted_ul: Decimal, label: str, pipettes: Sequence[Pipette], is_narrow: bool
) -> str:
    """Why so little can't be pipetted, with a dilution that helps; "" if it can.

    Args:
        wanted_ul: Microlitres, more than 0.
        label: The stock's.
        pipettes: Those on the bench, at least one.
        is_narrow: Whether only a fine tip reaches the bottom of the vial.
    """
    usable = [pipette for pipette in pipettes if pipette.is_fine or not is_narrow]
    if not usable:
        return (
            f"The vial of {label} is narrow and no pipette with a fine tip is on the bench: add one, "
            "or write by hand what is added."
        )
    least = min(pipette.smallest_ul for pipette in usable)
    if wanted_ul >= least or shots_for(wanted_ul, pipettes, is_narrow, 1):
        return ""
    return (
        f"{ul_words(to_figures(wanted_ul))} of {label} is less than a pipette delivers that reaches "
        f"it (at least {ul_words(least)}). {_dilution_advice(wanted_ul, pipettes, is_narrow)}"
    )


def _dilution_advice(wanted_ul: Decimal, pipettes: Sequence[Pipette], is_narrow: bool) -> str:
    least = min(pipette.smallest_ul for pipette in pipettes)
    for factor in _FACTORS:
        dose = wanted_ul * factor
        if dose < least or not shots_for(dose, pipettes, False):
            continue
        for flask in _FLASKS_ML:
            taken = flask * UL_IN_ML / factor
            ways = shots_for(taken, pipettes, is_narrow)
            if ways and ways[0].total_ul == taken:
                return (
                    f"Make up {ul_words(taken)} of it to {flask} ml and dose "
                    f"{ul_words(to_figures(dose))} of that."
                )
    return "Make a weaker stock of it first, in two or more steps."
