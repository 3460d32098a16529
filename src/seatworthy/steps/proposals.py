"""What the rules propose today, put before the persons concerned, and their replies."""

from datetime import date
from secrets import token_hex

from seatworthy.errors import PanelError
from seatworthy.intake.words import Unreadable, read_text
from seatworthy.rules.compound import day_text
from seatworthy.rules.seat_states import HOLDS_SEAT, MOVES, SIGNABLE, State
from seatworthy.stats.ability.settings import MODEL_VERSION
from seatworthy.steps.decision_views import ProposalView, ReplyView
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import judge_day
from seatworthy.steps.proposals_put import (
    RECHECK,
    REMARK,
    SEEN,
    TAKEN_BACK,
    PutProposal,
    PutProposals,
)
from seatworthy.steps.proposing import Proposing
from seatworthy.steps.seats import Seat
from seatworthy.steps.sentences import joined
from seatworthy.steps.signing import salted, sign

REPLIES = (SEEN, REMARK, RECHECK, TAKEN_BACK)
_NOTHING = "Nothing was recorded."


def proposals(desk: Desk, as_of: date | None = None) -> tuple[ProposalView, ...]:
    """Everything the rules propose, by the names of people.

    Args:
        desk: The open store.
        as_of: The day; None for today.

    Raises:
        PanelError: if the day is still to come, or before anybody kept such records.
    """
    return tuple(Proposing(desk, as_of).views())


def replies_to(desk: Desk, proposal_id: str) -> tuple[ReplyView, ...]:
    """What the person concerned said to a proposal, decided or not; () for none."""
    put = PutProposals(desk)
    return put.replies(put.all[proposal_id]) if proposal_id in put.all else ()


def put_forward(
    desk: Desk,
    person_id: str,
    family: str,
    by: str | None,
    *,
    state: str | None = None,
    until_on: date | None = None,
) -> str:
    """Put a proposal before the person concerned.

    Args:
        desk: The open store.
        person_id: Whose seat.
        family: Beer family of the seat.
        by: Who puts it forward.
        state: A state the leader proposes ("paused" for leave, "withdrawn"); None for what the
            rules propose.
        until_on: Last day of such a state; None for none.

    Returns:
        The proposal's id.

    Raises:
        PanelError: if the rules propose nothing, or it was put before the person already.
    """
    judge_day(desk)  # before the lock, so that others need not wait for it
    with desk.store.recording("proposal") as act:
        proposing, seat = Proposing(desk), (person_id, family)
        proposing.check(seat)
        wanted = _wanted(proposing, seat, state, until_on)
        facts = proposing.facts(seat)
        _refuse_again(proposing, seat, wanted, facts)
        row = {
            "proposal_id": token_hex(8),
            "person_id": person_id,
            "family": family,
            "state": wanted[0],
            "as_of_on": proposing.judged.as_of,
            "until_on": wanted[1],
            "rulebook_digest": proposing.judged.rulebook_digest,
            "model_version": MODEL_VERSION,
            "facts_digest": facts,
        }
        act.add("proposal", row)
        sign(act, by)
    return str(row["proposal_id"])


def reply(desk: Desk, proposal_id: str, kind: str, words: str = "", by: str | None = None) -> str:
    """Record what the person concerned says to a proposal.

    Args:
        desk: The open store.
        proposal_id: Which proposal.
        kind: "seen", "remark" (with words), "recheck" (asks for one) or "withdrawn" (takes that
            back).
        words: Own words; may be empty but for a remark.
        by: Who wrote it down; None for nobody named.

    Raises:
        PanelError: if there is no such proposal, something was signed since, or the words will
            not do.
    """
    text = _own_words(kind, words)
    with desk.store.recording("reply") as act:
        put = _undecided(PutProposals(desk), proposal_id)
        if kind == TAKEN_BACK:
            _refuse_unasked(PutProposals(desk), put)
        row = {"proposal_id": proposal_id, "kind": kind, **salted("words", text)}
        act.add("proposal_reply", row)
        sign(act, by)
    return _REPLIED[kind]


_REPLIED = {
    SEEN: "Noted: the proposal has been seen.",
    REMARK: "The remark stands with the proposal.",
    RECHECK: "A recheck is asked for; whoever signs before it must say why.",
    TAKEN_BACK: "The wish for a recheck is taken back.",
}


def _wanted(
    proposing: Proposing, seat: Seat, state: str | None, until_on: date | None
) -> tuple[str, date | None]:
    """The state to be put forward and its last day."""
    if state is not None:
        _refuse_state(proposing, seat, state, until_on)
        return state, until_on
    proposal = proposing.of(seat)
    if proposal is None:
        message = f"The rules propose nothing here. {proposing.why_nothing(seat)} {_NOTHING}"
        raise PanelError(message)
    return str(proposal.state), proposal.until_on


def _refuse_state(proposing: Proposing, seat: Seat, state: str, until_on: date | None) -> None:
    """A leader puts forward only what could be signed."""
    before = proposing.standings.states[seat].state
    fault = ""
    if state not in SIGNABLE:
        fault = f"“{state}” is not a state that can be signed."
    elif State(state) not in MOVES[before]:
        fault = f"From “{before}” a seat cannot become “{state}”."
    elif until_on is None and State(state) in HOLDS_SEAT:
        fault = f"“{state}” needs a last day."
    if fault:
        message = f"{fault} {_NOTHING}"
        raise PanelError(message)


def _refuse_again(
    proposing: Proposing, seat: Seat, wanted: tuple[str, date | None], facts: str
) -> None:
    """The same again is refused unless the facts, the rulebook or the model are others now."""
    put = proposing.put_view(seat, facts)
    if put is not None and put.state == wanted[0] and not put.facts_changed:
        name = proposing.judged.people[seat[0]]
        message = f"This was put before {name} already, on {day_text(put.put_at)}. {_NOTHING}"
        raise PanelError(message)


def _undecided(put: PutProposals, proposal_id: str) -> PutProposal:
    found = put.all.get(proposal_id)
    if found is None:
        message = f"There is no proposal {proposal_id} on record. {_NOTHING}"
        raise PanelError(message)
    if found.is_decided:
        message = f"This proposal is decided already. {_NOTHING}"
        raise PanelError(message)
    return found


def _refuse_unasked(put: PutProposals, proposal: PutProposal) -> None:
    asked = [r.kind for r in put.replies(proposal) if r.kind in (RECHECK, TAKEN_BACK)]
    if not asked or asked[-1] != RECHECK:
        message = f"No recheck was asked for, so there is none to take back. {_NOTHING}"
        raise PanelError(message)


def _own_words(kind: str, words: str) -> str:
    if kind not in REPLIES:
        message = f"A reply is {joined(REPLIES, 'or')}, not “{kind}”. {_NOTHING}"
        raise PanelError(message)
    try:
        text = read_text(words)
    except Unreadable as fault:
        message = f"The remark {fault} {_NOTHING}"
        raise PanelError(message) from fault
    if kind == REMARK and not text:
        message = f"A remark has words; for none, say that it has been seen. {_NOTHING}"
        raise PanelError(message)
    return text
