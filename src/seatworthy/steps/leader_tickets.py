"""What a browser keeps once the passphrase was typed in it: a signed ticket of twelve hours."""

import hashlib
import hmac
import re
import secrets
import threading
from collections import OrderedDict
from typing import Final

from seatworthy.steps.desk import Desk
from seatworthy.steps.passphrase import signing_key

TICKET_COOKIE: Final = "seatworthy_leader"
LASTS_S: Final = 12 * 60 * 60
_REMEMBERED: Final = 2_000
_FORM = re.compile(r"([0-9]{1,12})\.([0-9a-f]{32})\.([0-9a-f]{64})")

# Tickets given back before their time; a restart forgets them.
_given_back: OrderedDict[bytes, None] = OrderedDict()
_noting = threading.Lock()


def new_ticket(desk: Desk, now: float) -> str:
    """A ticket for a browser in which the passphrase was typed.

    Args:
        desk: The open store.
        now: Seconds since 1970.

    Raises:
        ValueError: if no passphrase is set.
    """
    key = signing_key(desk)
    if key is None:
        message = "a ticket without a passphrase"
        raise ValueError(message)
    body = f"{int(now)}.{secrets.token_hex(16)}"
    return f"{body}.{_signature(key, body)}"


def is_ticket(desk: Desk, ticket: str, now: float) -> bool:
    """Whether a ticket is ours, from the passphrase in force, not too old, and not given back."""
    key, found = signing_key(desk), _FORM.fullmatch(ticket)
    if key is None or found is None:
        return False
    body = ticket.rpartition(".")[0]
    if not hmac.compare_digest(_signature(key, body), found[3]):
        return False
    return 0 <= now - int(found[1]) <= LASTS_S and _note(ticket) not in _given_back


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
