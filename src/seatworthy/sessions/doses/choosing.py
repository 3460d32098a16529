"""Which stock a dose is taken from, where several lots of one compound stand on the bench."""

from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Final

from seatworthy.sessions.doses.recipe import Recipe
from seatworthy.sessions.doses.stock import Stock

# Lots whose levels are off by no more than so many times the best, plus so much, are about equal.
# Ours, no source.
_TIMES_THE_BEST: Final = 1.5
_AND: Final = 0.01


def there(stock: Stock) -> Decimal | None:
    """What can still be taken from it; None if nobody knows."""
    return None if stock.left is None else max(stock.left - stock.dead_ul, Decimal(0))


def best_recipe(recipes: Sequence[Recipe], taken: Mapping[str, Decimal]) -> Recipe:
    """The most accurate dose with the fewest shots.

    A lot that holds enough goes before one that doesn't. Among about equal ones: fewest shots, then
    what is opened already, then what expires first, then the more accurate.

    Args:
        recipes: Of one need from different stocks, at least one.
        taken: What other samples take already, by id of the stock.
    """
    enough = [recipe for recipe in recipes if _suffices(recipe, taken)] or list(recipes)
    limit = min(map(off_by, enough)) * _TIMES_THE_BEST + _AND
    return min((recipe for recipe in enough if off_by(recipe) <= limit), key=_turn)


def off_by(recipe: Recipe) -> float:
    """How far a level is from the wanted one, its uncertainty included, a fraction."""
    wanted = float(recipe.need.level or 1)
    return (abs(float(recipe.level or 0) - wanted) + (recipe.level_off or 0.0) / 2) / wanted


def _suffices(recipe: Recipe, taken: Mapping[str, Decimal]) -> bool:
    stock = recipe.stock
    if stock is None or (holds := there(stock)) is None:
        return True
    return taken.get(stock.stock_id, Decimal(0)) + recipe.needed <= holds


def _turn(recipe: Recipe) -> tuple[int, bool, date, float, str]:
    stock = recipe.stock
    return (
        recipe.shots.count if recipe.shots else 0,
        stock is None or stock.opened_on is None,
        (stock.expires_on if stock else None) or date.max,
        off_by(recipe),
        stock.stock_id if stock else "",
    )
