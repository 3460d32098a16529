from decimal import Decimal

import dose_bench
import pytest

from seatworthy.sessions.doses.dilution import dilute, dilution_fault, strength_for

ALL = (dose_bench.FINE, dose_bench.MIDDLE, dose_bench.LARGE)


@pytest.mark.parametrize(
    ("wanted", "steps"), [("0.1", 1), ("0.001", 1), ("0.000001", 2), ("0.000000003", 3)]
)
def test_weaker_strengths_take_more_steps(wanted, steps):
    """From 1 g/l: 100 mg/l, 1 mg/l, 1 µg/l, 3 ng/l."""
    found = dilute(dose_bench.solution(), Decimal(wanted), ALL)
    assert len(found) == steps
    assert float(found[-1].strength) == pytest.approx(float(wanted), rel=0.02)


def test_each_strength_follows_exactly_from_what_is_taken():
    strength = Decimal(1)
    for step in dilute(dose_bench.solution(), Decimal("0.0000013"), ALL):
        strength = strength * step.take.total_ul / (step.make_up_ml * 1000)
        assert step.strength == strength


def test_a_dilution_is_made_from_the_one_before():
    found = dilute(dose_bench.solution(), Decimal("0.000001"), ALL)
    assert [step.of for step in found] == ["diacetyl 1 g/l, lot 7", "the dilution before"]


def test_only_the_stock_itself_can_stand_in_a_narrow_vial():
    found = dilute(dose_bench.solution(is_narrow=True), Decimal("0.000001"), ALL)
    assert found[0].take.pipette.is_fine


def test_no_more_is_taken_than_there_is():
    found = dilute(
        dose_bench.solution(left=Decimal(120), dead_ul=Decimal(20)), Decimal("0.01"), ALL
    )
    assert found[0].take.total_ul <= 100


@pytest.mark.parametrize(
    ("stock", "wanted", "pipettes", "said"),
    [(dose_bench.solution(), "1", ALL, "not stronger"), (dose_bench.solution(), "0", ALL, "not more than 0"),
     (dose_bench.solution(), "0.1", (), "No pipette"), (dose_bench.unit(), "0.1", ALL, "whole unit"),
     (dose_bench.solution(), "0.9", (dose_bench.FINE,), "No dilution")],
)  # fmt: skip
def test_what_cannot_be_diluted_says_why(stock, wanted, pipettes, said):
    assert dilute(stock, Decimal(wanted), pipettes) == ()
    assert said in dilution_fault(stock, Decimal(wanted), pipettes)


def test_what_can_be_diluted_has_no_fault():
    assert dilution_fault(dose_bench.solution(), Decimal("0.1"), ALL) == ""


def test_a_strength_follows_from_the_dose_that_one_likes_to_pipette():
    """Arithmetic: 3 x 100 µg/l x 0.33 l = 99 µg in 330 µl."""
    assert strength_for(Decimal(3), Decimal(100), Decimal(330), Decimal(330)) == Decimal("0.3")
