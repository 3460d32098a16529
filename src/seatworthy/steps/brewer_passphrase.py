"""The passphrase that opens the brewers' pages on a network, kept as the leader's is."""

import hmac
import secrets
from datetime import UTC, datetime
from typing import Final
from weakref import WeakKeyDictionary

from seatworthy.errors import PanelError
from seatworthy.steps.desk import Desk
from seatworthy.steps.passphrase import (
    SALT_BYTES,
    check_length,
    check_passphrase,
    folded,
    has_passphrase,
    is_digest_of,
    scrypt_digest,
    signing_key,
)
from seatworthy.store.file import Store

_NO_LEADER: Final = (
    "The leader's pages have no passphrase of their own yet, so one for brewers would guard nothing. "
    "Open Seatworthy with --lan first; it asks for the leader's. Nothing was set."
)
_SAME: Final = (
    "That is the passphrase of the leader's pages; brewers need another one. Nothing was set."
)


# Asked at every request, so kept; whoever sets another one, or takes it away, forgets it.
_in_force: WeakKeyDictionary[Store, tuple[str, str] | None] = WeakKeyDictionary()


def set_brewers_passphrase(desk: Desk, passphrase: str, again: str) -> str:
    """Set it; every brewer's browser that is signed in is signed out.

    Args:
        desk: The open store.
        passphrase: As typed.
        again: Typed once more.

    Raises:
        PanelError: if the two differ, it is too short or too long, is the leader's, or there is none
            of the leader's.
    """
    if folded(passphrase) != folded(again):
        message = "The two passphrases differ; type them again. Nothing was set."
        raise PanelError(message)
    check_length(passphrase)
    if not has_passphrase(desk):
        raise PanelError(_NO_LEADER)
    if check_passphrase(desk, passphrase):
        raise PanelError(_SAME)
    salt = secrets.token_bytes(SALT_BYTES)
    _keep(desk, salt.hex(), scrypt_digest(folded(passphrase), salt))
    return "Set. Tell it to the brewers; whoever was signed in with an older one is signed out."


def take_brewers_passphrase_away(desk: Desk) -> str:
    """Let no brewer in any more, and sign out whoever is."""
    _keep(desk, "", "")
    return "Taken away. No brewer's browser opens any page now."


def has_brewers_passphrase(desk: Desk) -> bool:
    """Whether one is in force."""
    return _kept(desk) is not None


def check_brewers_passphrase(desk: Desk, passphrase: str) -> bool:
    """Whether this is it; as slow as the check of the leader's."""
    kept = _kept(desk)
    return kept is not None and is_digest_of(passphrase, *kept)


def brewers_key(desk: Desk) -> bytes | None:
    """What brewers' tickets are signed with; None while no passphrase is set.

    It follows from both stored digests, so either passphrase, set anew, ends every brewer's ticket.
    """
    kept, leaders = _kept(desk), signing_key(desk)
    if kept is None or leaders is None:
        return None
    return hmac.digest(leaders + bytes.fromhex(kept[1]), b"ticket of a brewer's pages", "sha256")


def _kept(desk: Desk) -> tuple[str, str] | None:
    if desk.store not in _in_force:
        rows = desk.store.rows("brewer_passphrase")
        found = (rows[0]["passphrase_salt"], rows[0]["passphrase_digest"]) if rows else None
        _in_force[desk.store] = found if found and found[1] else None
    return _in_force[desk.store]


def _keep(desk: Desk, salt: str, digest: str) -> None:
    # As for the leader's: no fact and no act of recording, one statement beside the history.
    with desk.store.reading() as cursor:
        cursor.execute(
            "insert into brewer_passphrase (passphrase_salt, passphrase_digest, set_at) "
            "select ?, ?, greatest(?::timestamp, max(set_at) + interval 1 microsecond) "
            "from brewer_passphrase",
            [salt, digest, datetime.now(UTC).replace(tzinfo=None)],
        )
    _in_force.pop(desk.store, None)
