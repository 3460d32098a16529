from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest
from on_the_bench import (
    REFERENCE,
    SOLUTION,
    UNITS,
    added,
    nothing_is_recorded,
    stocks_by_lot,
)

from seatworthy.errors import PanelError
from seatworthy.steps.bench_facts import stocks
from seatworthy.steps.bench_states import (
    found_left,
    open_stock,
    set_expiry,
    take_back_used_up,
    use_up,
)
from seatworthy.steps.bench_writing import add_stock
from seatworthy.steps.dilutions import Made, log_dilution
from seatworthy.steps.safekeeping import verify
from seatworthy.steps.shelf_writing import NOTHING_NEW

# ---------- a stock and its strength ----------


def test_a_concentration_is_kept_as_micrograms_in_a_microlitre(desk):
    # 1 g in a litre is 1 mg in a millilitre is 1 microgram in a microlitre
    assert added(desk, SOLUTION).strength == 1
    weak = replace(SOLUTION, lot="8", strength="250", strength_unit="ng/µl")
    assert added(desk, weak).strength == Decimal("0.25")


def test_a_reference_is_kept_as_times_and_litres_in_a_microlitre(desk):
    # 1 ml in one litre gives three times threshold: a microlitre gives 0.003 in a litre
    assert added(desk, REFERENCE).strength == Decimal("0.003")


def test_a_unit_is_kept_as_times_and_litres(desk):
    # one unit gives three times threshold in half a litre, so half as much in a whole one
    assert added(desk, UNITS).strength == Decimal("1.5")


def test_what_is_left_starts_with_the_full_vial_and_may_be_unknown(desk):
    assert added(desk, SOLUTION).left == 1000
    assert added(desk, UNITS).left == 30
    assert added(desk, replace(SOLUTION, lot="9", full_amount="")).left is None


def test_a_stock_is_named_by_what_is_in_it_and_by_its_lot(desk):
    assert added(desk, SOLUTION).label == "diacetyl 1 g/l, lot 7"
    assert added(desk, REFERENCE).label == "DMS reference, lot 22"
    add_stock(desk, SOLUTION)
    assert "diacetyl 1 g/l, lot 7, vial 2" in {stock.label for stock in stocks(desk)}


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"compound": ""}, "Choose the compound"),
        ({"compound": "furfural"}, "not to be served"),
        ({"lot": " "}, "Its lot is empty"),
        ({"lot": "=1+1"}, "formula"),
        ({"strength": ""}, "Its strength is empty"),
        ({"strength": "-1"}, "got -1"),
        ({"strength": "0"}, "more than 0"),
        ({"strength": "strong"}, "must be a number"),
        ({"strength": "2,500"}, "may mean"),
        ({"strength_unit": ""}, "Choose the unit"),
        ({"full_amount": "0"}, "more than 0"),
        ({"full_amount": "a drop"}, "must be a number"),
        ({"ethanol_percent": ""}, "0 for water"),
        ({"ethanol_percent": "101"}, "0 to 100%"),
        ({"dead_ul": "-5"}, "got -5"),
        ({"strength_off_percent": "500"}, "0 to 100%"),
    ],
)
def test_what_will_not_do_is_refused_whole(desk, changed, words):
    nothing_is_recorded(desk, lambda: add_stock(desk, replace(SOLUTION, **changed)), words)


def test_a_half_unit_and_a_reference_without_its_litres_are_refused(desk):
    nothing_is_recorded(desk, lambda: add_stock(desk, replace(UNITS, full_amount="2.5")), "whole")
    nothing_is_recorded(desk, lambda: add_stock(desk, replace(REFERENCE, litres="")), "beer")


def test_a_day_of_opening_to_come_is_refused(desk):
    tomorrow = desk.today() + timedelta(days=1)
    nothing_is_recorded(desk, lambda: add_stock(desk, replace(SOLUTION, opened_on=tomorrow)))


def test_what_is_not_food_grade_is_said_at_once(desk):
    told = add_stock(desk, replace(SOLUTION, is_food_grade=False))
    assert "nothing is dosed from it" in told


# ---------- what becomes of a stock ----------


def test_opening_and_the_last_day_are_kept_together(desk):
    stock = added(desk, SOLUTION)
    last = desk.today() + timedelta(days=30)
    open_stock(desk, stock.stock_id, desk.today())
    set_expiry(desk, stock.stock_id, last)
    found = stocks_by_lot(desk)["7"]
    assert (found.opened_on, found.expires_on) == (desk.today(), last)
    assert open_stock(desk, stock.stock_id, desk.today()) == NOTHING_NEW
    assert set_expiry(desk, stock.stock_id, last) == NOTHING_NEW


