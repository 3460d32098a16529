"""What is looked at before a decision is recorded: what is refused, and what asks for a reason."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from seatworthy.errors import PanelError
from seatworthy.rules.calendar_months import months_after
from seatworthy.rules.compound import day_text
from seatworthy.rules.proposing import Proposal
from seatworthy.rules.seat_states import (
    HOLDS_SEAT,
    MOVES,
    SIGNABLE,
    SeatState,
    State,
    seat_on,
    takes_away,
)
from seatworthy.steps.decision_views import PutForward
from seatworthy.steps.proposing import Proposing
from seatworthy.steps.seats import Seat
from seatworthy.steps.sentences import joined

DAYS_AHEAD: Final = 31  # how far ahead of its first day a decision may be signed
_NO_END: Final = frozenset({State.TRAINEE, State.WITHDRAWN})
_NOTHING = "Nothing was recorded."


@dataclass(frozen=True)
class Wanted:
    """What somebody wants to sign.

    Attributes:
        proposal_id: The proposal it answers; None for the one that is open, if any.
        shown: Digest of the facts that the signer was shown; None if it is not known.
    """

    person_id: str
    family: str
    state: str
    from_on: date
    until_on: date | None
    signer: str
    proposal_id: str | None
    shown: str | None

    @property
    def seat(self) -> Seat:
        """Person and beer family."""
        return self.person_id, self.family


class Case:
    """One decision that somebody wants to sign, beside what the rules say of its seat today.

    Args:
        wanted: The decision.
        proposing: What the rules propose today.
        signer_ids: Everybody who may sign.
    """

    def __init__(self, wanted: Wanted, proposing: Proposing, signer_ids: frozenset[str]) -> None:
        proposing.check(wanted.seat)
        self.wanted, self.proposing = wanted, proposing
        self.today = proposing.judged.as_of
        self.book = proposing.judged.rulebook
        self.name = proposing.judged.people[wanted.person_id]
        self.facts = proposing.facts(wanted.seat)
        self.proposal: Proposal | None = proposing.of(wanted.seat)
        self.put: PutForward | None = proposing.put_view(wanted.seat, self.facts)
        self.is_own = wanted.signer == wanted.person_id
        self.is_only_signer = signer_ids == {wanted.signer}

    @property
    def before(self) -> SeatState:
        """The state that would hold on the first day if this were not signed."""
        signed = self.proposing.standings.signed.get(self.wanted.seat, ())
        today = self.proposing.standings.states[self.wanted.seat]
        has_answers = today.state is not State.CANDIDATE
        return seat_on(signed, self.wanted.from_on, self.book.seat, has_answers=has_answers)

    def refuse(self) -> None:
        """Refuse what nobody may sign, each with its sentence.

        Raises:
            PanelError: with the first fault.
        """
        checks: tuple[Callable[[], str], ...] = (
            self._wrong_state, self._wrong_first_day, self._wrong_move, self._wrong_last_day,
            self._wrong_proposal, self._other_facts, self._wrong_signer,
        )  # fmt: skip
        for check in checks:
            if fault := check():
                message = f"{fault} {_NOTHING}"
                raise PanelError(message)

    def asks_for_reason(self) -> Iterator[str]:
        """Everything that a reason must answer; nothing where none is demanded."""
        if self.is_own:
            yield "you sign for yourself, as the only one who may sign"
        if self.proposal is None:
            yield "the rules propose nothing here"
        elif str(self.proposal.state) != self.wanted.state:
            yield f"the rules propose “{self.proposal.state}”"
        elif _is_later(self.wanted.until_on, self.proposal.until_on):
            yield f"the rules propose it until {day_text(self.proposal.until_on or self.today)}"
        if self.is_adverse and not self.was_seen:
            yield f"{self.name} has not seen it proposed"
        if self.put is not None and self.put.recheck_open:
            yield f"{self.name} asked for a recheck, which is not poured yet"

    @property
    def is_adverse(self) -> bool:
        """Whether it takes something from the person."""
        return takes_away(self.before.state, State(self.wanted.state))

    @property
    def was_seen(self) -> bool:
        """Whether this very state was put before the person, and they replied."""
        return self.put is not None and self.put.is_seen and self.put.state == self.wanted.state

    def _wrong_state(self) -> str:
        if self.wanted.state in SIGNABLE:
            return ""
        if self.wanted.state == State.LAPSED:
            return "A seat lapses by its date alone; nobody signs that."
        states = joined([str(state) for state in State if state in SIGNABLE], "or")
        return f"“{self.wanted.state}” cannot be signed; {states} can."

    def _wrong_first_day(self) -> str:
        latest = self.today + timedelta(days=DAYS_AHEAD)
        if self.today <= self.wanted.from_on <= latest:
            return ""
        return (
            f"A decision holds from today, {day_text(self.today)}, or from a day up to "
            f"{day_text(latest)}; {day_text(self.wanted.from_on)} was asked for."
        )

    def _wrong_move(self) -> str:
        before, after = self.before.state, self.wanted.state
        allowed = [str(s) for s in State if s in MOVES[before] and s in SIGNABLE]
        if after in allowed:
            return ""
        return (
            f"{self.name} is “{before}” then; from there a seat can become {joined(allowed, 'or')}."
        )

    def _wrong_last_day(self) -> str:
        state, until = State(self.wanted.state), self.wanted.until_on
        if state in _NO_END:
            return f"“{state}” has no last day; leave it out." if until else ""
        if until is None:
            return f"“{state}” needs a last day." if state in HOLDS_SEAT else ""
        if until < self.wanted.from_on:
            return f"The last day, {day_text(until)}, lies before the first."
        months = self.book.seat.valid_months
        latest = months_after(self.today, months)
        if state in HOLDS_SEAT and until > latest:
            return (
                f"A seat is valid for {months} months by the rulebook in force, so until "
                f"{day_text(latest)} at most; {day_text(until)} was asked for."
            )
        return ""

    def _wrong_proposal(self) -> str:
        if self.wanted.proposal_id is None:
            return ""
        put = self.proposing.put.all.get(self.wanted.proposal_id)
        if put is None or put.seat != self.wanted.seat:
            return f"There is no proposal {self.wanted.proposal_id} about this seat."
        return "This proposal is decided already." if put.is_decided else ""

    def _other_facts(self) -> str:
        if self.wanted.shown in (None, self.facts):
            return ""
        return (
            f"The facts about {self.name} changed since they were shown to you. Look again, then "
            "sign."
        )

    def _wrong_signer(self) -> str:
        if not self.is_own or self.is_only_signer:
            return ""
        return "Nobody signs their own seat while somebody else may sign."


def _is_later(until: date | None, proposed: date | None) -> bool:
    return until is not None and proposed is not None and until > proposed
