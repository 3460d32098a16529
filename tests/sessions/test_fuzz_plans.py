"""Hostile wishes, a seeded few of tests/bench/fuzz_all.py, and what it found there."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from asked import blank, faults_of, only_fault_of, sitting, spiked, wish, with_limits
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from seatworthy.sessions.layout import lay_out
from seatworthy.sessions.plan import PersonFacts

BENCH = Path(__file__).resolve().parents[1] / "bench"


@pytest.fixture(scope="module")
def plans(tmp_path_factory):
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(BENCH)
        import fuzz_plans

        yield fuzz_plans.Plans(tmp_path_factory.mktemp("plans"))


@settings(
    derandomize=True, deadline=None, max_examples=300, suppress_health_check=list(HealthCheck)
)
@given(draw=st.randoms(use_true_random=False))
def test_no_hostile_wish_becomes_a_plan_that_breaks_a_promise(plans, draw):
    plans.attempt(draw)


@pytest.mark.parametrize("glasses", [10**12, -(10**12)])
def test_a_monstrous_number_of_glasses_is_refused_without_listing_them(glasses):
    told = faults_of(wish(samples=(spiked("dms", glasses=glasses), blank())))
    assert any(fault.startswith(f"Sample A is poured {glasses} times") for fault in told)


def test_a_share_that_is_no_number_is_refused():
    assert only_fault_of(with_limits(spat_share=Decimal("sNaN"))) == (
        "sNaN% of a spat glass counts as swallowed: choose 0 to 100%."
    )


def test_a_level_that_is_no_number_is_refused_beside_one_that_stands_twice():
    told = faults_of(wish(samples=(spiked("dms"), spiked("dms"), spiked("dms", "sNaN"), blank())))
    assert any(fault.startswith("DMS at 3× stands in samples A and B:") for fault in told)
    assert any(fault.startswith("DMS has a level of sNaN×: choose 0.01 to 100") for fault in told)


def test_a_strength_that_is_no_number_is_refused():
    assert only_fault_of(wish(abv_percent=Decimal("sNaN"))) == (
        "The base beer has sNaN% alcohol: choose 0 to 30%."
    )


@pytest.mark.parametrize(
    ("grams", "is_refused"), [("100", False), ("100.01", True), ("1e400", True)]
)
def test_a_limit_of_alcohol_that_limits_nothing_is_refused(grams, is_refused):
    told = faults_of(replace(with_limits(alcohol_g=Decimal(grams))))
    assert bool(told) == is_refused
    assert all(fault.endswith("g: choose 0 to 100 g.") for fault in told)


def _same_code_twice(plan):
    sitting = plan.sittings[0]
    seat = sitting.seats[0]
    first, second, *others = seat.glasses
    seat = replace(seat, glasses=(first, replace(second, code=first.code), *others))
    return replace(plan, sittings=(replace(sitting, seats=(seat, *sitting.seats[1:])),))


def _one_glass_fewer(plan):
    sitting = plan.sittings[0]
    seat = replace(sitting.seats[0], glasses=sitting.seats[0].glasses[:-1])
    return replace(plan, sittings=(replace(sitting, seats=(seat, *sitting.seats[1:])),))


@pytest.mark.parametrize(
    ("spoil", "facts", "told"),
    [
        (_same_code_twice, {}, "a code twice"),
        (_one_glass_fewer, {}, "gets .* of"),
        (lambda plan: plan, {"refused_compounds": frozenset({"dms"})}, "Ada is served dms"),
        (lambda plan: plan, {"refused_beers": frozenset({"pils"})}, "not to be served"),
    ],
)
def test_the_judge_of_these_finds_a_broken_promise(plans, spoil, facts, told):
    from fuzz_plan_promises import judge
    from fuzz_plan_wishes import SHELF, TODAY, ZONE

    asked = wish(samples=(spiked("dms", glasses=2), blank(2)), sittings=(sitting(people=("ada",)),))
    people = {"ada": PersonFacts("Ada")}
    plan = lay_out(asked, SHELF, people, (), TODAY, ZONE)
    judge(asked, plan, people, set())
    with pytest.raises(AssertionError, match=told):
        judge(asked, spoil(plan), {"ada": replace(people["ada"], **facts)}, set())
