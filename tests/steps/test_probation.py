from datetime import date

import pytest

from seatworthy.rules.seat_states import Signed, State
from seatworthy.steps.standings import probation_start

FIRST, SECOND, THIRD = date(2026, 3, 2), date(2026, 4, 6), date(2026, 5, 4)


def signed(*states):
    days = (FIRST, SECOND, THIRD)
    return [
        Signed(f"d{n}", State(state), day, None, n)
        for n, (state, day) in enumerate(zip(states, days, strict=False))
    ]


def test_without_a_signature_no_probation_is_served():
    assert probation_start([]) is None


def test_a_probation_begins_with_its_grant():
    assert probation_start(signed("trainee", "probation")) == SECOND


def test_a_probation_signed_again_goes_on():
    assert probation_start(signed("probation", "probation")) == FIRST


@pytest.mark.parametrize("between", ["paused", "suspended"])
def test_a_probation_that_was_interrupted_goes_on(between):
    assert probation_start(signed("probation", between, "probation")) == FIRST


@pytest.mark.parametrize("between", ["trainee", "withdrawn", "qualified"])
def test_a_probation_after_another_start_begins_anew(between):
    assert probation_start(signed("probation", between, "probation")) == THIRD


def test_after_a_full_seat_no_probation_is_served():
    assert probation_start(signed("probation", "qualified", "paused")) is None
