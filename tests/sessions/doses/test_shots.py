from decimal import Decimal

import dose_bench
import pytest
from hypothesis import given
from hypothesis import strategies as st

from seatworthy.sessions.doses.equipment import Pipette
from seatworthy.sessions.doses.shots import shots_for, smallest_fault


def ways(wanted, *pipettes, is_narrow=False):
    found = shots_for(Decimal(wanted), pipettes, is_narrow)
    return [(float(way.setting_ul), way.count) for way in found]


def test_a_small_pipette_takes_four_shots():
    assert ways(330, dose_bench.FINE)[0] == (82.5, 4)


def test_a_middle_pipette_takes_two_shots_and_offers_three():
    found = ways(330, dose_bench.MIDDLE)
    assert found[0] == (165, 2)
    assert (110, 3) in found


def test_one_shot_that_is_clearly_less_accurate_loses():
    found = shots_for(Decimal(120), (dose_bench.LARGE, dose_bench.FINE), False)
    assert (found[0].pipette, found[0].count) == (dose_bench.FINE, 2)


def test_one_shot_that_is_hardly_less_accurate_wins():
    found = shots_for(Decimal(330), (dose_bench.LARGE, dose_bench.MIDDLE), False)
    assert (found[0].pipette, found[0].count) == (dose_bench.LARGE, 1)


def test_equally_many_shots_are_ordered_by_accuracy():
    worn = Pipette("worn", "worn", Decimal(20), Decimal(200), Decimal("0.5"), bias_ul=Decimal(2))
    found = shots_for(Decimal(330), (worn, dose_bench.MIDDLE), False)
    assert [way.pipette.label for way in found[:2]] == ["yellow 200", "worn"]


def test_a_narrow_vial_takes_a_fine_tip_only():
    found = shots_for(Decimal(90), (dose_bench.FINE, dose_bench.MIDDLE), True)
    assert {way.pipette.pipette_id for way in found} == {"fine"}


def test_below_the_smallest_pipette_a_dilution_is_proposed():
    fault = smallest_fault(Decimal("1.3"), "diacetyl", (dose_bench.FINE, dose_bench.LARGE), False)
    assert fault == (
        "1.3 µl of diacetyl is less than a pipette delivers that reaches it (at least 10 µl). "
        "Make up 1 ml of it to 10 ml and dose 13 µl of that."
    )


def test_a_narrow_vial_without_a_fine_tip_is_a_fault():
    assert "fine tip" in smallest_fault(Decimal(50), "diacetyl", (dose_bench.LARGE,), True)


def test_what_can_be_pipetted_is_no_fault():
    assert smallest_fault(Decimal(10), "diacetyl", (dose_bench.FINE,), False) == ""


@given(st.integers(1, 200_000))
def test_every_way_can_be_set_and_is_off_by_half_a_step_a_shot_at_most(tenths):
    wanted = Decimal(tenths) / 10
    for way in shots_for(wanted, (dose_bench.FINE, dose_bench.MIDDLE, dose_bench.LARGE), False):
        pipette = way.pipette
        assert pipette.smallest_ul <= way.setting_ul <= pipette.largest_ul
        assert way.setting_ul % pipette.step_ul == 0
        assert abs(way.total_ul - wanted) <= way.count * pipette.step_ul / 2 + Decimal("1e-20")
        assert 1 <= way.count <= 12


@pytest.mark.parametrize("wanted", ["0", "-5"])
def test_nothing_is_not_pipetted(wanted):
    assert ways(wanted, dose_bench.FINE) == []
