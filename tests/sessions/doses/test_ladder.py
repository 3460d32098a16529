from decimal import Decimal

import dose_bench
import pytest

from seatworthy.sessions.doses.ladder import ladder

COUNTED = (Decimal(1), Decimal(3))


def climbed(stock=None, pipette=dose_bench.FINE, setting=100, background=0, counted=COUNTED):
    return ladder(
        stock or dose_bench.reference(), pipette, Decimal(setting), (1, 2, 3, 4), dose_bench.bottle(),
        Decimal(background), counted, Decimal(100),
    )  # fmt: skip


def test_rungs_have_a_nominal_and_a_true_level():
    """Common practice, no source: a reference of which 1 ml in 1 l gives 3×, in 330 ml."""
    rungs = climbed().rungs
    assert [rung.nominal for rung in rungs] == [1, 2, 3, 4]
    assert [float(rung.level) for rung in rungs] == pytest.approx(
        [0.91, 1.82, 2.73, 3.64], abs=0.005
    )


def test_rungs_say_whether_they_count():
    assert [rung.counts for rung in climbed().rungs] == [False, True, True, False]
    assert {rung.counts for rung in climbed(counted=None).rungs} == {None}


def test_the_background_stands_under_every_rung():
    bare, on_top = climbed().rungs, climbed(background="0.5").rungs
    rises = [float(on.level - off.level) for on, off in zip(on_top, bare, strict=True)]
    assert rises == pytest.approx([0.5] * 4)
    assert [r.nominal for r in on_top] == [r.nominal for r in bare]


def test_a_ladder_that_empties_the_vial_is_noted():
    """Arithmetic: 1 + 2 + 3 + 4 shots of 100 µl are 1 ml."""
    (note,) = climbed(dose_bench.reference(left=Decimal(1000))).notes
    assert "exactly what is in the vial" in note
    assert climbed(dose_bench.reference(left=Decimal(1001))).notes == ()


def test_a_ladder_that_takes_more_than_there_is_is_noted():
    (note,) = climbed(dose_bench.reference(left=Decimal(1000), dead_ul=Decimal(30))).notes
    assert "gives 970 µl and 10 shots of 100 µl are 1 ml" in note


def test_a_narrow_vial_and_a_thick_tip_are_noted():
    (note,) = climbed(dose_bench.reference(is_narrow=True), dose_bench.MIDDLE).notes
    assert "fine tip" in note


def test_a_setting_out_of_range_is_noted():
    (note,) = climbed(pipette=dose_bench.FINE, setting=110).notes
    assert "10 to 100 µl, not to 110 µl" in note


def test_whole_units_make_no_ladder():
    with pytest.raises(ValueError, match="liquid"):
        climbed(dose_bench.unit())
