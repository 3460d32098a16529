"""What was signed of one seat up to a day, on which grounds, and what the person said to it."""

from collections.abc import Sequence
from datetime import UTC, date, datetime
from types import MappingProxyType
from typing import Final

from seatworthy.phrases import STATE_WORDS
from seatworthy.steps.audit_views import AuditColumn, AuditSection, AuditTable, table_of
from seatworthy.steps.decision_views import DecisionView, ReplyView
from seatworthy.steps.decisions import decisions
from seatworthy.steps.desk import Desk
from seatworthy.steps.history_phrases import counted, plain_day
from seatworthy.steps.proposals_put import PutProposal, PutProposals
from seatworthy.steps.sentences import sentence_start
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
        self._proposals = PutProposals(desk)
        self._put: Sequence[PutProposal] = [
            one
            for one in self._proposals.all.values()
            if one.seat == self._seat and self._is_known(one)
        ]

    def authorisation(self) -> AuditSection:
        """Every signature, the newest first, with what the person said to its proposal."""
        if not self._signed:
            return AuditSection("authorisation", "Authorisation", (NOTHING_SIGNED,))
        rows = [(*_decision_row(one), self._said_to(one)) for one in self._signed]
        told = f"{counted(len(rows), 'signature')}, the newest first."
        own = "One or more were signed by the person for their own seat."
        sentences = (told, own) if any(one.is_own for one in self._signed) else (told,)
        return AuditSection("authorisation", "Authorisation", sentences, table_of(_SIGNED, rows))

    def _said_to(self, decision: DecisionView) -> str:
        """What the person said to the proposals that were answered by a decision."""
        return " ".join(
            _reply_words(reply)
            for put in self._put
            if self._answer_to(put) is decision
            for reply in self._replies_to(put)
        )

    def _answer_to(self, put: PutProposal) -> DecisionView | None:
        """The first decision that was signed after a proposal; None while there is none."""
        later = [one for one in self._signed if one.entry_no > put.entry_no]
        return min(later, key=lambda one: one.entry_no, default=None)

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
        """What was put before the person, what they said to it, and what was signed then."""
        rows = [row for one in self._put for row in self._rows_of(one)]
        columns = (
            AuditColumn("put before them", "proposal put at (brewery's time)", 29),
            AuditColumn("proposed", "state proposed", 22),
            AuditColumn("until", "until", 20),
            AuditColumn("replied", "replied at (brewery's time)", 29),
            AuditColumn("reply", "reply", 28),
            AuditColumn("words", "words", 38),
            AuditColumn("decision", "history entry of the decision that answered it", 12),
        )
        sentences = () if rows else (NO_REPLIES,)
        table = AuditTable(columns, tuple(rows))
        return AuditSection("replies", "Proposals and what the person said", sentences, table)

    def _rows_of(self, put: PutProposal) -> list[tuple[Cell, ...]]:
        about = (self._local(put.recorded_at), STATE_WORDS[put.state], put.until_on)
        answer = self._answer_to(put)
        entry = answer.entry_no if answer else None
        said = [
            (*about, reply.replied_at, _REPLIES.get(reply.kind, reply.kind), reply.words, entry)
            for reply in self._replies_to(put)
        ]
        return said or [(*about, None, "none yet", "", entry)]

    def _replies_to(self, put: PutProposal) -> list[ReplyView]:
        return [one for one in self._proposals.replies(put) if self._was_said(one.replied_at)]

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
        STATE_WORDS[one.state],
        one.from_on,
        one.until_on,
        one.signer,
        STATE_WORDS.get(one.proposed, "nothing"),
        one.reason,
    )


def _reply_words(reply: ReplyView) -> str:
    words = f": “{reply.words}”" if reply.words else ""
    day = plain_day(reply.replied_at.date())
    return sentence_start(f"{_REPLIES.get(reply.kind, reply.kind)}, {day}{words}.")


_SIGNED: Final = (
    AuditColumn("entry", "history entry", 12),
    AuditColumn("signed", "signed at (brewery's time)", 23),
    AuditColumn("state", "state", 19),
    AuditColumn("from", "from", 19),
    AuditColumn("until", "until", 19),
    AuditColumn("signed by", "signed by", 23),
    AuditColumn("proposed", "proposed by the rules", 19),
    AuditColumn("reason", "reason", 32),
    AuditColumn("said by the person", "said by the person to the proposal", 34, may_lack=True),
)
