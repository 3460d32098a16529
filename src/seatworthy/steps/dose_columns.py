"""A dose as it is kept: what the recipe says, or what was done instead, checked."""

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

from seatworthy.errors import PanelError
from seatworthy.sessions.doses.stock import Stock, stock_fault
from seatworthy.steps.bench_facts import pipettes, stocks
from seatworthy.steps.desk import Desk
from seatworthy.steps.recipes_kept import KeptRecipe, taken_words
from seatworthy.steps.session_facts import SessionFacts

# More than this share of a vessel is a slip of the unit; ours, no source.
_MOST_SHARE: Final = Decimal("0.2")
_MOST_SHOTS: Final = 50
_MOST_UNITS: Final = 10_000
_LEAST_UL: Final = Decimal("0.001")


@dataclass(frozen=True)
class OtherDose:
    """A dose that differs from the recipe; what is None stays as the recipe says.

    Attributes:
        stock_id: Another lot.
        amount: Microlitres in all, or whole units.
        pipette_id: What it was measured with.
        shots: How many; with `amount` they give the setting.
        volume_ml: Beer in the vessel.
    """

    stock_id: str | None = None
    amount: Decimal | None = None
    pipette_id: str | None = None
    shots: int | None = None
    volume_ml: Decimal | None = None


def dose_columns(
    desk: Desk,
    facts: SessionFacts,
    recipe: KeptRecipe,
    dose: OtherDose,
    taken_from: str | None = None,
) -> dict[str, object]:
    """Stock, pipette, shots and amounts of one vessel, checked.

    Args:
        desk: The open store.
        facts: The session.
        recipe: What the vessel was to get.
        dose: What it got instead.
        taken_from: The lot from which it was dosed by what is on record, which may be empty by now.

    Raises:
        PanelError: if that can't be.
    """
    volume = recipe.volume_ml if dose.volume_ml is None else dose.volume_ml
    amount = recipe.amount if dose.amount is None else dose.amount
    stock_id = dose.stock_id or recipe.stock_id
    _check_amounts(recipe, amount, volume)
    if stock_id is not None:
        _check_stock(desk, facts, recipe, stock_id, was_there=stock_id == taken_from)
    setting, shots, pipette_id = _shots(desk, recipe, dose, amount)
    return {
        "stock_id": stock_id,
        "pipette_id": pipette_id,
        "setting_ul": setting,
        "shots": shots,
        "amount": amount,
        "solvent_ul": recipe.solvent_ul,
        "volume_ml": volume,
    }


def _shots(
    desk: Desk, recipe: KeptRecipe, dose: OtherDose, amount: Decimal
) -> tuple[Decimal | None, int | None, str | None]:
    if dose.amount is None and dose.pipette_id is None and dose.shots is None:
        return recipe.setting_ul, recipe.shots, recipe.pipette_id
    shots = 1 if dose.shots is None else dose.shots
    if not 1 <= shots <= _MOST_SHOTS:
        message = f"A dose is 1 to {_MOST_SHOTS} shots, got {shots}. Nothing was recorded."
        raise PanelError(message)
    in_use = {pipette.pipette_id: pipette for pipette in pipettes(desk)}
    pipette_id = dose.pipette_id or recipe.pipette_id
    if dose.pipette_id is None and pipette_id not in in_use:
        pipette_id = None  # measured by other means
    if pipette_id is None or not amount or recipe.stock_kind == "unit":
        return None, None, None
    setting = amount / shots
    found = in_use.get(pipette_id)
    if found is None or not found.smallest_ul <= setting <= found.largest_ul:
        raise PanelError(_out_of_range(found.label if found else "", shots, setting))
    return round(setting, 3), shots, pipette_id


def _out_of_range(label: str, shots: int, setting: Decimal) -> str:
    what = f"the pipette {label}" if label else "that pipette"
    return (
        f"{shots} {'shot' if shots == 1 else 'shots'} would be {setting.normalize():f} µl each, which "
        f"{what} can't be set to. Look at the number of shots. Nothing was recorded."
    )


def _check_amounts(recipe: KeptRecipe, amount: Decimal, volume: Decimal) -> None:
    if not (volume.is_finite() and Decimal(1) <= volume <= Decimal(100_000)):
        message = f"A vessel holds 1 ml to 100 l of beer, got {volume} ml. Nothing was recorded."
        raise PanelError(message)
    if recipe.stock_id is None:
        if amount:
            message = (
                f"{recipe.mark} is a blank: nothing is added to it. If something went in, put the "
                "vessel away, or set its jug aside. Nothing was recorded."
            )
            raise PanelError(message)
        return
    if not (amount.is_finite() and amount >= _LEAST_UL):
        message = f"The dose must be more than 0, got {amount}. Nothing was recorded."
        raise PanelError(message)
    if recipe.stock_kind == "unit":
        if amount > _MOST_UNITS or amount != amount.to_integral_value():
            message = (
                f"Units are whole and at most {_MOST_UNITS}, got {amount.normalize()}. Nothing was "
                "recorded."
            )
            raise PanelError(message)
    elif amount / 1000 > volume * _MOST_SHARE:
        message = (
            f"{taken_words(recipe.stock_kind, amount, None, None)} are more than a fifth of the "
            f"vessel. Look at the unit: microlitres are meant. Nothing was recorded."
        )
        raise PanelError(message)


def _check_stock(
    desk: Desk, facts: SessionFacts, recipe: KeptRecipe, stock_id: str, *, was_there: bool
) -> None:
    stock: Stock | None = next((s for s in stocks(desk) if s.stock_id == stock_id), None)
    compounds = {s.mark: s.compound for s in facts.samples.values()}
    if stock is None or stock.compound != compounds[recipe.mark]:
        message = f"{recipe.mark} takes another compound than that lot holds. Nothing was recorded."
        raise PanelError(message)
    if stock.kind != recipe.stock_kind:
        message = (
            f"{stock.label} is measured in another way than the recipe of {recipe.mark}: work the "
            "doses out again with it. Nothing was recorded."
        )
        raise PanelError(message)
    known = replace(stock, left=None, is_used_up=False) if was_there else stock
    fault = stock_fault(known, facts.head.session_on, _serve(desk, stock.compound))
    if fault:
        message = f"{fault} Nothing was recorded."
        raise PanelError(message)


def _serve(desk: Desk, compound: str) -> str:
    rows = desk.store.rows("compound_care")
    return next(str(row["serve"]) for row in rows if row["compound"] == compound)
