"""What the trainer should know of one level: off, unsure, not counted, or not fresh for all sittings."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from seatworthy.sessions.doses.amounts import to_figures
from seatworthy.sessions.doses.ladder import is_counted
from seatworthy.sessions.doses.recipe import Recipe
from seatworthy.sessions.wording import plain, times

NOTED_OFF: Final = Decimal("0.05")  # of the wanted level; ours, no source
NOTED_UNSURE: Final = 0.20  # of the real level, expanded; ours, no source


def level_notes(
    recipe: Recipe, counted_levels: tuple[Decimal, Decimal] | None = None
) -> Iterator[str]:
    """Notes on one recipe, a finished sentence each; none for a blank.

    Args:
        recipe: What goes in.
        counted_levels: Lowest and highest level that counts for a seat. That a level does not count is
            told only where the wanted one would; the plan has told it of the others.
    """
    level, wanted, need = recipe.level, recipe.need.level, recipe.need
    if level is None or wanted is None:
        return
    name = f"Sample {need.mark} ({need.label})"
    real = times(to_figures(level))
    if abs(level - wanted) > NOTED_OFF * wanted:
        yield (
            f"{name} really has {real}, not {times(wanted)}: {plain(abs(level / wanted - 1) * 100 // 1)}% "
            "off. Plan that level, or use another stock or pipette."
        )
    if recipe.level_off is not None and recipe.level_off > NOTED_UNSURE * float(level):
        yield (
            f"{name} is sure within {recipe.level_off / float(level):.0%} only: use fewer shots, a smaller "
            "pipette, or a stock whose strength is better known."
        )
    if recipe.counts is False and is_counted(wanted, counted_levels) is not False:
        yield f"{name} really has {real}, a level that does not count for a seat: train with it."
    if recipe.prepare_from and recipe.prepare_until and recipe.prepare_from > recipe.prepare_until:
        yield (
            f"{name} keeps {plain(need.keeps_h or Decimal(0))} hours, too short for all sittings from "
            "one preparation: prepare it fresh for each."
        )
