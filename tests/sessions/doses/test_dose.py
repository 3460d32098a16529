from dataclasses import replace
from decimal import Decimal

import dose_bench
import pytest
from hypothesis import given
from hypothesis import strategies as st

from seatworthy.sessions.doses.dose import (
    added_level,
    amount_for,
    dose_fault,
    level_from,
    need_fault,
    takes_out_first,
)

VOLUME = Decimal(330)


def test_a_solution_is_dosed_by_its_mass():
    """Arithmetic: 3 x 100 µg/l x 0.33 l = 99 µg; of 1 µg/µl that is 99 µl."""
    assert amount_for(dose_bench.need("3"), dose_bench.solution(), VOLUME) == 99


def test_what_the_beer_holds_is_not_added_again():
    """Arithmetic: 60 of 300 µg/l are there; 240 µg/l x 0.33 l = 79.2 µg."""
    wanted = dose_bench.need("3", background_ug_l=Decimal(60))
    assert added_level(wanted) == Decimal("2.4")
    assert amount_for(wanted, dose_bench.solution(), VOLUME) == Decimal("79.2")


@pytest.mark.parametrize(
    ("volume", "levels"), [(330, [0.91, 1.82, 2.73, 3.64]), (355, [0.85, 1.69, 2.54, 3.38])]
)
def test_hundreds_of_microlitres_of_a_reference_give_a_ladder(volume, levels):
    """Common practice, no source: a reference of which 1 ml in 1 l gives 3×."""
    found = [
        level_from(dose_bench.need(), dose_bench.reference(), Decimal(ul), Decimal(volume))
        for ul in (100, 200, 300, 400)
    ]
    assert [float(level) for level in found] == pytest.approx(levels, abs=0.005)


@pytest.mark.parametrize("volume", [330, 355])
def test_three_shots_of_110_microlitres_give_about_three_times(volume):
    """Common practice, no source: a third of what a litre takes does for a bottle."""
    level = level_from(dose_bench.need(), dose_bench.reference(), Decimal(3 * 110), Decimal(volume))
    assert float(level) == pytest.approx(3, rel=0.08)


@given(
    st.decimals("0.1", 20, places=2), st.decimals(0, "0.09", places=3), st.integers(50, 20_000),
    st.sampled_from([dose_bench.solution(), dose_bench.reference(), dose_bench.unit()]),
)  # fmt: skip
def test_the_amount_gives_the_level_it_was_worked_out_for(level, share, volume, stock):
    wanted = dose_bench.need(str(level), background_ug_l=share * 100)
    amount = amount_for(wanted, stock, Decimal(volume))
    found = level_from(wanted, stock, amount, Decimal(volume))
    assert float(found) == pytest.approx(float(level), rel=1e-12)


def test_a_beer_that_holds_as_much_already_is_a_fault():
    fault = need_fault(dose_bench.need("2", background_ug_l=Decimal(210)))
    assert fault == (
        "Sample B: the beer holds 2.1× diacetyl already, and 2× is wanted: choose a higher level or "
        "another beer."
    )


@pytest.mark.parametrize("level", [None, "0", "-1"])
def test_a_sample_without_a_level_is_a_fault(level):
    wanted = replace(dose_bench.need(), level=None if level is None else Decimal(level))
    assert "has no level" in need_fault(wanted)


@pytest.mark.parametrize("volume", [0, -330])
def test_a_vessel_that_holds_nothing_is_a_fault(volume):
    assert "holds nothing" in dose_fault(dose_bench.need(), dose_bench.solution(), Decimal(volume))


def test_a_solution_asks_for_a_working_threshold_and_a_reference_does_not():
    wanted = dose_bench.need(threshold_ug_l=None)
    assert "no working threshold" in dose_fault(wanted, dose_bench.solution(), VOLUME)
    assert dose_fault(wanted, dose_bench.reference(), VOLUME) == ""


def test_a_stock_that_is_too_weak_says_how_strong_it_must_be():
    """Arithmetic: 99 µg of 0.001 µg/µl are 99 ml; a tenth of 330 ml are 33 ml: three times as strong."""
    fault = dose_fault(dose_bench.need(), dose_bench.solution(strength=Decimal("0.001")), VOLUME)
    assert "99 ml" in fault
    assert "at least 3 times as strong" in fault


def test_beer_is_taken_out_first_where_the_dose_would_overflow_or_matter():
    bottle = dose_bench.bottle(headspace_ml=Decimal(5))
    found = [takes_out_first(Decimal(ul), bottle, VOLUME) for ul in (330, 1650, 1660, 6000)]
    assert found == [False, False, True, True]
    assert takes_out_first(Decimal(330), dose_bench.bottle(headspace_ml=Decimal(0)), VOLUME)


def test_a_volume_of_nothing_is_a_slip_in_the_sums():
    with pytest.raises(ValueError, match="more than 0"):
        amount_for(dose_bench.need(), dose_bench.solution(), Decimal(0))