def test_what_somebody_found_stands_before_what_was_counted(desk):
    stock = added(desk, SOLUTION)
    assert found_left(desk, stock.stock_id, "400", "µl") == "400 µl left of diacetyl 1 g/l, lot 7."
    assert stocks_by_lot(desk)["7"].left == 400
    log_dilution(desk, Made(stock.stock_id, "100", "µl", "10", "0"))
    assert stocks_by_lot(desk)["7"].left == 300
    found_left(desk, stock.stock_id, "0")
    assert stocks_by_lot(desk)["7"].left == 0


def test_more_than_a_full_vial_is_a_slip_of_the_unit(desk):
    stock = added(desk, SOLUTION)
    nothing_is_recorded(desk, lambda: found_left(desk, stock.stock_id, "400", "ml"), "unit")


def test_used_up_is_taken_back(desk):
    stock = added(desk, SOLUTION)
    use_up(desk, stock.stock_id)
    assert stocks_by_lot(desk)["7"].is_used_up
    assert use_up(desk, stock.stock_id) == NOTHING_NEW
    assert "1 ml left" in take_back_used_up(desk, stock.stock_id)
    assert not stocks_by_lot(desk)["7"].is_used_up
    assert take_back_used_up(desk, stock.stock_id) == NOTHING_NEW


def test_an_earlier_last_day_is_passed_on_to_dilutions_of_dilutions(desk):
    far, near = (desk.today() + timedelta(days=days) for days in (90, 5))
    stock = added(desk, replace(SOLUTION, expires_on=far))
    log_dilution(desk, Made(stock.stock_id, "100", "µl", "10", "0"))
    log_dilution(desk, Made(stocks_by_lot(desk)["7/1"].stock_id, "1", "ml", "10", "0"))
    told = set_expiry(desk, stock.stock_id, near)
    assert "two made from it go along" in told
    assert {one.expires_on for one in stocks(desk)} == {near}
    set_expiry(desk, stock.stock_id, far)
    assert {one.expires_on for one in stocks(desk)} == {far}


def test_a_dilution_with_an_earlier_last_day_of_its_own_keeps_it(desk):
    far, own = (desk.today() + timedelta(days=days) for days in (90, 5))
    stock = added(desk, replace(SOLUTION, expires_on=far))
    log_dilution(desk, Made(stock.stock_id, "100", "µl", "10", "0", expires_on=own))
    set_expiry(desk, stock.stock_id, far + timedelta(days=30))
    assert stocks_by_lot(desk)["7/1"].expires_on == own


def test_a_stock_that_is_not_there_is_refused(desk):
    steps = (
        lambda: use_up(desk, "x"),
        lambda: take_back_used_up(desk, "x"),
        lambda: open_stock(desk, "x", None),
        lambda: set_expiry(desk, "x", None),
        lambda: found_left(desk, "x", "1"),
    )
    for step in steps:
        nothing_is_recorded(desk, step, "no such stock")


# ---------- what was dosed in a session ----------


@pytest.fixture
def dosed(desk, session_id):
    """A stock of which 100 µl went into a vessel of each sitting."""
    stock = added(desk, SOLUTION)
    with desk.store.reading() as cursor:
        found = cursor.execute(
            "select sample_id from sample where mark = "
            "(select min(mark) from sample where compound is not null)"
        ).fetchall()
    with desk.store.recording("preparation") as act:
        for (sample_id,) in found:
            act.add("vessel_dosed", {
                "sample_id": sample_id, "vessel_no": 1, "is_done": True, "is_shared": False,
                "stock_id": stock.stock_id, "pipette_id": None, "setting_ul": None, "shots": None,
                "amount": 100, "solvent_ul": 0, "volume_ml": 330,
                "dosed_at": datetime.now(UTC).replace(tzinfo=None), "person_id": None,
            })  # fmt: skip
    return stock, len(found)


def test_what_is_dosed_is_off_the_stock(desk, dosed):
    stock, vessels = dosed
    assert vessels > 0
    assert stocks_by_lot(desk)[stock.lot].left == 1000 - 100 * vessels


def test_a_last_day_that_changes_which_answers_count_is_signed(desk, dosed):
    version = desk.version
    with pytest.raises(PanelError, match="Say who states it: that day changes which answers count"):
        set_expiry(desk, dosed[0].stock_id, desk.today() - timedelta(days=400))
    assert desk.version == version


def test_a_lot_that_turns_out_to_have_expired_names_the_session_it_was_dosed_in(
    desk, people, dosed
):
    stock, _ = dosed
    bo = people["Bo"]
    told = set_expiry(desk, stock.stock_id, desk.today() - timedelta(days=400), by=bo)
    assert "It was dosed after that on" in told
    assert "don't count for a seat" in told
    assert verify(desk).entries == desk.version
    later = set_expiry(desk, stock.stock_id, desk.today() + timedelta(days=400), by=bo)
    assert "counts again" in later
    assert "dosed after" not in later
