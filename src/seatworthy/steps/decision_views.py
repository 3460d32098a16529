"""What pages show of seats, proposals and signatures: finished answers, like those of `views`.

Days are the brewery's, moments too (without a time zone). States are the words of
`rules.seat_states.State`: candidate, trainee, probation, qualified, paused, suspended, lapsed,
withdrawn. Names and free texts are what somebody wrote; escape them.
"""

from dataclasses import dataclass
from datetime import date, datetime

from seatworthy.steps.views import RuleLine


@dataclass(frozen=True)
class SignerView:
    """Somebody who may sign decisions."""

    person_id: str
    name: str


@dataclass(frozen=True)
class ReplyView:
    """What the person concerned said to a proposal.

    Attributes:
        kind: "seen", "remark", "recheck" (asks for one) or "withdrawn" (takes that back).
        words: Own words, may be empty.
        replied_at: When it was put on record.
    """

    kind: str
    words: str
    replied_at: datetime


@dataclass(frozen=True)
class PutForward:
    """A proposal that was put before the person concerned.

    Attributes:
        put_at: When it was put on record.
        state: The state proposed.
        until_on: Last day of the seat proposed; None for a state without an end.
        replies: In the order of their recording.
        is_seen: Whether the person has replied at all.
        recheck_open: Whether they asked for a recheck and too few glasses were poured since.
        facts_changed: Whether glasses, rules or the model differ from those it was made on.
    """

    proposal_id: str
    put_at: datetime
    state: str
    until_on: date | None
    replies: tuple[ReplyView, ...]
    is_seen: bool
    recheck_open: bool
    facts_changed: bool


@dataclass(frozen=True)
class ProposalView:
    """What is proposed for one seat, and how far it has come.

    Attributes:
        state: The state today.
        since: From when it holds; None where nothing was ever signed.
        until: Last day of the seat signed; None without one.
        in_grace: Whether that day is past and the seat still honoured.
        kind: "grant", "renew", "return", "pause", "suspend", or "own" for what a leader put forward
            where the rules propose nothing.
        proposed: The state proposed.
        until_on: Last day proposed; None for a state without an end.
        sentence: Why, with its numbers.
        change: What would change it; may be empty.
        is_adverse: Whether it takes a seat away: it must be put before the person first.
        facts_digest: To be handed to `sign_decision` as what the signer was shown.
        put: The proposal put before the person and not yet decided; None if it was not.
    """

    person_id: str
    name: str
    family: str
    family_label: str
    state: str
    since: date | None
    until: date | None
    in_grace: bool
    kind: str
    proposed: str
    until_on: date | None
    sentence: str
    change: str
    is_adverse: bool
    facts_digest: str
    put: PutForward | None


@dataclass(frozen=True)
class DecidedCompound:
    """Standing of one compound on the day of a signature.

    Attributes:
        standing: "met", "not_met", "too_little" or "insensitive".
        until_on: Last day of a met, nothing more being poured; None otherwise.
    """

    compound: str
    label: str
    standing: str
    until_on: date | None


@dataclass(frozen=True)
class DecisionView:
    """One signature.

    Attributes:
        until_on: Last day; None for a state without an end.
        proposed: What the rules proposed when it was signed, "" for nothing.
        is_as_proposed: Whether the state signed is the one proposed.
        as_of_on: The day judged.
        rulebook: Name and version.
        reason: Why, in the signer's words; may be empty.
        is_own: Whether the signer signed for themselves.
        in_force: Whether it is the signature that holds today.
    """

    decision_id: str
    proposal_id: str
    person_id: str
    name: str
    family: str
    family_label: str
    state: str
    from_on: date
    until_on: date | None
    proposed: str
    is_as_proposed: bool
    as_of_on: date
    rulebook: str
    rulebook_digest: str
    model_version: str
    facts_digest: str
    reason: str
    signer_id: str
    signer: str
    is_own: bool
    signed_at: datetime
    entry_no: int
    in_force: bool
    compounds: tuple[DecidedCompound, ...]


@dataclass(frozen=True)
class Recomputed:
    """A decision judged again.

    Attributes:
        matches: Whether the facts on record at its moment still have the digest that was signed.
        corrected_since: Whether the facts up to that day are others by today's record.
        verdict_then: The seat by the record as it stood when it was signed.
        verdict_now: The seat on that day by today's record.
        changed: A sentence for each compound that stands otherwise than was signed.
        sentence: What came of it, in plain words.
    """

    matches: bool
    corrected_since: bool
    verdict_then: RuleLine
    verdict_now: RuleLine
    changed: tuple[str, ...]
    sentence: str


@dataclass(frozen=True)
class DueLine:
    """Something that falls due on a day.

    Attributes:
        kind: "notice" (a seat is to be looked at from then on), "end" (its last day), "grace" (the
            last day on which it is still honoured), "compounds" (mets that end), "absence" (the
            last day before an absence is too long) or "rulebook" (one comes into force).
        person_id: "" where it concerns nobody.
        family: "" where it concerns all.
        compounds: Labels of the compounds whose met ends, else ().
    """

    on: date
    kind: str
    person_id: str
    name: str
    family: str
    family_label: str
    compounds: tuple[str, ...]
    sentence: str
