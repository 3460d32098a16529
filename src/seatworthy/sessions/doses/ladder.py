"""A ladder: one, two, three shots of one setting into like vessels, and the levels that come of it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Final

from seatworthy.sessions.doses.amounts import to_figures, ul_words
from seatworthy.sessions.doses.dose import added_by
from seatworthy.sessions.doses.equipment import Container, Pipette
from seatworthy.sessions.doses.recipe import Shots
from seatworthy.sessions.doses.stock import UNIT, Stock
from seatworthy.sessions.doses.uncertainty import expanded, relative_uncertainty
from seatworthy.sessions.wording import at_start, counted, plain

_NEAR: Final = Decimal("0.15")  # of what one shot gives; ours, no source
_HALF: Final = Decimal("0.5")


@dataclass(frozen=True)
class Rung:
    """One vessel of a ladder.

    Attributes:
        count: Shots.
        nominal: Multiples that so many whole shots are meant to add; None where one shot is near no
            half or whole multiple.
        level: What it really is, total, multiples.
        level_off: Half the width of the range that holds it with a chance of about 95%, multiples.
        counts: Whether it counts for a seat; None if no rulebook is asked.
    """

    count: int
    nominal: Decimal | None
    level: Decimal
    level_off: float
    counts: bool | None


@dataclass(frozen=True)
class Ladder:
    """The rungs from the fewest shots to the most, and notes as finished sentences."""

    rungs: tuple[Rung, ...]
    notes: tuple[str, ...]


def ladder(
    stock: Stock, pipette: Pipette, setting_ul: Decimal, counts: Sequence[int],
    container: Container, background_level: Decimal,
    counted_levels: tuple[Decimal, Decimal] | None, threshold_ug_l: Decimal | None,
) -> Ladder:  # fmt: skip
    """Levels of a ladder, one vessel for each count of shots.

    Args:
        stock: A liquid one.
        pipette: Which.
        setting_ul: What it is set to, within its range.
        counts: Shots into each vessel, at least one vessel, each 1 or more.
        container: The vessels, all alike.
        background_level: What the base beer holds already, multiples.
        counted_levels: Lowest and highest level that counts for a seat; None if nobody asks.
        threshold_ug_l: Working threshold; only a solution asks for it.

    Raises:
        ValueError: for whole units, no count, or a count or setting out of range.
    """
    if stock.kind == UNIT or not counts or min(counts) < 1 or setting_ul <= 0:
        message = "A ladder takes a liquid stock, a setting above 0 and counts of 1 or more."
        raise ValueError(message)
    one = added_by(setting_ul, stock, threshold_ug_l, container.content_ml)
    meant = _meant(one)
    rungs = tuple(
        Rung(
            count=count,
            nominal=None if meant is None else count * meant,
            level=(level := background_level + count * one),
            level_off=_off(Shots(pipette, setting_ul, count), stock, container, count * one),
            counts=is_counted(level, counted_levels),
        )
        for count in sorted(counts)
    )
    return Ladder(rungs, tuple(_notes(stock, pipette, setting_ul, sum(counts))))


def _meant(one: Decimal) -> Decimal | None:
    """The half or whole multiple that one shot is near; None if it is near none."""
    nearest = (one / _HALF).to_integral_value(ROUND_HALF_UP) * _HALF
    return nearest if nearest and abs(nearest - one) <= _NEAR * one else None


def is_counted(level: Decimal, counted_levels: tuple[Decimal, Decimal] | None) -> bool | None:
    """Whether a level lies within those that count for a seat; None if no rulebook is asked."""
    if counted_levels is None:
        return None
    lowest, highest = counted_levels
    return lowest <= level <= highest


def _off(shots: Shots, stock: Stock, container: Container, added: Decimal) -> float:
    relative = relative_uncertainty(shots, container, float(stock.strength_off_percent))
    return expanded(float(added), relative)


def _notes(stock: Stock, pipette: Pipette, setting_ul: Decimal, shots: int) -> Iterator[str]:
    name = at_start(stock.label)
    if not pipette.smallest_ul <= setting_ul <= pipette.largest_ul:
        yield (
            f"{at_start(pipette.label)} is set to {plain(pipette.smallest_ul)} to "
            f"{ul_words(pipette.largest_ul)}, not to {ul_words(setting_ul)}: take another pipette."
        )
    if stock.is_narrow and not pipette.is_fine:
        yield (
            f"The vial of {stock.label} is narrow and the tip of {pipette.label} does not reach its "
            "bottom: take a fine tip, or pour the vial out first."
        )
    if stock.left is None:
        return
    taken, there = shots * setting_ul, max(stock.left - stock.dead_ul, Decimal(0))
    words = f"{counted(shots, 'shot')} of {ul_words(setting_ul)} are {ul_words(taken)}"
    if taken > there:
        yield f"{name} gives {ul_words(to_figures(there))} and {words}: open another lot, or take fewer."
    elif taken == there:
        yield (
            f"{name}: {words}, exactly what is in the vial. Nothing is left for the tip; the last "
            "shot may fall short, so keep another lot at hand."
        )
