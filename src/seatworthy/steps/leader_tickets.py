"""What a browser keeps once a passphrase was typed in it: a signed ticket of twelve hours.

Whether it is the leader's or a brewer's is told by the key that signed it, so nobody can turn one
into the other.
"""

import hashlib
import hmac
import re
import secrets
import threading
from collections import OrderedDict
from typing import Final

from seatworthy.steps.brewer_passphrase import brewers_key
from seatworthy.steps.desk import Desk
from seatworthy.steps.passphrase import signing_key
from seatworthy.steps.roles import BREWER, LEADER, Role

TICKET_COOKIE: Final = "seatworthy_leader"
LASTS_S: Final = 12 * 60 * 60
_REMEMBERED: Final = 2_000
_FORM = re.compile(r"([0-9]{1,12})\.([0-9a-f]{32})\.([0-9a-f]{64})")

# Tickets given back before their time; a restart forgets them.
_given_back: OrderedDict[bytes, None] = OrderedDict()
_noting = threading.Lock()


def new_ticket(desk: Desk, now: float, role: Role = LEADER) -> str:
    """A ticket for a browser in which a passphrase was typed.

    Args:
        desk: The open store.
        now: Seconds since 1970.
        role: Whose passphrase it was.

    Raises:
        ValueError: if no passphrase is set.
    """
    key = _key(desk, role)
    if key is None:
        message = "a ticket without a passphrase"
        raise ValueError(message)
    body = f"{int(now)}.{secrets.token_hex(16)}"
    return f"{body}.{_signature(key, body)}"


def is_ticket(desk: Desk, ticket: str, now: float) -> bool:
    """Whether a ticket is the leader's: ours, from the passphrase in force, in time, not given back."""
    return role_of(desk, ticket, now) == LEADER


def role_of(desk: Desk, ticket: str, now: float) -> Role | None:
    """Whose a ticket is; None where it opens nothing.

    Args:
        desk: The open store.
        ticket: What the browser keeps.
        now: Seconds since 1970.
    """
    found = _FORM.fullmatch(ticket)
    if found is None or not 0 <= now - int(found[1]) <= LASTS_S or _note(ticket) in _given_back:
        return None
    body = ticket.rpartition(".")[0]
    for role in (LEADER, BREWER):
        key = _key(desk, role)
        if key is not None and hmac.compare_digest(_signature(key, body), found[3]):
            return role
    return None


def _key(desk: Desk, role: Role) -> bytes | None:
    return signing_key(desk) if role == LEADER else brewers_key(desk)


def give_back(ticket: str) -> None:
    """Let a ticket open nothing any more."""
    with _noting:
        _given_back[_note(ticket)] = None
        while len(_given_back) > _REMEMBERED:
            _given_back.popitem(last=False)


def _signature(key: bytes, body: str) -> str:
    return hmac.new(key, body.encode("ascii"), hashlib.sha256).hexdigest()


def _note(ticket: str) -> bytes:
    return hashlib.sha256(ticket.encode("utf-8", "surrogatepass")).digest()
