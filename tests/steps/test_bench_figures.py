"""Figures typed at the bench that nobody can mean: each is refused in a sentence, and nothing is stored."""

from dataclasses import replace
from decimal import Decimal

import pytest
from on_the_bench import (
    BLUE,
    BOTTLE,
    REFERENCE,
    SOLUTION,
    UNITS,
    added,
    nothing_is_recorded,
    stocks_by_lot,
)

from seatworthy.steps.bench_equipment import add_container, add_pipette
from seatworthy.steps.bench_limits import state_limits
from seatworthy.steps.bench_states import found_left
from seatworthy.steps.bench_writing import add_stock
from seatworthy.steps.dilution_plans import plan_dilution
from seatworthy.steps.dilutions import Made, log_dilution

HUGE = ("1e30", "-1e30", "1e99", "9" * 40, "0." + "0" * 39 + "1", "1e-30", "-0.0001", "-0")
NONE = ("10²", "²", "①", "½", "𝟐", "٣", "NaN", "Infinity", "1 000", "1e100", "9" * 41)


@pytest.mark.parametrize("figure", HUGE + NONE)
def test_a_figure_that_nobody_can_mean_is_refused_wherever_it_is_typed(desk, figure):
    stock, reference = added(desk, SOLUTION), added(desk, REFERENCE)
    made = Made(stock.stock_id, "100", "µl", "10", "0")
    steps = (
        lambda: add_stock(desk, replace(SOLUTION, strength=figure)),
        lambda: add_stock(desk, replace(SOLUTION, dead_ul=figure)),
        lambda: add_stock(desk, replace(SOLUTION, ethanol_percent=figure)),
        lambda: add_stock(desk, replace(SOLUTION, full_amount=figure)),
        lambda: add_stock(desk, replace(REFERENCE, gives_amount=figure)),
        lambda: add_stock(desk, replace(REFERENCE, litres=figure)),
        lambda: add_stock(desk, replace(UNITS, full_amount=figure)),
        lambda: add_pipette(desk, replace(BLUE, smallest=figure)),
        lambda: add_pipette(desk, replace(BLUE, bias=figure, spread="1")),
        lambda: add_container(desk, replace(BOTTLE, content=figure)),
        lambda: add_container(desk, replace(BOTTLE, headspace=figure)),
        lambda: state_limits(desk, "dms", figure, "", "", desk.today()),
        lambda: state_limits(desk, "dms", "", "", figure, desk.today()),
        lambda: found_left(desk, stock.stock_id, figure),
        lambda: log_dilution(desk, replace(made, taken=figure)),
        lambda: log_dilution(desk, replace(made, made=figure)),
        lambda: log_dilution(desk, replace(made, solvent_percent=figure)),
        lambda: plan_dilution(desk, stock.stock_id, figure, "mg/l"),
        lambda: plan_dilution(desk, reference.stock_id, figure),
    )
    for step in steps:
        nothing_is_recorded(desk, step, f"got {figure}" if figure in HUGE else "“")


def test_what_would_be_kept_as_nothing_is_refused_and_nothing_itself_is_not(desk):
    # 3 decimals of a microlitre are kept of what stays in a vial
    step = lambda: add_stock(desk, replace(SOLUTION, dead_ul="0.0004"))
    nothing_is_recorded(desk, step, "at most 3 decimals", "kept as 0")
    assert added(desk, replace(SOLUTION, dead_ul="0.0006")).dead_ul == Decimal("0.001")
    assert added(desk, replace(SOLUTION, lot="8", dead_ul="0")).dead_ul == 0
    assert added(desk, replace(SOLUTION, lot="9", dead_ul="0.000")).dead_ul == 0


def test_full_width_digits_are_read(desk):
    add_stock(desk, replace(SOLUTION, full_amount="１"))
    assert stocks_by_lot(desk)["7"].left == 1000


@pytest.mark.parametrize("level", ["x", "×", "xxxx", "xx", "× ×", "5xx", "x5", "5 times"])
def test_a_sign_without_a_number_takes_no_ceiling_back(desk, level):
    state_limits(desk, "dms", "", "", "5", desk.today())
    step = lambda: state_limits(desk, "dms", "", "", level, desk.today())
    nothing_is_recorded(desk, step, "The strongest level", "must be a number")


@pytest.mark.parametrize("hours", ["x", "xxxx", "8x", "8 h"])
def test_hours_that_are_no_number_take_nothing_back(desk, hours):
    state_limits(desk, "dms", "8", "4", "", desk.today())
    for figures in ((hours, "4", ""), ("8", hours, "")):
        step = lambda figures=figures: state_limits(desk, "dms", *figures, desk.today())
        nothing_is_recorded(desk, step, "must be a number")


@pytest.mark.parametrize("level", ["5", "5×", "5x", "5 X", " 5 × "])
def test_a_ceiling_is_read_with_its_sign_and_without(desk, level):
    assert "served up to 5×" in state_limits(desk, "dms", "", "", level, desk.today())


def test_a_part_of_a_unit_is_no_unit_however_small(desk):
    whole = added(desk, UNITS)
    for amount in ("2.5", "2.0004"):
        step = lambda amount=amount: found_left(desk, whole.stock_id, amount)
        nothing_is_recorded(desk, step, "whole number")
