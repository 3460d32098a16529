"""The way from a stock to a weaker one, in the steps that somebody does at the bench."""

from dataclasses import replace
from decimal import Decimal
from typing import Final

from seatworthy.sessions.doses.amounts import strength_words, ug_per_ul, ul_words
from seatworthy.sessions.doses.dilution import DilutionStep, dilute, dilution_fault
from seatworthy.sessions.doses.stock import SOLUTION, Stock
from seatworthy.sessions.wording import counted
from seatworthy.steps.bench_facts import pipettes, stock_of
from seatworthy.steps.bench_reading import Asked, plain, read_figure, refuse
from seatworthy.steps.desk import Desk
from seatworthy.steps.dilutions import check_usable, stock_row

_MOST: Final = Decimal(1_000_000)
_STRENGTH: Final = Asked("The wanted strength", "", Decimal(0), _MOST, 9, is_above=True)
_WEAKER: Final = Asked("How many times weaker", "", Decimal(1), _MOST, 6, is_above=True)


def plan_dilution(
    desk: Desk, stock_id: str, wanted: str | Decimal, unit: str = ""
) -> tuple[str, ...]:
    """Steps with the pipettes on the bench, a sentence each; nothing is recorded.

    Args:
        desk: The open store.
        stock_id: The stock it starts from.
        wanted: The strength that is wanted in `unit`; of a reference how many times weaker.
        unit: One of `bench_writing.CONCENTRATIONS`; not read for a reference.

    Raises:
        PanelError: if the stock can't be used, the figure will not do, or no way leads there.
    """
    row = stock_row(desk, stock_id)
    check_usable(desk, row)
    stock, on_bench = stock_of(row), pipettes(desk)
    strength = _wanted(stock, wanted, unit)
    steps = dilute(stock, strength, on_bench)
    if not steps:
        raise refuse(dilution_fault(stock, strength, on_bench))
    return tuple(_words(stock, step, is_first=step is steps[0]) for step in steps)


def _wanted(stock: Stock, written: str | Decimal, unit: str) -> Decimal:
    if stock.kind == SOLUTION:
        return ug_per_ul(read_figure(_STRENGTH, written), unit)
    return stock.strength / read_figure(_WEAKER, written)


def _words(stock: Stock, step: DilutionStep, *, is_first: bool) -> str:
    shots = step.take
    way = f"{shots.pipette.label}, {counted(shots.count, 'shot')} of {ul_words(shots.setting_ul)}"
    of = stock.label if is_first else "the dilution before"
    return (
        f"Take {ul_words(shots.total_ul)} of {of} ({way}) and make up to {plain(step.make_up_ml)} ml: "
        f"{strength_words(replace(stock, strength=step.strength))}."
    )
