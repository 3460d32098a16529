"""What tests of the bench share: three stocks, a pipette, a bottle, and a refusal that stores nothing."""

import pytest

from seatworthy.errors import PanelError
from seatworthy.steps.bench_equipment import TypedContainer, TypedPipette
from seatworthy.steps.bench_facts import stocks
from seatworthy.steps.bench_writing import NewStock, add_stock

SOLUTION = NewStock(
    "diacetyl", "solution", "7", "1", "g/l", full_amount="1", ethanol_percent="40",
    is_food_grade=True,
)  # fmt: skip
REFERENCE = NewStock(
    "dms", "reference", "22", "3", gives_amount="1", gives_unit="ml", litres="1",
    full_amount="10", ethanol_percent="0", is_food_grade=True,
)  # fmt: skip
UNITS = NewStock(
    "isoamyl_acetate", "unit", "K9", "3", litres="0,5", full_amount="30", is_food_grade=True
)
BLUE = TypedPipette("blue 100", "10", "100", "0,5", is_fine=True)
BOTTLE = TypedContainer("bottle 330 ml", "bottle", "330", "5", "", "10")


def added(desk, typed):
    add_stock(desk, typed)
    return stocks_by_lot(desk)[typed.lot]


def stocks_by_lot(desk):
    return {stock.lot: stock for stock in stocks(desk)}


def nothing_is_recorded(desk, step, *words):
    before = desk.version
    with pytest.raises(PanelError) as refused:
        step()
    assert desk.version == before
    assert str(refused.value).endswith("Nothing was recorded.")
    for word in words:
        assert word in str(refused.value)
