"""What was signed of seats, and the state of every seat on a day."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from seatworthy.rules.seat_states import SeatState, Signed, State, seat_on
from seatworthy.steps.desk import Desk

Seat = tuple[str, str]  # person id, beer family


@dataclass(frozen=True, slots=True)
class SignedDecision:
    """One signature as it is on record.

    Attributes:
        person_id: Whom the person stands for by this record.
        stated_id: The id that was signed.
        recorded_at: Its moment, UTC.
    """

    decision_id: str
    proposal_id: str | None
    person_id: str
    stated_id: str
    name: str | None
    family: str
    family_label: str | None
    state: str
    from_on: date
    until_on: date | None
    proposed_state: str | None
    as_of_on: date
    rulebook_digest: str
    rulebook_name: str | None
    rulebook_version: int | None
    model_version: str
    facts_digest: str
    reason: str | None
    signer_id: str
    signer: str | None
    entry_no: int
    recorded_at: datetime

    @property
    def seat(self) -> Seat:
        """Person and beer family."""
        return self.person_id, self.family

    @property
    def signed(self) -> Signed:
        """What it says of the seat."""
        return Signed(
            self.decision_id, State(self.state), self.from_on, self.until_on, self.entry_no
        )


def signed_decisions(desk: Desk, known_at: datetime | None = None) -> tuple[SignedDecision, ...]:
    """Every signature, in the order of signing.

    Args:
        desk: The open store.
        known_at: The record as it stood then (UTC); None for all of it.
    """
    return tuple(SignedDecision(**row) for row in desk.store.rows("decisions", known_at))


def signatures(desk: Desk, known_at: datetime | None = None) -> Mapping[Seat, list[Signed]]:
    """Every signature by seat, in the order of signing."""
    found: dict[Seat, list[Signed]] = defaultdict(list)
    for decision in signed_decisions(desk, known_at):
        found[decision.seat].append(decision.signed)
    return found


def seat_states(
    desk: Desk,
    as_of: date,
    known_at: datetime | None = None,
    signed: Mapping[Seat, Sequence[Signed]] | None = None,
) -> Mapping[Seat, SeatState]:
    """The state of the seat of everybody on record for every beer family.

    Args:
        desk: The open store.
        as_of: The day; one to come says how things stand if nothing is signed until then.
        known_at: The record as it stood then (UTC); None for all of it.
        signed: `signatures` of that record, if they were read already.
    """
    rule = desk.rulebook_on(as_of, known_at).rulebook.seat
    by_seat = signatures(desk, known_at) if signed is None else signed
    return {
        seat: seat_on(by_seat.get(seat, ()), as_of, rule, has_answers=row["has_answers"])
        for row in desk.store.rows("seat_people", known_at, until_on=as_of)
        if (seat := (row["person_id"], row["family"]))
    }
