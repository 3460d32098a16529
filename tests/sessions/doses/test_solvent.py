from dataclasses import replace
from decimal import Decimal

import dose_bench
import pytest

from seatworthy.sessions.doses.dosing import spiked_recipe
from seatworthy.sessions.doses.solvent import added_percent, blank_ul, ethanol_ul, solvent_note
from seatworthy.sessions.doses.work_out import work_out


def recipe(level="3", percent=50):
    stock = dose_bench.solution(ethanol_percent=Decimal(percent))
    return spiked_recipe(dose_bench.need(level), stock, dose_bench.bench(stock))


def test_ethanol_is_counted_pure():
    assert ethanol_ul(Decimal(330), Decimal(40)) == 132


def test_a_blank_gets_as_much_for_each_litre_as_the_strongest_dose():
    """Arithmetic: 198 µl of half ethanol hold 99 µl in 330 ml, so 198 µl belong in 660 ml."""
    found = [recipe("3"), recipe("6")]
    assert blank_ul(found, Decimal(660)) == 198
    assert blank_ul(found, Decimal(330)) == max(r.solvent_ul for r in found)


def test_a_blank_gets_nothing_where_nothing_comes_with_the_doses():
    assert blank_ul([], Decimal(330)) == blank_ul([recipe(percent=0)], Decimal(330)) == 0


def test_every_blank_of_a_session_equals_its_strongest_dose():
    stock = dose_bench.solution(ethanol_percent=Decimal(50))
    needs = [dose_bench.blank(), dose_bench.need("3"), dose_bench.need("6", mark="C")]
    found = work_out(needs, dose_bench.bench(stock)).recipes
    assert found[0].need.mark == "A"
    assert found[0].blank_ul == found[2].solvent_ul > found[1].solvent_ul


@pytest.mark.parametrize(("solvent", "is_noted"), [(660, False), (661, True)])
def test_more_than_a_fifth_of_a_percent_is_noted(solvent, is_noted):
    """Arithmetic: 0.2% of 330 ml are 660 µl."""
    assert bool(solvent_note([replace(recipe(), solvent_ul=Decimal(solvent))])) is is_noted


def test_added_ethanol_is_a_percentage_by_volume():
    assert added_percent(Decimal(3300), Decimal(330)) == 1
