"""Proposals that were put before the persons concerned, with what these said to them."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Final

from seatworthy.rules.rulebook import Rulebook
from seatworthy.steps.decision_views import PutForward, ReplyView
from seatworthy.steps.desk import Desk
from seatworthy.steps.seats import Seat
from seatworthy.steps.standings import StandingsOfDay

SEEN: Final = "seen"
REMARK: Final = "remark"
RECHECK: Final = "recheck"
TAKEN_BACK: Final = "withdrawn"


@dataclass(frozen=True, slots=True)
class PutProposal:
    """One proposal as it is on record.

    Attributes:
        is_decided: Whether anything was signed about its seat since.
        recorded_at: When it was put before the person, UTC.
    """

    proposal_id: str
    person_id: str
    family: str
    state: str
    as_of_on: date
    until_on: date | None
    rulebook_digest: str
    model_version: str
    facts_digest: str
    entry_no: int
    recorded_at: datetime
    is_decided: bool

    @property
    def seat(self) -> Seat:
        """Person and beer family."""
        return self.person_id, self.family


class PutProposals:
    """Every proposal on record, and the replies to them.

    Args:
        desk: The open store.
    """

    def __init__(self, desk: Desk) -> None:
        self._zone = desk.time_zone
        self.all = {row["proposal_id"]: PutProposal(**row) for row in desk.store.rows("proposals")}
        self._replies: dict[str, list[ReplyView]] = defaultdict(list)
        for row in desk.store.rows("proposal_replies"):
            reply = ReplyView(row["kind"], row["words"] or "", self._local(row["recorded_at"]))
            self._replies[row["proposal_id"]].append(reply)

    def open(self) -> Mapping[Seat, PutProposal]:
        """The latest proposal about each seat that nothing was signed of since."""
        return {put.seat: put for put in self.all.values() if not put.is_decided}

    def replies(self, put: PutProposal) -> tuple[ReplyView, ...]:
        """What was said to one, in the order of recording."""
        return tuple(self._replies[put.proposal_id])

    def recheck_open(self, seat: Seat, standings: StandingsOfDay) -> bool:
        """Whether a recheck was asked for and too few glasses were poured since.

        A proposal that is put forward again takes no wish for a recheck away.
        """
        undecided = [put for put in self.all.values() if put.seat == seat and not put.is_decided]
        replies = [reply for put in undecided for reply in self.replies(put)]
        replies.sort(key=lambda reply: reply.replied_at)
        return is_recheck_open(replies, seat, standings)

    def view(
        self, put: PutProposal, standings: StandingsOfDay, grounds: tuple[str, str, str]
    ) -> PutForward:
        """One proposal as it is shown.

        Args:
            put: The proposal.
            standings: How seats stand.
            grounds: Digests of today's facts and rulebook, and the model's version.
        """
        replies = self.replies(put)
        return PutForward(
            proposal_id=put.proposal_id,
            put_at=self._local(put.recorded_at),
            state=put.state,
            until_on=put.until_on,
            replies=replies,
            is_seen=bool(replies),
            recheck_open=self.recheck_open(put.seat, standings),
            facts_changed=grounds != (put.facts_digest, put.rulebook_digest, put.model_version),
        )

    def _local(self, moment: datetime) -> datetime:
        return moment.replace(tzinfo=UTC).astimezone(self._zone).replace(tzinfo=None)


def is_recheck_open(replies: Sequence[ReplyView], seat: Seat, standings: StandingsOfDay) -> bool:
    """Whether the last word on a recheck asks for one, and its glasses are not poured yet."""
    asked = [reply for reply in replies if reply.kind in (RECHECK, TAKEN_BACK)]
    if not asked or asked[-1].kind == TAKEN_BACK:
        return False
    poured = standings.glass_days.get(seat, {})
    after = asked[-1].replied_at.date()
    glasses = sum(count for day, (count, _) in poured.items() if day > after)
    return glasses < glasses_of_recheck(standings.book)


def glasses_of_recheck(book: Rulebook) -> int:
    """How many counted glasses a recheck takes: the rulebook's number, or one."""
    return book.recheck.glasses if book.recheck else 1
