"""A link's seat: whose ballot it opens, what stands on it, and whether anything may be said there.

Everything a phone is told is read here, and nothing here reads what was poured.
"""

from dataclasses import dataclass
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

from seatworthy.steps.ballot_links import digest_of
from seatworthy.steps.ballot_presence import is_nudged
from seatworthy.steps.ballot_views import (
    AWAY,
    CALLED_OFF,
    EARLY,
    HANDED_IN,
    OPEN,
    REVEALED,
    BallotGlass,
    BallotView,
    OwnAnswer,
)
from seatworthy.steps.desk import Desk
from seatworthy.steps.names_offered import names_offered


@dataclass(frozen=True)
class BallotSeat:
    """A link that holds, and the seat it opens; as the query ballot_seat says (UTC, without a zone)."""

    link_digest: str
    sitting_id: str
    person_id: str
    expires_at: datetime
    session_id: str
    session_on: date
    spits: bool
    alcohol_limit_g: Decimal
    name: str
    language: str
    starts_at: datetime | None
    is_over: bool
    how: str | None
    state: str
    own_word: bool
    is_panellist: bool
    last_at: datetime


def ballot_seat(desk: Desk, secret: str) -> BallotSeat | None:
    """The seat a link opens; None alike for one that was never made, was replaced, or has run out.

    A clock that was set back revives no link: the latest moment on record counts as now.
    """
    rows = desk.store.rows("ballot_seat", link_digest=digest_of(secret))
    if not rows:
        return None
    seat = BallotSeat(**rows[0])
    now = max(datetime.now(UTC).replace(tzinfo=None), seat.last_at)
    return seat if now <= seat.expires_at else None


def seat_state(desk: Desk, seat: BallotSeat) -> str:
    """What may be done at a seat, as in `BallotView.state`."""
    if seat.how is not None:
        return REVEALED if seat.how == "closed" else CALLED_OFF
    if seat.state in ("absent", "left") or not seat.is_panellist:
        return AWAY
    if seat.is_over:
        return HANDED_IN
    return EARLY if seat.session_on > desk.today() else OPEN


def ballot_glasses(desk: Desk, seat: BallotSeat) -> tuple[BallotGlass, ...]:
    """The glasses and sets of a seat, in the order of serving."""
    rows = desk.store.rows("ballot_glasses", sitting_id=seat.sitting_id, person_id=seat.person_id)
    return tuple(_glass(place, row) for place, row in enumerate(rows, start=1))


def ballot_view(desk: Desk, seat: BallotSeat) -> BallotView:
    """What a seat's ballot shows."""
    glasses = ballot_glasses(desk, seat)
    is_named = any(glass.method == "naming" for glass in glasses)
    starts_at = seat.starts_at
    if starts_at is not None:
        local = starts_at.replace(tzinfo=UTC).astimezone(desk.time_zone)
        starts_at = local.replace(tzinfo=None)
    return BallotView(
        name=seat.name,
        language=seat.language,
        state=seat_state(desk, seat),
        session_on=seat.session_on,
        starts_at=starts_at,
        glasses=glasses,
        names=names_offered(desk) if is_named else (),
        spits=seat.spits,
        alcohol_limit_g=seat.alcohol_limit_g,
        is_own_word=seat.own_word and seat.is_panellist and not seat.is_over,
        is_nudged=is_nudged(desk, seat.sitting_id, seat.person_id),
        expires_on=desk.day_of(seat.expires_at),
    )


def _glass(place: int, row: dict[str, Any]) -> BallotGlass:
    answer = _own_answer(row)
    is_gone = answer is None and row["event"] == "spilled"
    return BallotGlass(
        serving_id=row["serving_id"],
        place=place,
        codes=tuple(code for code in row["codes"] if code),
        method=row["method"],
        asked=row["asked"] or "",
        state="spilled" if is_gone else "answered" if answer else "waiting",
        answer=answer,
        answers=row["answers"],
    )


def _own_answer(row: dict[str, Any]) -> OwnAnswer | None:
    """What is on record, as its own words say it; whether it was right is not among them."""
    kind, sureness = row["kind"], row["sureness"] or ""
    if kind is None:
        return None
    if row["is_set"]:
        return OwnAnswer("picked", picked=row["picked"] or "", sureness=sureness)
    return OwnAnswer(kind, words=row["words"] or "", rating=row["rating"], sureness=sureness)
