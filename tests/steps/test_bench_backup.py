"""A record with a bench, dosed vessels and sets is backed up, checked and restored."""

import re
from decimal import Decimal

import benched
import planned_sets
import pytest
import thursday

from seatworthy.errors import StoreDamaged
from seatworthy.shipped import shipped
from seatworthy.steps import dosing, vessel_steps
from seatworthy.steps.bench_facts import stocks
from seatworthy.steps.bench_limits import state_limits
from seatworthy.steps.desk import open_desk
from seatworthy.steps.dilutions import Made, log_dilution
from seatworthy.steps.planning import record_plan
from seatworthy.steps.safekeeping import back_up, restore, verify
from seatworthy.store.copying import table_digests


@pytest.fixture
def diluted(desk, bench):
    """A dilution of a dilution of the reference of diacetyl; the ids of the three."""
    ids = [bench["diacetyl"]]
    for lot in ("R1/1", "R1/2"):
        log_dilution(desk, Made(ids[-1], "1", "ml", "10", "0", lot=lot))
        ids.append(next(stock.stock_id for stock in stocks(desk) if stock.lot == lot))
    return ids


def fill(desk, people):
    """Something in every table that the bench, the doses and the sets brought."""
    sets = planned_sets.planned(desk, people)
    glass = planned_sets.sets_of(desk, sets, people["Ada"])[0]
    planned_sets.pick(desk, sets, glass, glass.blind_code)
    wish = benched.wish(desk, people, label="Dosed", flight=3, strong_late=True)
    session_id = record_plan(desk, wish)
    dosing.dose_as_planned(desk, session_id, ["A1", "B1", "C1"], people["Bo"])
    dosing.dose_otherwise(
        desk, session_id, "B1", dosing.OtherDose(amount=Decimal(100)), "a shot short", None
    )
    dosing.take_back_dose(desk, session_id, "C1", "another letter", people["Bo"])
    vessel_steps.do_step(desk, session_id, ["A1", "B1"], "capped", None)
    state_limits(desk, "dms", "8", "4", "5", thursday.TODAY)


def contents(desk):
    with desk.store.reading() as cursor:
        return table_digests(cursor)


def test_a_store_with_something_in_every_table_of_the_bench_comes_back_whole(
    desk, people, diluted, tmp_path
):
    fill(desk, people)
    made = shipped("sql/1_tables/08_bench.sql").read_text(encoding="utf-8")
    tables = re.findall(r"^create table (\w+)", made, re.MULTILINE)
    before = contents(desk)
    assert [name for name in tables if not before[name][0]] == []
    again = tmp_path / "again.duckdb"
    restore(back_up(desk), again)
    restored = open_desk(again)
    try:
        verify(restored)
        assert contents(restored) == before
        assert stocks(restored) == stocks(desk)
        log_dilution(restored, Made(diluted[-1], "1", "ml", "10", "0"))
    finally:
        restored.close()


@pytest.mark.parametrize("parent", ["'no such lot'", "stock_id"])
def test_a_dilution_of_nothing_or_of_itself_is_found(desk, diluted, parent):
    verify(desk)
    with desk.store.reading() as cursor:
        cursor.execute(f"update stock set made_from = {parent} where lot = 'R1/2'")
    with pytest.raises(StoreDamaged, match="1 dilutions were made from no stock on record"):
        verify(desk)
