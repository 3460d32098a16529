"""The links under which people find their ballots: made, handed out, known again by their digest.

A link's secret is 128 random bits. The store keeps its SHA-256 alone; the secret itself is known to this
process as long as it runs, so that the leader can show it again, and to whoever was given it.
"""

import threading
from collections.abc import Iterable
from datetime import UTC, date, datetime, timedelta
from hashlib import sha256
from secrets import token_urlsafe
from typing import Final
from weakref import WeakKeyDictionary

from seatworthy.errors import PanelError
from seatworthy.steps.ballot_languages import USUAL, languages
from seatworthy.steps.ballot_presence import forget_opened, opened
from seatworthy.steps.ballot_views import LinkLine
from seatworthy.steps.desk import Desk
from seatworthy.steps.session_facts import SessionFacts, open_session, session_facts
from seatworthy.steps.sheets import sheet_key
from seatworthy.steps.signing import sign
from seatworthy.store.file import Store

SECRET_BYTES: Final = 16
LINK_DAYS: Final = 14  # after the day of the session, so that everybody can read what came of it

_secrets: WeakKeyDictionary[Store, dict[str, str]] = WeakKeyDictionary()
_keeping = threading.Lock()


def digest_of(secret: str) -> str:
    """The digest under which a link is kept; 64 hexadecimal digits."""
    return sha256(secret.encode("utf-8", "surrogatepass")).hexdigest()


def links(desk: Desk, session_id: str) -> tuple[LinkLine, ...]:
    """Every seat of a session that has glasses, with its link; empty if there is no such session."""
    facts = session_facts(desk, session_id)
    if facts is None or facts.head.purpose is None:
        return ()
    held = {
        (row["sitting_id"], row["person_id"]): row
        for row in desk.store.rows("session_links", session_id=session_id)
    }
    spoken = languages(desk)
    with _keeping:
        known = dict(_secrets.get(desk.store, {}))
    return tuple(
        _line(facts, seat, held.get(seat), known, spoken.get(seat[1], USUAL))
        for seat in _seats(facts)
    )


def hand_out(desk: Desk, session_id: str, *, key: str | None = None, by: str | None = None) -> str:
    """Make links: a new one for a seat, which ends the one before it, or one for every seat without.

    Args:
        desk: The open store.
        session_id: The session.
        key: Of the seat that gets a new link; None for every seat that never had one. One seat may get
            its link while the session is closed too, so that its owner can read what came of it.
        by: Who hands them out.

    Raises:
        PanelError: if the session takes no links any more, or has no such seat.
    """
    made: dict[str, str] = {}
    with desk.store.recording("ballot links") as act:
        facts = _facts_for(desk, session_id, key)
        wanted = _wanted(links(desk, session_id), key)
        given_to = {
            (row["sitting_id"], row["person_id"]): row["given_to"]
            for row in desk.store.rows("session_links", session_id=session_id)
        }
        for line in wanted:
            secret = token_urlsafe(SECRET_BYTES)
            made[digest_of(secret)] = secret
            act.add(
                "ballot_link",
                {
                    "link_digest": digest_of(secret),
                    "sitting_id": line.sitting_id,
                    # Under the earlier link's spelling, so that a split of spellings can't revive it.
                    "person_id": given_to.get((line.sitting_id, line.person_id), line.person_id),
                    "expires_at": _end_of(facts, line.expires_on),
                },
            )
        if wanted:
            sign(act, by)
    with _keeping:
        _secrets.setdefault(desk.store, {}).update(made)
    for line in wanted:
        forget_opened(desk, line.sitting_id, line.person_id)
    if key is not None:
        return _about_one(wanted[0])
    count = "one link" if len(wanted) == 1 else f"{len(wanted)} links"
    return f"Made {count}." if wanted else "Everybody has a link."


def _facts_for(desk: Desk, session_id: str, key: str | None) -> SessionFacts:
    """The session: open, or closed where one seat's link is meant."""
    facts = session_facts(desk, session_id)
    if key is not None and facts is not None and facts.head.how == "closed":
        return facts
    return open_session(desk, session_id)


def _about_one(line: LinkLine) -> str:
    if line.handed_out_at is None:
        return f"{line.name} has a link."
    return f"{line.name} has a new link; the earlier one opens nothing any more."


def _wanted(lines: Iterable[LinkLine], key: str | None) -> list[LinkLine]:
    if key is None:
        return [line for line in lines if line.handed_out_at is None]
    found = [line for line in lines if line.key == key]
    if not found:
        message = "Nobody has glasses at that seat, so there is no ballot to hand out."
        raise PanelError(message)
    return found


def _seats(facts: SessionFacts) -> list[tuple[str, str]]:
    return [
        (sitting.sitting_id, person)
        for sitting in facts.sittings
        for person in facts.people_at(sitting.sitting_id)
        if facts.glasses_of(sitting.sitting_id, person)
    ]


def _line(
    facts: SessionFacts,
    seat: tuple[str, str],
    row: dict[str, object] | None,
    known: dict[str, str],
    language: str,
) -> LinkLine:
    sitting_id, person_id = seat
    labels = {sitting.sitting_id: sitting.label for sitting in facts.sittings}
    expires_at = row and row["expires_at"]
    handed_out_at = row and row["recorded_at"]
    return LinkLine(
        key=sheet_key(*seat),
        sitting_id=sitting_id,
        person_id=person_id,
        name=facts.names[person_id],
        sitting=labels[sitting_id],
        language=language,
        secret=known.get(str(row["link_digest"]), "") if row else "",
        handed_out_at=facts.local(handed_out_at) if isinstance(handed_out_at, datetime) else None,
        expires_on=facts.desk.day_of(expires_at) if isinstance(expires_at, datetime) else None,
        opened=opened(facts.desk, sitting_id, person_id),
    )


def _end_of(facts: SessionFacts, earlier: date | None) -> datetime:
    """Last moment of a link's last day at the brewery, in UTC.

    Args:
        facts: The session.
        earlier: Last day of the link that this one replaces. After the close a new link lasts no longer
            than that, counted from the session's day where there was none, and today at the least.
    """
    desk, on = facts.desk, facts.head.session_on
    days = timedelta(days=LINK_DAYS)
    last = max(on, desk.today()) + days
    if not facts.is_open:
        last = max(earlier or on + days, desk.today())
    midnight = datetime(last.year, last.month, last.day, tzinfo=desk.time_zone) + timedelta(days=1)
    return midnight.astimezone(UTC).replace(tzinfo=None) - timedelta(seconds=1)
