from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import dose_bench
import pytest

from seatworthy.sessions.doses.equipment import KEG, PITCHER
from seatworthy.sessions.doses.level_notes import level_notes
from seatworthy.sessions.doses.recipe import in_order_of_work
from seatworthy.sessions.doses.work_out import work_out

COUNTED = (Decimal(1), Decimal(5))


def only(found):
    assert found.faults == ()
    (recipe,) = found.recipes
    return recipe


def test_a_session_is_worked_out_without_a_fault():
    recipe = only(work_out([dose_bench.need()], dose_bench.bench(dose_bench.solution())))
    assert (recipe.amount, recipe.vessels, recipe.needed) == (99, (1, 1), 198)
    assert recipe.level == 3
    assert 0 < recipe.level_off < 0.2


def test_blanks_come_first_then_each_compound_from_weak_to_strong():
    other = dose_bench.solution(stock_id="s2", compound="ester", label="ester 1 g/l")
    ester = {"compound": "ester", "label": "ester"}
    needs = [dose_bench.need("3", mark="D", **ester), dose_bench.need("5"), dose_bench.need("2", mark="C"),
             dose_bench.blank()]  # fmt: skip
    found = work_out(needs, dose_bench.bench(dose_bench.solution(), other)).recipes
    assert [recipe.need.mark for recipe in found] == ["A", "C", "B", "D"]
    assert in_order_of_work(found[::-1]) == found


def test_every_fault_comes_at_once():
    needs = [dose_bench.need("3"), dose_bench.need("3", mark="C", compound="ester", label="ester"),
             dose_bench.need("1", mark="D", background_ug_l=Decimal(100))]  # fmt: skip
    found = work_out(needs, dose_bench.bench(dose_bench.solution(is_used_up=True)))
    assert [fault.split(":")[0] for fault in found.faults] == [
        "Diacetyl 1 g/l, lot 7 is used up",
        "Sample C",
        "Sample D",
    ]
    assert "no stock of ester is on the bench" in found.faults[1]


def test_an_opened_lot_goes_before_a_closed_one_and_then_what_expires_first():
    start = dose_bench.STARTS[0].date()
    closed = dose_bench.solution(stock_id="a", expires_on=start)
    late = dose_bench.solution(
        stock_id="b", opened_on=date(2026, 1, 1), expires_on=start + timedelta(9)
    )
    early = replace(late, stock_id="c", expires_on=start + timedelta(2))
    recipe = only(work_out([dose_bench.need()], dose_bench.bench(closed, late, early)))
    assert recipe.stock.stock_id == "c"


def test_a_clearly_more_accurate_dose_goes_before_an_opened_lot():
    unsure = dose_bench.solution(
        stock_id="a", opened_on=date(2026, 1, 1), strength_off_percent=Decimal(30)
    )
    recipe = only(work_out([dose_bench.need()], dose_bench.bench(unsure, dose_bench.solution())))
    assert recipe.stock.stock_id == "s1"


def test_a_lot_that_holds_enough_goes_before_one_that_does_not():
    small = dose_bench.solution(stock_id="a", opened_on=date(2026, 1, 1), left=Decimal(100))
    assert (
        only(
            work_out([dose_bench.need()], dose_bench.bench(small, dose_bench.solution()))
        ).stock.stock_id
        == "s1"
    )


@pytest.mark.parametrize(
    ("left", "faults", "notes"), [(227, 1, 0), (228, 0, 1), (229, 0, 0), (None, 0, 0)]
)
def test_what_a_lot_holds_is_counted_without_what_stays_in_the_vial(left, faults, notes):
    """Arithmetic: two bottles take 2 x 99 µl, and 30 µl stay in the vial."""
    stock = dose_bench.solution(left=None if left is None else Decimal(left), dead_ul=Decimal(30))
    found = work_out([dose_bench.need()], dose_bench.bench(stock))
    assert (len(found.faults), len(found.notes)) == (faults, notes)
    assert all("gives 197 µl more (30 µl stay in the vial)" in fault for fault in found.faults)
    assert all("exactly what is left" in note for note in found.notes)


def test_samples_of_one_lot_are_counted_together():
    needs = [dose_bench.need(), dose_bench.need(mark="C", level=Decimal(6))]
    (fault,) = work_out(needs, dose_bench.bench(dose_bench.solution(left=Decimal(500)))).faults
    assert "samples B and C take 594 µl" in fault


