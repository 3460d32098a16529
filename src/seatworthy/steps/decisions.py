"""Decisions: signed with a PIN, kept as they were signed, listed for whoever asks later."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from datetime import UTC, date, datetime
from secrets import token_hex
from zoneinfo import ZoneInfo

from seatworthy.errors import PanelError
from seatworthy.rules.seat_states import last_signed
from seatworthy.stats.ability.settings import MODEL_VERSION
from seatworthy.steps.decision_checks import Case, Wanted
from seatworthy.steps.decision_views import DecidedCompound, DecisionView
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import judge_day
from seatworthy.steps.proposing import Proposing
from seatworthy.steps.recomputing import recomputed
from seatworthy.steps.seats import Seat, SignedDecision, seat_states, signed_decisions
from seatworthy.steps.signers import check_pin, signers
from seatworthy.steps.signing import salted, sign, signed_reason
from seatworthy.store.recording import Recording

__all__ = ["decisions", "recomputed", "seat_states", "sign_decision"]

FEWEST_WORDS, FEWEST_LETTERS = 3, 12  # of a reason that is demanded
OWN_SEAT = "Signed for oneself, as the only one who may sign: "


def sign_decision(
    desk: Desk,
    *,
    person_id: str,
    family: str,
    state: str,
    until_on: date | None,
    from_on: date | None = None,
    reason: str = "",
    signer: str,
    pin: str,
    proposal_id: str | None = None,
    expected_facts_digest: str | None = None,
) -> str:
    """Sign a decision about one seat. It is never changed; a later one stands beside it.

    Args:
        desk: The open store.
        person_id: Whose seat.
        family: Beer family of the seat.
        state: "trainee", "probation", "qualified", "paused", "suspended" or "withdrawn".
        until_on: Last day; a seat has one, a trainee and somebody who withdrew have none.
        from_on: First day: today (None) or up to 31 days ahead, never a day that is past.
        reason: Demanded where the decision differs from what the rules propose, takes a seat away
            unseen by the person, goes over the wish for a recheck, or is about the signer's seat.
        signer: Who signs.
        pin: Their PIN.
        proposal_id: The proposal it answers; None for the one that is open, if any.
        expected_facts_digest: Digest of the facts that the signer was shown; None if not known.

    Returns:
        The decision's id.

    Raises:
        PanelError: with a sentence for whatever stands in the way; nothing is recorded then.
    """
    judge_day(desk)  # before the lock, so that others need not wait for it
    with desk.store.recording("decision") as act:
        check_pin(desk, signer, pin)
        wanted = Wanted(
            person_id, family, state, from_on or desk.today(), until_on, signer, proposal_id,
            expected_facts_digest,
        )  # fmt: skip
        who_may = frozenset(one.person_id for one in signers(desk))
        case = Case(wanted, Proposing(desk), who_may)
        case.refuse()
        return _record(act, case, _reason_kept(case, reason))


def decisions(
    desk: Desk,
    person_id: str | None = None,
    family: str | None = None,
    known_at: datetime | None = None,
) -> tuple[DecisionView, ...]:
    """Signatures, the newest first.

    Args:
        desk: The open store.
        person_id: Only about this person; None for everybody.
        family: Only about this beer family; None for all.
        known_at: The record as it stood then (UTC); None for all of it.
    """
    rows = signed_decisions(desk, known_at)
    compounds = _compounds_signed(desk, known_at)
    in_force = _in_force(rows, desk.today())
    zone = desk.time_zone
    return tuple(
        _view(row, compounds.get(row.decision_id, ()), in_force, _local(row.recorded_at, zone))
        for row in reversed(rows)
        if person_id in (None, row.person_id) and family in (None, row.family)
    )


def _reason_kept(case: Case, reason: str) -> str | None:
    """The reason as it is kept; None where none was given and none is demanded."""
    demands = list(case.asks_for_reason())
    if demands and not reason.strip():
        message = f"Say why in a few words, since {'; '.join(demands)}. Nothing was recorded."
        raise PanelError(message)
    if not reason.strip():
        return None
    text = signed_reason(reason, case.wanted.signer)
    if demands and (len(text) < FEWEST_LETTERS or len(text.split()) < FEWEST_WORDS):
        message = (
            f"“{text}” is no reason that an auditor could follow: write at least {FEWEST_WORDS} words, "
            f"since {'; '.join(demands)}. Nothing was recorded."
        )
        raise PanelError(message)
    return f"{OWN_SEAT}{text}" if case.is_own else text


def _record(act: Recording, case: Case, reason: str | None) -> str:
    wanted, judged = case.wanted, case.proposing.judged
    decision_id = token_hex(8)
    put_id = case.put.proposal_id if case.put else None
    row = {
        "decision_id": decision_id,
        "proposal_id": wanted.proposal_id or put_id,
        "person_id": wanted.person_id,
        "family": wanted.family,
        "state": wanted.state,
        "from_on": wanted.from_on,
        "until_on": wanted.until_on,
        "proposed_state": str(case.proposal.state) if case.proposal else None,
        "as_of_on": judged.as_of,
        "rulebook_digest": judged.rulebook_digest,
        "model_version": MODEL_VERSION,
        "facts_digest": case.facts,
        **salted("reason", reason),
        "signed_by": wanted.signer,
    }
    act.add("decision", row)
    act.add_all(("decision_compound", line) for line in _compound_rows(case, decision_id))
    sign(act, wanted.signer)
    return decision_id


def _compound_rows(case: Case, decision_id: str) -> Iterator[dict[str, object]]:
    """Standing of every compound judged that day for the family."""
    for (person, compound, family), verdict in case.proposing.judged.cells.items():
        if (person, family) == case.wanted.seat:
            yield {
                "decision_id": decision_id,
                "compound": compound,
                "standing": str(verdict.standing),
                "until_on": verdict.until,
            }


def _compounds_signed(
    desk: Desk, known_at: datetime | None
) -> Mapping[str, tuple[DecidedCompound, ...]]:
    found: dict[str, list[DecidedCompound]] = defaultdict(list)
    for row in desk.store.rows("decision_compounds", known_at):
        line = DecidedCompound(row["compound"], row["label"], row["standing"], row["until_on"])
        found[row["decision_id"]].append(line)
    return {decision_id: tuple(lines) for decision_id, lines in found.items()}


def _in_force(rows: tuple[SignedDecision, ...], today: date) -> frozenset[str]:
    """Ids of the signatures that hold today, lapsed seats' included, one a seat."""
    by_seat: dict[Seat, list[SignedDecision]] = defaultdict(list)
    for row in rows:
        by_seat[row.seat].append(row)
    last = (last_signed([row.signed for row in some], today) for some in by_seat.values())
    return frozenset(one.decision_id for one in last if one is not None)


def _local(moment: datetime, zone: ZoneInfo) -> datetime:
    return moment.replace(tzinfo=UTC).astimezone(zone).replace(tzinfo=None)


def _view(
    row: SignedDecision,
    compounds: tuple[DecidedCompound, ...],
    in_force: frozenset[str],
    signed_at: datetime,
) -> DecisionView:
    return DecisionView(
        decision_id=row.decision_id,
        proposal_id=row.proposal_id or "",
        person_id=row.person_id,
        name=row.name or "",
        family=row.family,
        family_label=row.family_label or row.family,
        state=row.state,
        from_on=row.from_on,
        until_on=row.until_on,
        proposed=row.proposed_state or "",
        is_as_proposed=row.state == row.proposed_state,
        as_of_on=row.as_of_on,
        rulebook=f"{row.rulebook_name}, version {row.rulebook_version}",
        rulebook_digest=row.rulebook_digest,
        model_version=row.model_version,
        facts_digest=row.facts_digest,
        reason=row.reason or "",
        signer_id=row.signer_id,
        signer=row.signer or "",
        is_own=row.signer_id == row.person_id,
        signed_at=signed_at,
        entry_no=row.entry_no,
        in_force=row.decision_id in in_force,
        compounds=compounds,
    )
