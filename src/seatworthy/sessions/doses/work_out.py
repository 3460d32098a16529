"""Recipes of a whole session from what stands on the bench, with every fault and note at once."""

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal

from seatworthy.sessions.doses.choosing import best_recipe
from seatworthy.sessions.doses.dose import need_fault
from seatworthy.sessions.doses.dosing import blank_recipe, recipe_fault, spiked_recipe
from seatworthy.sessions.doses.level_notes import level_notes
from seatworthy.sessions.doses.recipe import Bench, Need, Recipe, WorkedOut, in_order_of_work
from seatworthy.sessions.doses.sharing import exactly_all, too_little
from seatworthy.sessions.doses.solvent import blank_ul, solvent_note
from seatworthy.sessions.doses.stock import Stock, stock_fault
from seatworthy.sessions.doses.vessels import vessel_fault


def work_out(needs: Sequence[Need], bench: Bench) -> WorkedOut:
    """Work out what goes into every vessel of a session.

    A sample whose lot holds too little for all vessels keeps its recipe beside the fault, so that one
    sees what takes so much.

    Args:
        needs: The samples that are to be prepared; those with an addition written by hand are not here.
        bench: What they may be made with; at least one start.

    Raises:
        ValueError: if the bench has no start: no day tells which lots have expired.
    """
    if not bench.starts:
        message = "A session has at least one start."
        raise ValueError(message)
    fault = _bench_fault(needs, bench)
    if fault:
        return WorkedOut((), (fault,), ())
    spiked, faults = _spiked(needs, bench)
    ethanol = blank_ul(spiked, bench.container.content_ml)
    blanks = [blank_recipe(need, bench, ethanol) for need in needs if need.compound is None]
    recipes = in_order_of_work([*blanks, *spiked])
    shared = tuple(_shared(recipes))
    notes = [note for recipe in recipes for note in level_notes(recipe, bench.counted_levels)]
    return WorkedOut(
        recipes=recipes,
        faults=_said([*faults, *(too_little(*pair) for pair in shared)]),
        notes=_said([*notes, *(exactly_all(*pair) for pair in shared), solvent_note(spiked)]),
    )


def _said(sentences: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(filter(None, sentences)))


def _bench_fault(needs: Sequence[Need], bench: Bench) -> str:
    """Why nothing can be worked out at all."""
    for need in needs:
        fault = vessel_fault(need.glasses, bench.pour_ml, bench.container)
        if fault:
            return fault
    return ""


def _spiked(needs: Sequence[Need], bench: Bench) -> tuple[list[Recipe], list[str]]:
    recipes: list[Recipe] = []
    faults: list[str] = []
    taken: dict[str, Decimal] = {}
    for need in needs:
        if need.compound is None:
            continue
        found, reasons = _ways(need, bench)
        if not found:
            faults.extend(reasons)
            continue
        best = best_recipe(found, taken)
        if best.stock:
            taken[best.stock.stock_id] = taken.get(best.stock.stock_id, Decimal(0)) + best.needed
        recipes.append(best)
    return recipes, faults


def _ways(need: Need, bench: Bench) -> tuple[list[Recipe], list[str]]:
    """A recipe from every lot that will do; else why none does."""
    fault = need_fault(need)
    lots = [stock for stock in bench.stocks if stock.compound == need.compound]
    if fault or not lots:
        return [], [fault or _no_stock(need)]
    reasons = [_lot_fault(need, stock, bench) for stock in lots]
    fit = [stock for stock, reason in zip(lots, reasons, strict=True) if not reason]
    return [spiked_recipe(need, stock, bench) for stock in fit], reasons


def _lot_fault(need: Need, stock: Stock, bench: Bench) -> str:
    on = min(bench.starts).date()
    return stock_fault(stock, on, need.serve) or recipe_fault(need, stock, bench)


def _no_stock(need: Need) -> str:
    return (
        f"Sample {need.mark}: no stock of {need.label} is on the bench. Add one on the bench page, or "
        "write by hand what is added."
    )


def _shared(recipes: Sequence[Recipe]) -> Iterator[tuple[Stock, list[Recipe]]]:
    """Every lot with the recipes that take from it."""
    by_lot: dict[str, list[Recipe]] = {}
    for recipe in recipes:
        if recipe.stock:
            by_lot.setdefault(recipe.stock.stock_id, []).append(recipe)
    for own in by_lot.values():
        if own[0].stock:
            yield own[0].stock, own
