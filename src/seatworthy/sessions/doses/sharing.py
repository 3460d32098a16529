"""Whether a lot holds enough for all samples that take from it."""

from collections.abc import Sequence
from decimal import Decimal

from seatworthy.sessions.doses.amounts import to_figures, ul_words
from seatworthy.sessions.doses.choosing import there
from seatworthy.sessions.doses.recipe import Recipe
from seatworthy.sessions.doses.stock import UNIT, Stock
from seatworthy.sessions.wording import at_start, counted, listed


def too_little(stock: Stock, recipes: Sequence[Recipe]) -> str:
    """Why the lot doesn't suffice, with numbers; "" if it does, or nobody knows what is left."""
    holds, needed = there(stock), sum((r.needed for r in recipes), Decimal(0))
    if holds is None or needed <= holds:
        return ""
    dead = f" ({ul_words(stock.dead_ul)} stay in the vial)" if stock.dead_ul else ""
    return (
        f"{at_start(stock.label)} gives {_words(stock, holds)} more{dead}, and {_marks(recipes)} "
        f"{_words(stock, needed)}: open another lot, or pour fewer glasses."
    )


def exactly_all(stock: Stock, recipes: Sequence[Recipe]) -> str:
    """That the vial is emptied to the last drop; "" if not, and for whole units."""
    if stock.kind == UNIT or sum(r.needed for r in recipes) != there(stock):
        return ""
    return (
        f"{at_start(stock.label)}: {_marks(recipes)} {_words(stock, there(stock) or Decimal(0))}, "
        "exactly what is left. Nothing is left for the tip: keep another lot at hand."
    )


def _marks(recipes: Sequence[Recipe]) -> str:
    marks = sorted(recipe.need.mark for recipe in recipes)
    return f"sample {marks[0]} takes" if len(marks) == 1 else f"samples {listed(marks)} take"


def _words(stock: Stock, amount: Decimal) -> str:
    if stock.kind == UNIT:
        return counted(int(amount), "unit")
    return ul_words(to_figures(amount))
