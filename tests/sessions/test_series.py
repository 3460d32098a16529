from decimal import Decimal

import pytest
from asked import blank, laid_out, marks_of, roomy

from seatworthy.errors import PlanRefused
from seatworthy.sessions.series import ascending
from seatworthy.sessions.wish import WantedSample


def series(compound="dms", lowest="0.5", ratio="2", steps=4, method="3afc", **more):
    return ascending(compound, Decimal(lowest), Decimal(ratio), steps, method, **more)


def only_refused(**changes):
    (fault,) = refused(**changes)
    return fault


def refused(**changes):
    with pytest.raises(PlanRefused) as found:
        series(**changes)
    return found.value.faults


def test_a_series_is_one_sample_a_step_each_stronger_by_the_ratio():
    assert series(steps=3) == (
        WantedSample("dms", Decimal("0.5"), method="3afc"),
        WantedSample("dms", Decimal(1), method="3afc"),
        WantedSample("dms", Decimal(2), method="3afc"),
    )


def test_levels_of_a_series_keep_nine_decimals_at_most():
    levels = [sample.level for sample in series(lowest="0.333333333", ratio="1.5", steps=12)]
    assert all(level.as_tuple().exponent >= -9 for level in levels)


@pytest.mark.parametrize("ratio", ["1", "0.5", "0", "-2", "NaN"])
def test_a_series_that_does_not_climb_is_refused(ratio):
    assert only_refused(ratio=ratio) == (
        f"Each step of the series is {ratio} times as strong as the one before: choose more than 1, "
        "such as 2 or 3."
    )


@pytest.mark.parametrize("steps", [2, 12])
def test_two_to_twelve_steps_can_be_had(steps):
    assert len(series(ratio="1.1", steps=steps)) == steps


@pytest.mark.parametrize("steps", [1, 13])
def test_other_numbers_of_steps_are_refused(steps):
    assert refused(steps=steps) == (f"The series has {steps} steps: choose 2 to 12.",)


def test_a_series_starts_at_a_level_that_can_be_poured():
    assert refused(lowest="0") == (
        "The series starts at 0×: choose 0.01 to 100 times the working threshold.",
    )


def test_a_series_is_tasted_in_sets():
    assert refused(method="naming") == (
        "A series is tasted in sets, not as “naming”: choose 3afc, triangle, 2afc.",
    )


def test_a_series_may_end_at_its_ceiling():
    assert series(ceiling=Decimal(4))[-1].level == Decimal(4)


def test_a_series_that_ends_above_its_ceiling_is_refused_with_the_steps_that_fit():
    assert only_refused(ceiling=Decimal("3.9")) == (
        "The series ends at 4×, above the ceiling of 3.9×: start lower, choose a smaller ratio, or "
        "3 steps."
    )


def test_a_series_never_ends_above_what_can_be_poured():
    assert refused(lowest="60", steps=2) == (
        "The series ends at 120×, above the ceiling of 100×: start lower, choose a smaller ratio.",
    )


def test_all_faults_of_a_series_are_said_at_once():
    assert len(refused(lowest="0", ratio="1", steps=1, method="duo")) == 4


@pytest.mark.parametrize("seed", range(5))
def test_everybody_tastes_a_series_in_ascending_order_whatever_the_order_of_the_wish(seed):
    samples = (*reversed(series()), blank(0))
    plan = laid_out(roomy(samples=samples, seed=seed))
    assert set(map(tuple, marks_of(plan).values())) == {("D", "C", "B", "A")}


def test_two_series_follow_one_another_and_each_comes_first_for_half_of_the_people():
    plan = laid_out(roomy(samples=(*series(steps=2), *series("diacetyl", steps=2), blank(0))))
    orders = sorted("".join(marks) for marks in marks_of(plan).values())
    assert orders == ["ABCD"] * 3 + ["CDAB"] * 3
