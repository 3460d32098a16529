from datetime import date, timedelta

import pytest

from seatworthy.rules.rulebook import SeatRule
from seatworthy.rules.seat_states import (
    HOLDS_SEAT,
    MOVES,
    SIGNABLE,
    SeatState,
    Signed,
    State,
    seat_on,
    takes_away,
)

FROM = date(2026, 3, 2)
UNTIL = date(2026, 9, 2)
DAY = timedelta(days=1)
RULE = SeatRule(critical_met=4, critical_not_met=1, valid_months=6, notice_days=30, grace_days=0)
GRACE = SeatRule(critical_met=4, critical_not_met=1, valid_months=6, notice_days=30, grace_days=14)


def signed(state, from_on=FROM, until_on=UNTIL, entry_no=1):
    return Signed(f"d{entry_no}", State(state), from_on, until_on, entry_no)


def on(day, *signatures, rule=RULE, has_answers=True):
    return seat_on(signatures, day, rule, has_answers=has_answers)


def test_without_answers_and_signatures_somebody_is_a_candidate():
    found = on(FROM, has_answers=False)
    assert found == SeatState(State.CANDIDATE, None, None, None, False, "", None)


def test_answers_make_a_candidate_a_trainee_without_a_signature():
    assert on(FROM).state is State.TRAINEE


def test_a_signature_does_not_hold_on_the_day_before_it_begins():
    assert on(FROM - DAY, signed("qualified")).state is State.TRAINEE


def test_a_signature_holds_from_its_first_day():
    found = on(FROM, signed("qualified"))
    assert (found.state, found.since, found.decision_id) == (State.QUALIFIED, FROM, "d1")


def test_a_seat_stands_on_its_last_day():
    assert on(UNTIL, signed("qualified")).state is State.QUALIFIED


def test_a_seat_without_grace_has_lapsed_on_the_day_after():
    found = on(UNTIL + DAY, signed("qualified"))
    assert (found.state, found.since, found.until) == (State.LAPSED, UNTIL + DAY, UNTIL)


def test_a_lapsed_seat_knows_what_it_was():
    assert on(UNTIL + DAY, signed("probation")).signed is State.PROBATION


def test_a_seat_is_not_in_grace_on_its_last_day():
    assert not on(UNTIL, signed("qualified"), rule=GRACE).in_grace


def test_a_seat_is_honoured_in_grace_from_the_day_after():
    found = on(UNTIL + DAY, signed("qualified"), rule=GRACE)
    assert (found.state, found.in_grace) == (State.QUALIFIED, True)


def test_a_seat_is_honoured_on_the_last_day_of_grace():
    assert on(UNTIL + 14 * DAY, signed("qualified"), rule=GRACE).in_grace


def test_a_seat_has_lapsed_after_the_last_day_of_grace():
    found = on(UNTIL + 15 * DAY, signed("qualified"), rule=GRACE)
    assert (found.state, found.in_grace, found.since) == (State.LAPSED, False, UNTIL + 15 * DAY)


def test_a_seat_is_due_thirty_days_before_its_end():
    assert on(FROM, signed("qualified")).due_from == UNTIL - 30 * DAY


@pytest.mark.parametrize("state", ["paused", "suspended", "withdrawn", "trainee"])
def test_only_a_seat_lapses_by_its_date(state):
    found = on(UNTIL + 100 * DAY, signed(state))
    assert (found.state, found.due_from) == (State(state), None)


def test_of_two_signatures_of_one_day_the_later_holds():
    both = signed("qualified", entry_no=4), signed("suspended", entry_no=5)
    assert on(FROM, *reversed(both)).state is State.SUSPENDED


def test_a_later_signature_stands_over_an_earlier_one_that_begins_on_a_later_day():
    renewed = signed("qualified", FROM + 20 * DAY, entry_no=4)
    suspended = signed("suspended", FROM, None, entry_no=5)
    assert on(FROM + 20 * DAY, renewed, suspended).state is State.SUSPENDED


def test_until_a_signature_begins_the_one_before_it_holds():
    first = signed("probation", entry_no=4)
    second = signed("qualified", FROM + 20 * DAY, entry_no=5)
    assert on(FROM + 19 * DAY, first, second).state is State.PROBATION


def test_from_its_first_day_a_signature_follows_the_one_before_it():
    first = signed("probation", entry_no=4)
    second = signed("qualified", FROM + 20 * DAY, entry_no=5)
    assert on(FROM + 20 * DAY, first, second).state is State.QUALIFIED


def test_everybody_may_withdraw_from_any_other_state():
    leaving = {state for state, after in MOVES.items() if State.WITHDRAWN in after}
    assert leaving == set(State) - {State.WITHDRAWN}


def test_a_candidate_gets_no_seat():
    assert not MOVES[State.CANDIDATE] & HOLDS_SEAT


def test_only_a_seat_can_be_paused_suspended_or_lapse():
    for taken in (State.PAUSED, State.SUSPENDED, State.LAPSED):
        assert {state for state, after in MOVES.items() if taken in after} == HOLDS_SEAT


def test_probation_may_be_granted_again_after_any_state_but_candidate():
    assert {s for s, after in MOVES.items() if State.PROBATION in after} == set(State) - {
        State.CANDIDATE
    }


def test_a_full_seat_comes_back_to_the_paused_the_suspended_and_the_lapsed():
    for state in (State.PAUSED, State.SUSPENDED, State.LAPSED):
        assert State.QUALIFIED in MOVES[state]


def test_nobody_signs_a_lapse_or_a_candidate():
    assert set(State) - SIGNABLE == {State.LAPSED, State.CANDIDATE}


@pytest.mark.parametrize(
    ("before", "after", "is_taken"),
    [
        ("qualified", "paused", True),
        ("qualified", "suspended", True),
        ("trainee", "withdrawn", True),
        ("probation", "trainee", True),
        ("suspended", "trainee", True),
        ("qualified", "probation", True),
        ("lapsed", "trainee", False),
        ("suspended", "probation", False),
        ("candidate", "trainee", False),
        ("qualified", "qualified", False),
        ("lapsed", "qualified", False),
    ],
)
def test_what_takes_something_from_the_person(before, after, is_taken):
    assert takes_away(State(before), State(after)) is is_taken
