"""Ethanol that comes with the doses, and as much for the blanks, so that nobody tastes it out."""

from collections.abc import Sequence
from decimal import Decimal
from typing import Final

from seatworthy.sessions.doses.amounts import UL_IN_ML, to_figures, ul_words
from seatworthy.sessions.doses.recipe import Recipe
from seatworthy.sessions.wording import listed, plain

# Added ethanol above so much of the beer may be noticed by itself. Ours, no source.
NOTED_PERCENT: Final = Decimal("0.2")


def ethanol_ul(amount_ul: Decimal, ethanol_percent: Decimal) -> Decimal:
    """Pure ethanol in a dose, microlitres; percent by volume."""
    return amount_ul * ethanol_percent / 100


def added_percent(solvent_ul: Decimal, volume_ml: Decimal) -> Decimal:
    """Ethanol that a dose adds to the beer, percent by volume."""
    return solvent_ul / UL_IN_ML / volume_ml * 100


def blank_ul(recipes: Sequence[Recipe], volume_ml: Decimal) -> Decimal:
    """Ethanol that a blank gets so that it equals the strongest dose of the session, microlitres.

    Scaled to its volume, to three figures at least.

    Args:
        recipes: Of the spiked samples; none is 0.
        volume_ml: Beer in the blank's vessel.
    """
    scaled = [recipe.solvent_ul * volume_ml / recipe.volume_ml for recipe in recipes]
    return to_figures(max(scaled, default=Decimal(0)))


def solvent_note(recipes: Sequence[Recipe]) -> str:
    """Which samples get so much ethanol that it may be noticed, and what to do; "" if none does."""
    noted = [r for r in recipes if added_percent(r.solvent_ul, r.volume_ml) > NOTED_PERCENT]
    if not noted:
        return ""
    most = max(noted, key=lambda r: r.solvent_ul / r.volume_ml)
    percent = round(added_percent(most.solvent_ul, most.volume_ml), 2)
    marks = [recipe.need.mark for recipe in noted]
    return (
        f"{'Sample' if len(marks) == 1 else 'Samples'} {listed(marks)}: the dose adds up to "
        f"{plain(percent)}% ethanol ({ul_words(most.solvent_ul)} in {plain(most.volume_ml)} ml), more "
        f"than {plain(NOTED_PERCENT)}%. The blanks get as much; a stronger stock needs less."
    )
