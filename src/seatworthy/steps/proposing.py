"""What the rules propose for every seat on one day, beside what was put forward already."""

from collections.abc import Iterator
from datetime import date

from seatworthy.errors import PanelError
from seatworthy.rules.proposing import Kind, Proposal, propose, why_nothing
from seatworthy.rules.seat_states import State, takes_away
from seatworthy.stats.ability.settings import MODEL_VERSION
from seatworthy.steps.decision_views import ProposalView, PutForward
from seatworthy.steps.desk import Desk
from seatworthy.steps.facts_text import facts_digest
from seatworthy.steps.judging import Judged, judge_day
from seatworthy.steps.panel import people_of_panel
from seatworthy.steps.proposals_put import PutProposal, PutProposals
from seatworthy.steps.seats import Seat
from seatworthy.steps.standings import StandingsOfDay
from seatworthy.steps.who_sits import anonymous_by

_GIVES = (Kind.GRANT, Kind.RENEW, Kind.RETURN)


class Proposing:
    """What the rules propose on one day, seat by seat.

    Args:
        desk: The open store.
        as_of: The day; None for today.

    Attributes:
        judged: The day judged, by all that is on record.
        standings: How every seat stands.
        put: Proposals that were put before somebody.
    """

    def __init__(self, desk: Desk, as_of: date | None = None) -> None:
        self._desk = desk
        self.judged: Judged = judge_day(desk, as_of)
        self.standings = StandingsOfDay(desk, self.judged)
        self.put = PutProposals(desk)

    def check(self, seat: Seat) -> None:
        """Refuse a seat of nobody, or for no beer family.

        Raises:
            PanelError: if either is not on record.
        """
        if seat not in self.judged.seats:
            known = seat[0] in self.judged.people
            what = f"beer family “{seat[1]}”" if known else f"person with the id {seat[0]}"
            message = f"There is no {what} on record. Nothing was recorded."
            raise PanelError(message)
        if seat[0] in anonymous_by(self._desk, self.judged):
            name = self.judged.people[seat[0]]
            message = f"{name} has no name any more and gets no seat. Nothing was recorded."
            raise PanelError(message)

    def of(self, seat: Seat) -> Proposal | None:
        """What the rules propose for one seat; None for nothing."""
        return propose(self.standings.of(seat), self.judged.rulebook, self.judged.as_of)

    def why_nothing(self, seat: Seat) -> str:
        """What is said of a seat for which nothing is proposed."""
        return why_nothing(self.standings.of(seat), self.judged.rulebook, self.judged.as_of)

    def facts(self, seat: Seat) -> str:
        """Digest over the facts one seat rests on."""
        return facts_digest(self._desk, *seat, self.judged.as_of)

    def put_view(self, seat: Seat, facts: str) -> PutForward | None:
        """The undecided proposal about a seat as it is shown; None if none was put.

        Args:
            seat: Person and beer family.
            facts: Digest of today's facts.
        """
        put = self.put.open().get(seat)
        if put is None:
            return None
        grounds = (facts, self.judged.rulebook_digest, MODEL_VERSION)
        return self.put.view(put, self.standings, grounds)

    def views(self) -> Iterator[ProposalView]:
        """Every seat for which something is proposed or was put forward, by the names of people.

        Nobody who is off the panel is proposed for a seat.
        """
        absent = {p.person_id for p in people_of_panel(self._desk) if not p.is_panellist}
        put, nameless = self.put.open(), anonymous_by(self._desk, self.judged)
        for person in (one for one in self.judged.people if one not in nameless):
            for family in self.judged.families:
                seat = (person, family)
                proposal = self.of(seat)
                if proposal is not None and not (person in absent and proposal.kind in _GIVES):
                    yield self._view(seat, proposal)
                elif seat in put:
                    yield self._view(seat, self._as_put(put[seat]))

    def _as_put(self, put: PutProposal) -> Proposal:
        """What a leader put forward where the rules propose nothing."""
        why = self.why_nothing(put.seat)
        return Proposal(State(put.state), self.judged.as_of, put.until_on, why, Kind.OWN)

    def _view(self, seat: Seat, proposal: Proposal) -> ProposalView:
        state, facts = self.standings.states[seat], self.facts(seat)
        return ProposalView(
            person_id=seat[0],
            name=self.judged.people[seat[0]],
            family=seat[1],
            family_label=self.judged.families[seat[1]],
            state=str(state.state),
            since=state.since,
            until=state.until,
            in_grace=state.in_grace,
            kind=str(proposal.kind),
            proposed=str(proposal.state),
            until_on=proposal.until_on,
            sentence=proposal.sentence,
            change=proposal.change,
            is_adverse=takes_away(state.state, proposal.state),
            facts_digest=facts,
            put=self.put_view(seat, facts),
        )
