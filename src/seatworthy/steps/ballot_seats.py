"""A link's seat: whose ballot it opens, what stands on it, and whether anything may be said there.

Everything a phone is told is read here, and nothing here reads what was poured. A whole table answers
within minutes, so what no answer changes is read once and kept until something else is recorded.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

from seatworthy.sessions.wording import plain
from seatworthy.steps.ballot_links import digest_of
from seatworthy.steps.ballot_memory import glasses_kept, seat_kept
from seatworthy.steps.ballot_presence import is_nudged
from seatworthy.steps.ballot_views import (
    AWAY,
    CALLED_OFF,
    EARLY,
    HANDED_IN,
    OPEN,
    REVEALED,
    TALK,
    BallotGlass,
    BallotView,
    NameOffered,
    OwnAnswer,
)
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import short_label
from seatworthy.steps.names_offered import names_offered


@dataclass(frozen=True)
class BallotSeat:
    """A link that holds, and the seat it opens.

    Attributes:
        expires_at: Last moment of the link, UTC.
        starts_at: By the brewery's clock; None if no time was stated.
        how: How the session ended: "closed", "called_off", or None.
        state: Where the person is: "expected", "late", "left" or "absent".
        own_word: Whether they said so themselves.
        is_release: Whether every glass asks if the beer is as it should be.
        is_talk: Whether the talk of the sitting is open.
        sits_elsewhere: Whether they have glasses at another sitting of the session and are expected there.
        glasses: In the order of serving, none answered.
        names: What may be named; empty if nothing is to be named.
        typed_no: The last entry that typed an answer from paper, when this was read.
    """

    link_digest: str
    sitting_id: str
    person_id: str
    expires_at: datetime
    session_id: str
    session_on: date
    spits: bool
    alcohol_limit_g: Decimal
    has_control: bool
    name: str
    language: str
    starts_at: datetime | None
    is_over: bool
    how: str | None
    state: str
    own_word: bool
    sits_elsewhere: bool
    is_panellist: bool
    expires_on: date
    is_release: bool
    is_talk: bool
    glasses: tuple[BallotGlass, ...]
    names: tuple[NameOffered, ...]
    typed_no: int = 0


def ballot_seat(desk: Desk, secret: str) -> BallotSeat | None:
    """The seat a link opens; None alike for one that was never made, was replaced, or has run out.

    A clock that was set back revives no link: the latest moment on record counts as now.
    """
    digest, stamp = digest_of(secret), desk.store.rows("ballot_stamp")[0]
    now = max(datetime.now(UTC).replace(tzinfo=None), stamp["last_at"])
    seat = seat_kept(desk.store, stamp["facts_no"], digest, lambda: _seat(desk, digest, now))
    if seat is None or now > seat.expires_at:
        return None
    return replace(seat, typed_no=stamp["typed_no"])


def seat_state(desk: Desk, seat: BallotSeat) -> str:
    """What may be done at a seat, as in `BallotView.state`."""
    if seat.how is not None:
        return REVEALED if seat.how == "closed" else CALLED_OFF
    if seat.state in ("absent", "left") or not seat.is_panellist:
        return AWAY
    if seat.is_talk:
        return TALK
    if seat.is_over:
        return HANDED_IN
    return EARLY if seat.session_on > desk.today() else OPEN


def may_take_back(desk: Desk, seat: BallotSeat) -> bool:
    """Whether somebody who said that they don't taste today may still take that back."""
    is_away = seat_state(desk, seat) == AWAY and seat.own_word
    return is_away and seat.is_panellist and not (seat.is_over or seat.sits_elsewhere)


def ballot_glasses(desk: Desk, seat: BallotSeat) -> tuple[BallotGlass, ...]:
    """The glasses and sets of a seat with what was said of them, in the order of serving."""
    return glasses_kept(desk.store, seat.typed_no, seat.link_digest, lambda: _said_of(desk, seat))


