"""The bench of the sample brewery: stocks, pipettes and vessels, their days counted from today."""

import tomllib
from collections.abc import Mapping
from datetime import timedelta
from typing import Any

from seatworthy.shipped import shipped
from seatworthy.steps.bench_equipment import (
    TypedContainer,
    TypedPipette,
    add_container,
    add_pipette,
)
from seatworthy.steps.bench_writing import NewStock, add_stock
from seatworthy.steps.desk import Desk


def set_up_bench(desk: Desk) -> None:
    """Put everything of the sample bench on record."""
    bench = tomllib.loads(shipped("sample_data/bench.toml").read_text(encoding="utf-8"))
    for stock in bench["stocks"]:
        add_stock(desk, NewStock(**_with_days(desk, stock), is_food_grade=True))
    for pipette in bench["pipettes"]:
        add_pipette(desk, TypedPipette(**pipette))
    for container in bench["containers"]:
        add_container(desk, TypedContainer(**container))


def _with_days(desk: Desk, stock: Mapping[str, Any]) -> dict[str, Any]:
    """A stock whose days are counted from today as one whose days stand in the calendar."""
    kept = {name: value for name, value in stock.items() if not name.endswith("_days")}
    for name in ("opened", "expires"):
        if f"{name}_days" in stock:
            kept[f"{name}_on"] = desk.today() + timedelta(days=stock[f"{name}_days"])
    return kept
