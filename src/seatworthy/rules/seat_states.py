"""The states of a seat, what may follow what, and which state holds on a day."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from types import MappingProxyType
from typing import Final

from seatworthy.rules.rulebook import SeatRule


class State(StrEnum):
    """Where somebody stands with a seat for one beer family."""

    CANDIDATE = "candidate"
    TRAINEE = "trainee"
    PROBATION = "probation"
    QUALIFIED = "qualified"
    PAUSED = "paused"
    SUSPENDED = "suspended"
    LAPSED = "lapsed"
    WITHDRAWN = "withdrawn"


HOLDS_SEAT: Final = frozenset({State.PROBATION, State.QUALIFIED})
SIGNABLE: Final = frozenset(State) - {State.CANDIDATE, State.LAPSED}
_ANEW: Final = frozenset({State.TRAINEE, State.PROBATION, State.WITHDRAWN})
_FROM_A_SEAT: Final = _ANEW | {State.QUALIFIED, State.PAUSED, State.SUSPENDED, State.LAPSED}

# From a state to those that may follow it. A seat lapses by its date alone, and nobody signs that; a
# seat that is granted again is renewed. Somebody without an own answer gets no seat.
MOVES: Final[Mapping[State, frozenset[State]]] = MappingProxyType(
    {
        State.CANDIDATE: frozenset({State.TRAINEE, State.WITHDRAWN}),
        State.TRAINEE: frozenset({State.PROBATION, State.QUALIFIED, State.WITHDRAWN}),
        State.PROBATION: _FROM_A_SEAT,
        State.QUALIFIED: _FROM_A_SEAT,
        State.PAUSED: _ANEW | {State.QUALIFIED},
        State.SUSPENDED: _ANEW | {State.QUALIFIED},
        State.LAPSED: _ANEW | {State.QUALIFIED},
        State.WITHDRAWN: frozenset({State.TRAINEE, State.PROBATION}),
    }
)


@dataclass(frozen=True, slots=True)
class Signed:
    """What one signature says of a seat.

    Attributes:
        from_on: First day on which it holds.
        until_on: Last day; None for a state without an end.
        entry_no: Number of its entry in the history, by which signatures are told apart in time.
    """

    decision_id: str
    state: State
    from_on: date
    until_on: date | None
    entry_no: int


@dataclass(frozen=True, slots=True)
class SeatState:
    """The state of a seat on one day.

    Attributes:
        since: First day of it; None where nothing was signed.
        until: Last day signed; None for a state without an end. Of a lapsed seat: its last day.
        due_from: Day from which a seat that stands is to be looked at; None for other states.
        in_grace: Whether the last day is past and the seat still honoured.
        decision_id: The signature that holds, or held before the seat lapsed; "" without one.
        signed: The state that was signed; None without a signature.
    """

    state: State
    since: date | None
    until: date | None
    due_from: date | None
    in_grace: bool
    decision_id: str
    signed: State | None

    @property
    def holds_seat(self) -> bool:
        """Whether a seat stands, on probation or in full."""
        return self.state in HOLDS_SEAT


def takes_away(state: State, after: State) -> bool:
    """Whether a move takes something from the person: it is put before them first.

    Args:
        state: The state before.
        after: The state that follows. To be a trainee takes a seat away where one stood or waits.
    """
    if after in (State.PAUSED, State.SUSPENDED, State.WITHDRAWN):
        return True
    held = state in HOLDS_SEAT or state in (State.PAUSED, State.SUSPENDED)
    return (held and after is State.TRAINEE) or (
        state is State.QUALIFIED and after is State.PROBATION
    )


def honoured_until(until: date, rule: SeatRule) -> date:
    """Last day on which a seat is still honoured, its grace included."""
    return until + timedelta(days=rule.grace_days)


def last_signed(signed: Sequence[Signed], day: date) -> Signed | None:
    """The signature that holds on a day: the latest to be signed of those that have begun.

    One that was signed later knows of all before it, also of one that was to begin on a later day.
    """
    begun = [one for one in signed if one.from_on <= day]
    return max(begun, key=lambda one: one.entry_no, default=None)


def seat_on(
    signed: Sequence[Signed], day: date, seat_rule: SeatRule, *, has_answers: bool
) -> SeatState:
    """The state of one seat on one day.

    Args:
        signed: Every signature about this seat, in any order.
        day: The day asked.
        seat_rule: Notice and grace of the rulebook in force.
        has_answers: Whether the person has any answer in a closed session up to that day.
    """
    last = last_signed(signed, day)
    if last is None:
        state = State.TRAINEE if has_answers else State.CANDIDATE
        return SeatState(state, None, None, None, False, "", None)
    until = last.until_on
    if last.state not in HOLDS_SEAT or until is None:
        return SeatState(last.state, last.from_on, until, None, False, last.decision_id, last.state)
    end = honoured_until(until, seat_rule)
    if day > end:
        since = end + timedelta(days=1)
        return SeatState(State.LAPSED, since, until, None, False, last.decision_id, last.state)
    due_from = until - timedelta(days=seat_rule.notice_days)
    return SeatState(
        last.state, last.from_on, until, due_from, day > until, last.decision_id, last.state
    )