def _said_of(desk: Desk, seat: BallotSeat) -> tuple[BallotGlass, ...]:
    servings = [glass.serving_id for glass in seat.glasses]
    said: dict[str, list[dict[str, Any]]] = {serving: [] for serving in servings}
    for row in desk.store.rows("ballot_answers", servings=servings):
        said[row["serving_id"]].append(row)
    before = tuple(_answered(glass, said[glass.serving_id]) for glass in seat.glasses)
    return _after_talk(desk, before) if seat.is_release else before


def _after_talk(desk: Desk, glasses: tuple[BallotGlass, ...]) -> tuple[BallotGlass, ...]:
    """The same glasses with what was said of them after the talk."""
    servings = [glass.serving_id for glass in glasses]
    said: dict[str, list[OwnAnswer]] = {serving: [] for serving in servings}
    for row in desk.store.rows("ballot_talk_answers", servings=servings):
        said[row["serving_id"]].append(OwnAnswer(row["kind"], row["words"] or ""))
    return tuple(
        replace(glass, after=own[-1], afters=len(own)) if (own := said[glass.serving_id]) else glass
        for glass in glasses
    )


def ballot_view(desk: Desk, seat: BallotSeat) -> BallotView:
    """What a seat's ballot shows."""
    return BallotView(
        name=seat.name,
        language=seat.language,
        state=seat_state(desk, seat),
        session_on=seat.session_on,
        starts_at=seat.starts_at,
        glasses=ballot_glasses(desk, seat),
        names=seat.names,
        spits=seat.spits,
        alcohol_limit_g=seat.alcohol_limit_g,
        is_own_word=may_take_back(desk, seat),
        is_nudged=is_nudged(desk, seat.sitting_id, seat.person_id),
        expires_on=seat.expires_on,
        has_control=seat.has_control,
        is_release=seat.is_release,
    )


def _seat(desk: Desk, digest: str, now: datetime) -> BallotSeat | None:
    if not desk.store.rows("ballot_link_held", link_digest=digest, now=now):
        return None
    rows = desk.store.rows("ballot_seat", link_digest=digest)
    if not rows:
        return None
    row = rows[0]
    servings = desk.store.rows(
        "ballot_servings", sitting_id=row["sitting_id"], person_id=row["person_id"]
    )
    glasses = tuple(_glass(place, one) for place, one in enumerate(servings, start=1))
    starts_at = row.pop("starts_at")
    return BallotSeat(
        **row,
        starts_at=_local(desk, starts_at) if starts_at else None,
        expires_on=desk.day_of(row["expires_at"]),
        glasses=glasses,
        names=names_offered(desk) if any(g.method == "naming" for g in glasses) else (),
    )


def _local(desk: Desk, moment: datetime) -> datetime:
    return moment.replace(tzinfo=UTC).astimezone(desk.time_zone).replace(tzinfo=None)


def _glass(place: int, row: dict[str, Any]) -> BallotGlass:
    return BallotGlass(
        serving_id=row["serving_id"],
        place=place,
        codes=tuple(code for code in row["codes"] if code),
        method=row["method"],
        asked=short_label(row["asked"]) if row["asked"] else "",
        state="spilled" if row["event"] == "spilled" else "waiting",
        answer=None,
        answers=0,
        asks_beer=row["asks_beer"],
    )


def _answered(glass: BallotGlass, rows: Sequence[dict[str, Any]]) -> BallotGlass:
    """A glass with what is on record, in its own words; whether it was right is not among them."""
    if not rows:
        return glass
    row = rows[-1]
    sureness = row["sureness"] or ""
    if glass.is_set:
        answer = OwnAnswer("picked", picked=row["picked"] or "", sureness=sureness)
    else:
        rating = None if row["rating"] is None else Decimal(plain(row["rating"]))
        answer = OwnAnswer(row["kind"], row["words"] or "", rating, sureness=sureness)
    return replace(glass, state="answered", answer=answer, answers=len(rows))
