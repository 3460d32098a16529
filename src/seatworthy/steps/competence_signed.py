"""What was signed of one seat up to a day, on which grounds, and what the person said to it."""

from collections.abc import Sequence
from datetime import UTC, date, datetime
from types import MappingProxyType
from typing import Final

from seatworthy.steps.audit_views import AuditColumn, AuditSection, AuditTable
from seatworthy.steps.decision_views import DecisionView, ReplyView
from seatworthy.steps.decisions import decisions
from seatworthy.steps.desk import Desk
from seatworthy.steps.history_phrases import counted
from seatworthy.steps.proposals_put import PutProposal, PutProposals
from seatworthy.steps.spreadsheet import Cell

NOTHING_SIGNED: Final = "Nothing was signed of this seat up to that day."
NO_REPLIES: Final = "No proposal was put before the person up to that day."
_REPLIES: Final = MappingProxyType(
    {"seen": "seen", "remark": "remark", "recheck": "asks for a recheck",
     "withdrawn": "takes the wish for a recheck back"}
)  # fmt: skip


class Signatures:
    """Signatures, proposals and replies about one seat.

    Args:
        desk: The open store.
        person_id: Whose seat.
        family: Beer family of the seat.
        as_of: What was judged on a later day stays out, and so do replies of later days.
        known_at: Read the record as it stood then (UTC); None for today's record.
    """

    def __init__(
        self, desk: Desk, person_id: str, family: str, as_of: date, known_at: datetime | None
    ) -> None:
        self._desk, self._as_of, self._known_at = desk, as_of, known_at
        self._seat = (person_id, family)
        self._signed: Sequence[DecisionView] = [
            one for one in decisions(desk, person_id, family, known_at) if one.as_of_on <= as_of
        ]

    def authorisation(self) -> AuditSection:
        """Every signature, the newest first."""
        if not self._signed:
            return AuditSection("authorisation", "Authorisation", (NOTHING_SIGNED,))
        columns = (
            AuditColumn("entry", "history entry", 11),
            AuditColumn("signed", "signed at (brewery's time)", 29),
            AuditColumn("state", "state", 19),
            AuditColumn("from", "from", 20),
            AuditColumn("until", "until", 20),
            AuditColumn("signed by", "signed by", 28),
            AuditColumn("proposed", "proposed by the rules", 18),
            AuditColumn("reason", "reason", 33),
        )
        rows = tuple(_decision_row(one) for one in self._signed)
        told = f"{counted(len(rows), 'signature')}, the newest first."
        own = "One or more were signed by the person for their own seat."
        sentences = (told, own) if any(one.is_own for one in self._signed) else (told,)
        return AuditSection("authorisation", "Authorisation", sentences, AuditTable(columns, rows))

    def grounds(self) -> AuditSection:
        """By which rules, model and facts each was signed."""
        columns = (
            AuditColumn("entry", "history entry", 11),
            AuditColumn("judged", "day judged", 20),
            AuditColumn("rulebook", "rulebook", 22),
            AuditColumn("model", "model version", 15),
            AuditColumn("rulebook's digest", "rulebook digest (SHA-256, hex)", 55),
            AuditColumn("digest of the facts", "digest of the facts (SHA-256, hex)", 55),
        )
        rows = tuple(
            (
                one.entry_no,
                one.as_of_on,
                one.rulebook,
                one.model_version,
                one.rulebook_digest,
                one.facts_digest,
            )
            for one in self._signed
        )
        sentences = () if rows else (NOTHING_SIGNED,)
        return AuditSection(
            "grounds", "Grounds of the signatures", sentences, AuditTable(columns, rows)
        )

    def replies(self) -> AuditSection:
        """What was put before the person, and what they said to it."""
        put = PutProposals(self._desk)
        rows = [
            row
            for one in put.all.values()
            if one.seat == self._seat and self._is_known(one)
            for row in self._rows_of(one, put.replies(one))
        ]
        columns = (
            AuditColumn("put before them", "proposal put at (brewery's time)", 29),
            AuditColumn("proposed", "state proposed", 20),
            AuditColumn("until", "until", 20),
            AuditColumn("replied", "replied at (brewery's time)", 29),
            AuditColumn("reply", "reply", 30),
            AuditColumn("words", "words", 50),
        )
        sentences = () if rows else (NO_REPLIES,)
        table = AuditTable(columns, tuple(rows))
        return AuditSection("replies", "Proposals and what the person said", sentences, table)

    def _rows_of(self, put: PutProposal, replies: Sequence[ReplyView]) -> list[tuple[Cell, ...]]:
        about = (self._local(put.recorded_at), put.state, put.until_on)
        said = [
            (*about, reply.replied_at, _REPLIES.get(reply.kind, reply.kind), reply.words)
            for reply in replies
            if self._was_said(reply.replied_at)
        ]
        return said or [(*about, None, "none yet", "")]

    def _is_known(self, put: PutProposal) -> bool:
        known = self._known_at is None or put.recorded_at <= self._known_at
        return known and put.as_of_on <= self._as_of

    def _was_said(self, moment: datetime) -> bool:
        """Whether something said at a moment of the brewery's belongs on the paper."""
        known = self._known_at is None or moment <= self._local(self._known_at)
        return known and moment.date() <= self._as_of

    def _local(self, moment: datetime) -> datetime:
        return moment.replace(tzinfo=UTC).astimezone(self._desk.time_zone).replace(tzinfo=None)


def _decision_row(one: DecisionView) -> tuple[Cell, ...]:
    return (
        one.entry_no,
        one.signed_at,
        one.state,
        one.from_on,
        one.until_on,
        one.signer,
        one.proposed or "nothing",
        one.reason,
    )
