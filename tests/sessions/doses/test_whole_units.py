from decimal import Decimal

import dose_bench
import pytest

from seatworthy.sessions.doses.equipment import PITCHER
from seatworthy.sessions.doses.whole_units import units_and_volume, units_fault

POUR = Decimal(50)


@pytest.mark.parametrize(
    ("content", "strength", "count"), [(330, "0.9", 1), (330, "0.5", 2), (1000, "1", 3)]
)
def test_a_bottle_takes_the_nearest_whole_number(content, strength, count):
    """Arithmetic: 3 x litres / strength, rounded."""
    stock = dose_bench.unit(strength=Decimal(strength))
    found = units_and_volume(dose_bench.need("3"), stock, dose_bench.bottle(content), POUR)
    assert found == (count, content)


def test_a_pitcher_is_filled_as_far_as_whole_units_reach():
    """Arithmetic: two units of 3×l give 4× in 1.5 l; a third would ask for 2.25 l."""
    pitcher = dose_bench.bottle(2000, kind=PITCHER)
    assert units_and_volume(dose_bench.need("4"), dose_bench.unit(), pitcher, POUR) == (2, 1500)


def test_half_a_unit_is_a_fault_with_the_two_nearest_ways():
    fault = units_fault(dose_bench.need("3"), dose_bench.unit(), dose_bench.bottle(330), POUR)
    assert "9.09× in 330 ml" in fault
    assert "a vessel of 1 l for 3×" in fault


def test_a_pitcher_that_is_too_small_for_one_unit_is_a_fault():
    pitcher = dose_bench.bottle(800, kind=PITCHER)
    assert "a vessel of 1 l for 3×" in units_fault(
        dose_bench.need("3"), dose_bench.unit(), pitcher, POUR
    )


def test_units_that_reach_less_far_than_a_glass_are_a_fault():
    pitcher = dose_bench.bottle(40, kind=PITCHER)
    weak = dose_bench.unit(strength=Decimal("0.03"))
    assert "fits no glass of 50 ml" in units_fault(dose_bench.need("3"), weak, pitcher, POUR)
