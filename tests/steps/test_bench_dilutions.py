from dataclasses import replace
from datetime import timedelta
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

from seatworthy.steps.bench_equipment import (
    add_container,
    add_pipette,
)
from seatworthy.steps.bench_facts import containers, pipettes
from seatworthy.steps.bench_ladder import AskedLadder, ladder_view
from seatworthy.steps.bench_states import (
    found_left,
    use_up,
)
from seatworthy.steps.dilution_plans import plan_dilution
from seatworthy.steps.dilutions import Made, log_dilution

# ---------- dilutions ----------


def test_a_dilution_is_a_stock_made_from_another(desk):
    last = desk.today() + timedelta(days=30)
    stock = added(desk, replace(SOLUTION, expires_on=last, is_bought_dilution=True))
    told = log_dilution(desk, Made(stock.stock_id, "100", "µl", "10", "0"))
    made = stocks_by_lot(desk)["7/1"]
    assert "stands on the bench" in told
    # 100 microlitres of 1 g/l in 10 ml: a hundredth
    assert (made.strength, made.left, made.expires_on) == (Decimal("0.01"), 10_000, last)
    assert made.label == "diacetyl 10 mg/l, lot 7/1"
    assert made.is_bought_dilution
    assert made.is_food_grade
    assert made.ethanol_percent == Decimal("0.4")
    assert stocks_by_lot(desk)["7"].left == 900


def test_ethanol_of_a_dilution_comes_from_both(desk):
    stock = added(desk, SOLUTION)
    log_dilution(desk, Made(stock.stock_id, "1", "ml", "10", "20"))
    # a tenth at 40% and nine tenths at 20%
    assert stocks_by_lot(desk)["7/1"].ethanol_percent == 22


@pytest.mark.parametrize(
    ("changed", "made", "words"),
    [
        ({}, {"taken": "2", "taken_unit": "ml"}, "gives 1 ml more"),
        ({"dead_ul": "950"}, {}, "gives 50 µl more"),
        ({}, {"made": "0.1"}, "no dilution"),
        ({}, {"taken": ""}, "What was taken is empty"),
        ({}, {"solvent_percent": ""}, "ethanol"),
        ({"is_food_grade": False}, {}, "food grade"),
        ({"compound": "tca"}, {}, "dilution"),
    ],
)
def test_a_dilution_that_will_not_do_is_refused_whole(desk, changed, made, words):
    stock = added(desk, replace(SOLUTION, **changed))
    typed = replace(Made(stock.stock_id, "100", "µl", "10", "0"), **made)
    nothing_is_recorded(desk, lambda: log_dilution(desk, typed), words)


def test_nothing_is_diluted_from_what_is_used_up_expired_or_whole(desk):
    gone = added(desk, SOLUTION)
    use_up(desk, gone.stock_id)
    yesterday = desk.today() - timedelta(days=1)
    old = added(desk, replace(SOLUTION, lot="8", expires_on=yesterday))
    whole = added(desk, UNITS)
    for stock, words in ((gone, "used up"), (old, "expired"), (whole, "whole unit")):
        typed = Made(stock.stock_id, "100", "µl", "10", "0")
        nothing_is_recorded(desk, lambda typed=typed: log_dilution(desk, typed), words)


def test_a_dilution_does_not_outlive_its_parent(desk):
    last = desk.today() + timedelta(days=30)
    stock = added(desk, replace(SOLUTION, expires_on=last))
    typed = Made(stock.stock_id, "100", "µl", "10", "0", expires_on=last + timedelta(days=1))
    nothing_is_recorded(desk, lambda: log_dilution(desk, typed), "outlive")


@pytest.mark.parametrize(
    ("wanted", "unit", "flasks"),
    [("10", "mg/l", 1), ("1", "µg/l", 2)],
)
def test_the_way_to_a_weaker_stock_is_one_sentence_a_flask(desk, wanted, unit, flasks):
    stock = added(desk, SOLUTION)
    add_pipette(desk, BLUE)
    steps = plan_dilution(desk, stock.stock_id, wanted, unit)
    assert len(steps) == flasks
    assert steps[0].startswith("Take ")
    assert "of diacetyl 1 g/l, lot 7 (blue 100, " in steps[0]
    assert steps[-1].endswith(f"ml: {wanted} {unit}.")


def test_a_reference_is_diluted_so_many_times(desk):
    stock = added(desk, REFERENCE)
    add_pipette(desk, BLUE)
    assert plan_dilution(desk, stock.stock_id, "100")[-1].endswith("1 ml in 1 l gives 0.03×.")


def test_no_way_to_a_weaker_stock_is_said_with_what_to_do(desk):
    stock = added(desk, SOLUTION)
    nothing_is_recorded(desk, lambda: plan_dilution(desk, stock.stock_id, "1", "mg/l"), "pipette")
    add_pipette(desk, BLUE)
    nothing_is_recorded(desk, lambda: plan_dilution(desk, stock.stock_id, "2", "g/l"), "stronger")


# ---------- ladders ----------


@pytest.fixture
def asked(desk):
    """A ladder of a reference that gives 3 times threshold with 1 ml in a litre."""
    add_pipette(desk, replace(BLUE, largest="200"))
    add_container(desk, BOTTLE)
    return AskedLadder(
        added(desk, REFERENCE).stock_id, "", containers(desk)[0].container_id,
        pipettes(desk)[0].pipette_id, "100", "1 2 3 4",
    )  # fmt: skip


def test_a_ladder_tells_the_real_levels_beside_the_meant_ones(desk, asked):
    # 100, 200, 300, 400 µl in 330 ml: 0.91, 1.82, 2.73, 3.64 (arithmetic: 3 × µl / 330)
    view = ladder_view(desk, asked)
    assert [rung.meant for rung in view.rungs] == ["1×", "2×", "3×", "4×"]
    assert [rung.really for rung in view.rungs] == ["0.91×", "1.82×", "2.73×", "3.64×"]
    assert [rung.amount for rung in view.rungs] == ["100 µl", "200 µl", "300 µl", "400 µl"]
    assert view.rungs[0].counts == "no, too weak"
    assert view.rungs[3].counts == "yes"


def test_a_ladder_that_takes_all_that_is_there_says_so(desk, asked):
    found_left(desk, asked.stock_id, "1")
    assert any("exactly" in note for note in ladder_view(desk, asked).notes)


@pytest.mark.parametrize(
    ("changed", "words"),
    [({"counts": "0 1"}, "from 1 to 24"), ({"counts": "one"}, "Got “one”"),
     ({"setting": "500"}, "10 to 200 µl"), ({"pipette_id": "x"}, "stand on the bench")],
)  # fmt: skip
def test_a_ladder_that_cannot_be_is_refused(desk, asked, changed, words):
    nothing_is_recorded(desk, lambda: ladder_view(desk, replace(asked, **changed)), words)


def test_a_ladder_of_a_concentration_asks_for_the_working_threshold(desk, asked):
    stock = added(desk, SOLUTION)
    step = replace(asked, stock_id=stock.stock_id)
    nothing_is_recorded(desk, lambda: ladder_view(desk, step), "working threshold")
