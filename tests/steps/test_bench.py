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
)

from seatworthy.sessions.doses.equipment import Container, Pipette
from seatworthy.steps.bench import bench
from seatworthy.steps.bench_equipment import (
    TypedPipette,
    add_container,
    add_pipette,
    change_container,
    change_pipette,
    put_back_in_use,
    put_out_of_use,
)
from seatworthy.steps.bench_facts import containers, limits_on, pipettes
from seatworthy.steps.bench_limits import state_limits
from seatworthy.steps.bench_states import (
    found_left,
    use_up,
)
from seatworthy.steps.bench_writing import add_stock
from seatworthy.steps.panel import add_people, people_of_panel
from seatworthy.steps.safekeeping import verify
from seatworthy.steps.shelf_writing import NOTHING_NEW

# ---------- pipettes and vessels ----------


def test_a_pipette_is_added_changed_put_away_and_put_back(desk):
    add_pipette(desk, BLUE)
    (found,) = pipettes(desk)
    assert found == Pipette(
        found.pipette_id, "blue 100", Decimal(10), Decimal(100), Decimal("0.5"), is_fine=True
    )
    change_pipette(desk, found.pipette_id, replace(BLUE, bias="0.8", spread="0.3"))
    assert pipettes(desk)[0].bias_ul == Decimal("0.8")
    again = replace(BLUE, bias="0.80", spread="0,3")
    assert change_pipette(desk, found.pipette_id, again) == NOTHING_NEW
    put_out_of_use(desk, "pipette", found.pipette_id)
    assert pipettes(desk) == ()
    put_back_in_use(desk, "pipette", found.pipette_id)
    assert len(pipettes(desk)) == 1


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"label": ""}, "name is empty"),
        ({"smallest": "0"}, "more than 0"),
        ({"smallest": "200"}, "lies below"),
        ({"largest": "20000"}, "at most 10000"),
        ({"step": ""}, "The step is empty"),
        ({"step": "500"}, "larger than the highest"),
        ({"bias": "1"}, "both"),
        ({"bias": "101", "spread": "1"}, "not percent"),
    ],
)
def test_a_pipette_that_cannot_be_is_refused(desk, changed, words):
    nothing_is_recorded(desk, lambda: add_pipette(desk, replace(BLUE, **changed)), words)


def test_a_fixed_pipette_needs_no_step(desk):
    told = add_pipette(desk, TypedPipette("fixed", "110", "110", ""))
    assert "110 µl, fixed" in told


def test_two_things_of_one_name_are_told_apart_by_refusing_the_second(desk):
    add_pipette(desk, BLUE)
    nothing_is_recorded(desk, lambda: add_pipette(desk, replace(BLUE, label="Blue 100")))
    add_container(desk, BOTTLE)
    nothing_is_recorded(desk, lambda: add_container(desk, BOTTLE))


def test_a_vessel_is_added_and_changed(desk):
    add_container(desk, BOTTLE)
    (found,) = containers(desk)
    assert found == Container(
        found.container_id, "bottle 330 ml", "bottle", Decimal(330), Decimal(5), Decimal(0),
        Decimal(10),
    )  # fmt: skip
    change_container(desk, found.container_id, replace(BOTTLE, content="355"))
    assert containers(desk)[0].content_ml == 355
    put_out_of_use(desk, "container", found.container_id)
    assert containers(desk) == ()


@pytest.mark.parametrize(
    ("changed", "words"),
    [({"kind": ""}, "bottle, a pitcher or a keg"), ({"content": "0"}, "more than 0"),
     ({"dead": "330"}, "not less"), ({"fill_off": "400"}, "not less")],
)  # fmt: skip
def test_a_vessel_that_cannot_be_is_refused(desk, changed, words):
    nothing_is_recorded(desk, lambda: add_container(desk, replace(BOTTLE, **changed)), words)


# ---------- limits ----------


def test_limits_are_stated_together_and_taken_back(desk):
    today = desk.today()
    told = state_limits(desk, "dms", "8", "4", "5×", today)
    assert "keeps 8 hours once dosed" in told
    limit = limits_on(desk, today)["dms"]
    assert (limit.keeps_h, limit.keeps_weak_h, limit.highest_level) == (8, 4, 5)
    assert state_limits(desk, "dms", "8", "4", "5", today) == NOTHING_NEW
    state_limits(desk, "dms", "", "", "", today)
    limit = limits_on(desk, today)["dms"]
    assert (limit.keeps_h, limit.keeps_weak_h, limit.highest_level) == (None, None, None)


def test_limits_count_from_their_day(desk):
    today = desk.today()
    state_limits(desk, "dms", "8", "", "", today)
    assert "dms" not in limits_on(desk, today - timedelta(days=1))


@pytest.mark.parametrize(
    ("figures", "words"),
    [(("0", "", ""), "0.1 to"), (("4", "8", ""), "doesn't keep longer"), (("", "", "0"), "more"),
     (("", "", "a lot"), "must be a number")],
)  # fmt: skip
def test_limits_that_cannot_be_are_refused(desk, figures, words):
    step = lambda: state_limits(desk, "dms", *figures, desk.today())
    nothing_is_recorded(desk, step, words)


# ---------- the page's view ----------


def test_an_empty_bench_says_what_to_do_first(desk):
    view = bench(desk)
    assert view.answer == "The bench is empty"
    assert [thing.place for thing in view.first_things] == ["stocks", "vessels", "pipettes"]


def test_the_sentence_counts_what_expires_and_what_is_nearly_empty(desk):
    soon = desk.today() + timedelta(days=3)
    added(desk, replace(SOLUTION, expires_on=soon))
    low = added(desk, REFERENCE)
    added(desk, UNITS)
    found_left(desk, low.stock_id, "1")
    view = bench(desk)
    assert view.answer == "Three stocks stand on the bench"
    assert view.catch == f"one expires on {soon:%A} and one is nearly empty."


def test_a_stock_line_says_what_is_left_and_why_it_is_not_used(desk):
    added(desk, SOLUTION)
    low = added(desk, REFERENCE)
    found_left(desk, low.stock_id, "700", "µl")
    use_up(desk, added(desk, UNITS).stock_id)
    lines = {line.lot: line for line in bench(desk).stocks}
    assert lines["22"].left == "0.7 of 10 ml"
    assert lines["22"].state == "nearly empty"
    assert "used up" in lines["K9"].fault
    assert "40% ethanol" in lines["7"].notes


def test_each_act_is_one_entry_and_the_store_verifies(desk):
    add_people(desk, ["Ada"], None)
    (ada,) = people_of_panel(desk)
    for act in (
        lambda: add_stock(desk, SOLUTION, by=ada.person_id),
        lambda: add_pipette(desk, BLUE, by=ada.person_id),
        lambda: add_container(desk, BOTTLE, by=ada.person_id),
        lambda: state_limits(desk, "dms", "8", "4", "5", desk.today(), by=ada.person_id),
    ):
        before = desk.version
        act()
        assert desk.version == before + 1
    assert verify(desk).entries == desk.version
