"""Several people state something of the bench at the same moment; what each of them said holds."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import timedelta
from functools import partial
from threading import Barrier

import pytest
from on_the_bench import BLUE, BOTTLE, SOLUTION, added, stocks_by_lot

from seatworthy.errors import PanelError
from seatworthy.steps.bench_equipment import (
    add_container,
    add_pipette,
    change_pipette,
    put_out_of_use,
)
from seatworthy.steps.bench_facts import containers, pipettes, stocks
from seatworthy.steps.bench_limits import state_limits
from seatworthy.steps.bench_states import found_left, open_stock, set_expiry, use_up
from seatworthy.steps.bench_writing import add_stock
from seatworthy.steps.dilutions import Made, log_dilution
from seatworthy.steps.safekeeping import verify
from seatworthy.steps.shelf_writing import NOTHING_NEW

ROUNDS = 4


def at_once(*steps):
    """What each step told, "" where it was refused; all of them start together."""
    start = Barrier(len(steps))

    def told(step):
        start.wait()
        try:
            return step()
        except PanelError:
            return ""

    with ThreadPoolExecutor(len(steps)) as pool:
        return list(pool.map(told, steps))


@pytest.mark.parametrize("lot", [str(number) for number in range(ROUNDS)])
def test_a_lot_used_up_while_its_last_day_is_stated_is_both(desk, lot):
    stock = added(desk, replace(SOLUTION, lot=lot))
    last = desk.today() + timedelta(days=5)
    told = at_once(
        partial(use_up, desk, stock.stock_id), partial(set_expiry, desk, stock.stock_id, last)
    )
    assert all(told)
    found = stocks_by_lot(desk)[lot]
    assert (found.is_used_up, found.expires_on) == (True, last)


def test_four_statements_of_one_lot_at_once_all_hold(desk):
    stock = added(desk, SOLUTION)
    last = desk.today() + timedelta(days=5)
    at_once(
        partial(use_up, desk, stock.stock_id),
        partial(set_expiry, desk, stock.stock_id, last),
        partial(open_stock, desk, stock.stock_id, desk.today()),
        partial(found_left, desk, stock.stock_id, "400", "µl"),
    )
    found = stocks_by_lot(desk)["7"]
    assert (found.is_used_up, found.expires_on, found.opened_on, found.left) == (
        True, last, desk.today(), 400,
    )  # fmt: skip


@pytest.mark.parametrize("number", range(ROUNDS))
def test_a_pipette_put_out_of_use_while_it_is_changed_is_both(desk, number):
    add_pipette(desk, BLUE)
    (found,) = pipettes(desk)
    calibrated = replace(BLUE, bias="0.8", spread="0.3")
    at_once(
        partial(put_out_of_use, desk, "pipette", found.pipette_id),
        partial(change_pipette, desk, found.pipette_id, calibrated),
    )
    (row,) = desk.store.rows("bench_pipettes")
    assert (row["is_in_use"], float(row["bias_ul"])) == (False, 0.8)


def test_what_is_out_of_use_stays_so_when_it_is_stated_anew(desk):
    add_pipette(desk, BLUE)
    (found,) = pipettes(desk)
    put_out_of_use(desk, "pipette", found.pipette_id)
    change_pipette(desk, found.pipette_id, replace(BLUE, largest="200"))
    assert pipettes(desk) == ()


def test_the_last_of_a_lot_goes_into_one_dilution_only(desk):
    stock = added(desk, SOLUTION)  # 1 ml
    all_of_it = Made(stock.stock_id, "1", "ml", "10", "0")
    told = at_once(*[partial(log_dilution, desk, all_of_it)] * 3)
    assert len(list(filter(None, told))) == 1
    assert {one.lot: one.left for one in stocks(desk)} == {"7": 0, "7/1": 10_000}


def test_dilutions_made_at_once_bear_lots_of_their_own(desk):
    stock = added(desk, SOLUTION)
    some = Made(stock.stock_id, "0.1", "ml", "10", "0")
    at_once(*[partial(log_dilution, desk, some)] * 3)
    assert sorted(one.lot for one in stocks(desk)) == ["7", "7/1", "7/2", "7/3"]
    assert stocks_by_lot(desk)["7"].left == 700


def test_one_name_stated_four_times_at_once_stands_there_once(desk):
    told = at_once(*[partial(add_pipette, desk, BLUE)] * 4)
    assert len(list(filter(None, told))) == 1
    assert len(pipettes(desk)) == 1
    told = at_once(*[partial(add_container, desk, BOTTLE)] * 4)
    assert len(list(filter(None, told))) == 1
    assert len(containers(desk)) == 1


def test_vials_of_one_lot_added_at_once_are_numbered(desk):
    at_once(*[partial(add_stock, desk, SOLUTION)] * 4)
    label = "diacetyl 1 g/l, lot 7"
    assert sorted(one.label for one in stocks(desk)) == [
        label, *(f"{label}, vial {number}" for number in (2, 3, 4)),
    ]  # fmt: skip


def test_limits_stated_twice_at_once_are_one_entry(desk):
    before = desk.version
    told = at_once(*[partial(state_limits, desk, "dms", "8", "4", "5", desk.today())] * 3)
    assert sorted(words == NOTHING_NEW for words in told) == [False, True, True]
    assert desk.version == before + 1
    verify(desk)


def test_what_says_nothing_new_leaves_no_entry(desk):
    stock = added(desk, SOLUTION)
    add_pipette(desk, BLUE)
    (pipette,) = pipettes(desk)
    before = desk.version
    assert set_expiry(desk, stock.stock_id, None) == NOTHING_NEW
    assert open_stock(desk, stock.stock_id, None) == NOTHING_NEW
    assert change_pipette(desk, pipette.pipette_id, BLUE) == NOTHING_NEW
    assert desk.version == before