def test_without_a_pipette_the_amount_is_stated_and_nothing_of_how_sure_it_is():
    recipe = only(
        work_out([dose_bench.need()], dose_bench.bench(dose_bench.solution(), pipettes=()))
    )
    assert (recipe.amount, recipe.shots, recipe.level_off) == (99, None, None)


def test_a_level_that_is_off_is_noted():
    coarse = replace(dose_bench.LARGE, step_ul=Decimal(100))
    found = work_out(
        [dose_bench.need("5")], dose_bench.bench(dose_bench.solution(), pipettes=(coarse,))
    )
    assert only(found).amount == 200
    assert any("really has 6.06×, not 5×" in note for note in found.notes)


def test_an_unsure_level_is_noted():
    stock = dose_bench.solution(strength_off_percent=Decimal(30))
    (note,) = work_out([dose_bench.need()], dose_bench.bench(stock)).notes
    assert "is sure within 35% only" in note


@pytest.mark.parametrize(("level", "counts"), [("3", True), ("2.5", True), ("8", False)])
def test_whether_a_level_counts_for_a_seat_is_known(level, counts):
    stock = dose_bench.solution()
    found = work_out([dose_bench.need(level)], dose_bench.bench(stock, counted_levels=COUNTED))
    assert only(found).counts is counts


@pytest.mark.parametrize(("wanted", "notes"), [("5", 1), ("8", 0)])
def test_a_level_that_slips_out_of_those_that_count_is_noted(wanted, notes):
    """One that was never to count was told of by the plan itself."""
    bench = dose_bench.bench(dose_bench.solution(), counted_levels=COUNTED)
    recipe = only(work_out([dose_bench.need(wanted)], bench))
    slipped = replace(recipe, level=recipe.need.level + Decimal("0.1"), counts=False)
    found = [n for n in level_notes(slipped, COUNTED) if "does not count for a seat" in n]
    assert len(found) == notes


@pytest.mark.parametrize(("kind", "minutes"), [("bottle", 60), (KEG, 60), (PITCHER, 15)])
def test_a_vessel_is_prepared_before_the_first_and_kept_for_the_last_sitting(kind, minutes):
    """Common practice, no source."""
    container = dose_bench.bottle(1000, kind=kind)
    recipe = only(
        work_out([dose_bench.need()], dose_bench.bench(dose_bench.solution(), container=container))
    )
    assert recipe.prepare_until == dose_bench.STARTS[0] - timedelta(minutes=minutes)
    assert recipe.prepare_from == dose_bench.STARTS[1] - timedelta(hours=24)


def test_what_does_not_keep_for_all_sittings_is_noted():
    (note,) = work_out(
        [dose_bench.need(keeps_h=Decimal(1))], dose_bench.bench(dose_bench.solution())
    ).notes
    assert "prepare it fresh for each" in note


def test_one_keg_serves_every_sitting():
    keg = dose_bench.bottle(5000, kind=KEG)
    recipe = only(
        work_out([dose_bench.need()], dose_bench.bench(dose_bench.solution(), container=keg))
    )
    assert (recipe.vessels, recipe.needed, recipe.amount) == ((1,), 1500, 1500)


def test_glasses_that_fit_no_vessel_are_the_only_fault():
    found = work_out(
        [dose_bench.need(), dose_bench.blank()], dose_bench.bench(pour_ml=Decimal(400))
    )
    assert len(found.faults) == 1
    assert found.recipes == ()


def test_units_are_dosed_whole_and_the_true_level_stands():
    stock = dose_bench.unit(strength=Decimal("0.9"))
    found = work_out([dose_bench.need()], dose_bench.bench(stock))
    recipe = only(found)
    assert (recipe.amount, recipe.needed, recipe.shots) == (1, 2, None)
    assert float(recipe.level) == pytest.approx(0.9 / 0.33)
    assert any("not 3×" in note for note in found.notes)


def test_an_expired_lot_is_judged_by_the_day_of_the_session():
    day = dose_bench.STARTS[0].date()
    assert (
        work_out([dose_bench.need()], dose_bench.bench(dose_bench.solution(expires_on=day))).faults
        == ()
    )
    stale = dose_bench.solution(expires_on=day - timedelta(1))
    (fault,) = work_out([dose_bench.need()], dose_bench.bench(stale)).faults
    assert "has expired by" in fault


def test_too_small_a_dose_proposes_a_dilution():
    stock = dose_bench.solution(strength=Decimal(100))
    (fault,) = work_out([dose_bench.need()], dose_bench.bench(stock)).faults
    assert fault.startswith("Sample B: 0.99 µl of diacetyl")
    assert "Make up 100 µl of it to 10 ml and dose 99 µl of that." in fault
