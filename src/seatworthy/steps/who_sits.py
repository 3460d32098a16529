"""Who sits for a beer family: who holds a signed seat, or, before the first signature, who meets the rule."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from seatworthy.phrases import STATE_WORDS
from seatworthy.rules.panel import PanelVerdict, judge_panel
from seatworthy.rules.seat_states import HOLDS_SEAT, SeatState, State
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import Judged
from seatworthy.steps.seats import seat_states, signatures

_AWAY = (State.PAUSED, State.SUSPENDED, State.LAPSED, State.WITHDRAWN)


@dataclass(frozen=True)
class WhoSits:
    """The people of one beer family on the day judged.

    Attributes:
        judged: The day judged.
        family: Beer family's key.
        states: State of each person's seat.
        is_signed: Whether any seat of the family was ever granted by a signature by then.
        nameless: Who was made anonymous by then: they sit nowhere.
    """

    judged: Judged
    family: str
    states: Mapping[str, SeatState]
    is_signed: bool
    nameless: frozenset[str] = frozenset()

    def sits(self, person: str) -> bool:
        """Whether somebody holds a signed seat; before any was signed, whether they meet the rule."""
        if person in self.nameless:
            return False
        state = self.states.get(person)
        if not self.is_signed:
            is_away = state is not None and state.state in _AWAY
            return self.judged.seats[person, self.family].can_sit and not is_away
        if state is None or not state.holds_seat:
            return False
        may = self.judged.rulebook.panel.probation_counts
        return may or state.state is not State.PROBATION

    def until(self, person: str) -> date | None:
        """Last day of a seat that stands; without signatures the day until which the rule is met."""
        if not self.is_signed:
            return self.judged.seats[person, self.family].until if self.sits(person) else None
        state = self.states.get(person)
        return state.until if state is not None and state.holds_seat else None

    def why_not(self, person: str) -> str:
        """Why somebody has no seat although signatures exist, "" where the rules say it."""
        state = self.states.get(person)
        if state is not None and (state.holds_seat or state.state in _AWAY):
            return STATE_WORDS[str(state.state)]
        if not self.is_signed:
            return ""
        return "not signed yet" if self.judged.seats[person, self.family].can_sit else ""

    def panel(self) -> PanelVerdict:
        """Whether those who sit make a panel."""
        judged, family = self.judged, self.family
        sitting = [judged.seats[person, family] for person in judged.people if self.sits(person)]
        return judge_panel(judged.critical[family], sitting, judged.rulebook.panel)


def who_sits(desk: Desk, judged: Judged, family: str) -> WhoSits:
    """The people of one beer family on the day judged, by the record that was judged."""
    signed = signatures(desk, judged.known_at)
    by_seat = seat_states(desk, judged.as_of, judged.known_at, signed)
    states = {person: state for (person, beers), state in by_seat.items() if beers == family}
    is_signed = any(
        one.state in HOLDS_SEAT and one.from_on <= judged.as_of
        for (_, beers), own in signed.items()
        if beers == family
        for one in own
    )
    return WhoSits(judged, family, states, is_signed, anonymous_by(desk, judged))


def anonymous_by(desk: Desk, judged: Judged) -> frozenset[str]:
    """Who was made anonymous by the day judged; before it they sat, and that stays so."""
    return frozenset(
        row["stands_for"]
        for row in desk.store.rows("anonymous_spellings", judged.known_at)
        if desk.day_of(row["recorded_at"]) <= judged.as_of
    )
