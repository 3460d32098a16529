"""Whose answers are in while a session is tasted: one read, and not a word of what was said."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby
from typing import Any, Final

from seatworthy.steps import ballot_presence
from seatworthy.steps.desk import Desk
from seatworthy.steps.live_views import LiveGlass, LiveSeat, LiveSitting, LiveView
from seatworthy.steps.release_answers import talk_waits
from seatworthy.steps.sentences import joined, number_word
from seatworthy.steps.session_facts import session_facts

_NAMED: Final = 3  # more people than this are counted

_Row = Mapping[str, Any]  # one row of the query live_glasses


def live_table(desk: Desk, session_id: str) -> LiveView | None:
    """A session as it is tasted; None if there is none of this id, or nobody has a glass."""
    rows = desk.store.rows("live_glasses", session_id=session_id)
    if not rows:
        return None
    sittings = tuple(_sitting(desk, own) for own in _by(rows, "sitting_id"))
    seats = [seat for sitting in sittings for seat in sitting.seats]
    answered = sum(seat.answered for seat in seats)
    facts = session_facts(desk, session_id)
    return LiveView(
        session_id=session_id,
        is_open=bool(rows[0]["is_open"]),
        has_phones=any(row["has_link"] or row["is_by_phone"] for row in rows),
        answer=answers_in(answered, sum(seat.expected for seat in seats)),
        catch=_catch(seats, sittings, waits_for_talk=facts is not None and talk_waits(facts)),
        sittings=sittings,
    )


def _by(rows: Iterable[_Row], column: str) -> Iterator[list[_Row]]:
    """Rows that follow each other and share what stands in a column."""
    return (list(some) for _, some in groupby(rows, lambda row: row[column]))


def _sitting(desk: Desk, rows: Sequence[_Row]) -> LiveSitting:
    first = rows[0]
    seats = tuple(_seat(desk, own) for own in _by(rows, "person_id"))
    return LiveSitting(first["sitting_id"], first["sitting"], first["is_over"], seats)


def _seat(desk: Desk, rows: Sequence[_Row]) -> LiveSeat:
    first = rows[0]
    seat = (first["sitting_id"], first["person_id"])
    return LiveSeat(
        *seat,
        name=first["name"],
        state=first["state"],
        glasses=tuple(_glass(row) for row in rows),
        has_link=first["has_link"],
        is_opened=ballot_presence.opened(desk, *seat) or any(row["is_by_phone"] for row in rows),
        is_nudged=ballot_presence.is_nudged(desk, *seat),
    )


def _glass(row: _Row) -> LiveGlass:
    codes = tuple(code for code in row["codes"] if code)
    return LiveGlass(codes, _state(row), row["is_by_phone"])


def _state(row: _Row) -> str:
    if row["is_answered"]:
        return "answered"
    if row["event"] == "spilled":
        return "spilled"
    return "gone" if row["state"] in ("left", "absent") else "waiting"


def answers_in(answered: int, expected: int) -> str:
    """How many answers are in, of those that are awaited or in; without a full stop."""
    if answered < expected:
        return f"{answered} of {expected} answers are in"
    return f"All {expected} answers are in" if expected > 1 else "No answer is awaited"


def _catch(
    seats: Sequence[LiveSeat], sittings: Sequence[LiveSitting], *, waits_for_talk: bool
) -> str:
    """Of whom answers are awaited: first who has given none and not even looked, then everybody."""
    missing = [seat for seat in seats if seat.waiting]
    if not missing and waits_for_talk:
        return "open the talk."
    if not missing:
        is_over = all(sitting.is_over for sitting in sittings)
        return "close and reveal." if is_over else "say that the last sitting is over."
    unopened = [
        seat for seat in missing if seat.has_link and not seat.is_opened and not seat.is_on_paper
    ]
    if unopened:
        return f"{_who(unopened, seats)} {_have(unopened)} not opened theirs."
    glasses = "a glass" if sum(seat.waiting for seat in missing) == 1 else "glasses"
    return f"{_who(missing, seats)} {_have(missing)} {glasses} to go."


def _who(some: Sequence[LiveSeat], everybody: Sequence[LiveSeat]) -> str:
    """Who is meant, by first names where these tell people apart; more than a few are counted."""
    people = dict.fromkeys(seat.name for seat in some)
    if len(people) > _NAMED:
        return number_word(len(people))
    firsts = [name.split()[0] for name in dict.fromkeys(seat.name for seat in everybody)]
    return joined(
        [name.split()[0] if firsts.count(name.split()[0]) == 1 else name for name in people]
    )


def _have(some: Sequence[LiveSeat]) -> str:
    return "has" if len({seat.name for seat in some}) == 1 else "have"
