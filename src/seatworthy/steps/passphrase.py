"""The passphrase of the leader's pages on a network, kept as a scrypt digest outside the history."""

import hashlib
import hmac
import secrets
import unicodedata
from datetime import UTC, datetime
from typing import Final
from weakref import WeakKeyDictionary

from seatworthy.errors import PanelError
from seatworthy.steps.desk import Desk
from seatworthy.store.file import Store

SHORTEST: Final = 10  # characters
LONGEST: Final = 200
SALT_BYTES: Final = 16
_MEMORY_BYTES: Final = 64 * 2**20  # scrypt takes 32 MiB with the numbers below, and a little more

# Asked at every request, so kept; whoever sets another passphrase forgets it.
_keys: WeakKeyDictionary[Store, bytes] = WeakKeyDictionary()


def set_passphrase(desk: Desk, passphrase: str) -> None:
    """Set the passphrase; every browser that is signed in is signed out.

    Raises:
        PanelError: if it is too short or too long, or opens the brewers' pages.
    """
    check_length(passphrase)
    typed = folded(passphrase)
    _refuse_brewers(desk, passphrase)
    salt = secrets.token_bytes(SALT_BYTES)
    now = datetime.now(UTC).replace(tzinfo=None)
    # No fact and no act of recording: one statement beside the history, whole or not at all.
    with desk.store.reading() as cursor:
        cursor.execute(
            "insert into leader_passphrase (passphrase_salt, passphrase_digest, set_at) "
            "select ?, ?, greatest(?::timestamp, max(set_at) + interval 1 microsecond) "
            "from leader_passphrase",
            [salt.hex(), scrypt_digest(typed, salt), now],
        )
    _keys.pop(desk.store, None)


def check_length(passphrase: str) -> None:
    """Refuse what is too short or too long to be a passphrase.

    Raises:
        PanelError: if it is.
    """
    length = len(folded(passphrase))
    if not SHORTEST <= length <= LONGEST:
        message = (
            f"A passphrase has at least {SHORTEST} characters and at most {LONGEST}; "
            f"this one has {length}. A few words are easy to keep in mind. Nothing was set."
        )
        raise PanelError(message)


def has_passphrase(desk: Desk) -> bool:
    """Whether one was ever set."""
    return bool(desk.store.rows("leader_passphrase"))


def check_passphrase(desk: Desk, passphrase: str) -> bool:
    """Whether this is the passphrase; takes about a tenth of a second and 32 MiB on purpose."""
    kept = desk.store.rows("leader_passphrase")
    return bool(kept) and is_digest_of(passphrase, **kept[0])


def is_digest_of(passphrase: str, passphrase_salt: str, passphrase_digest: str) -> bool:
    """Whether a kept digest, in force, is that of a passphrase; salt and digest in hex."""
    typed = folded(passphrase)
    if not SHORTEST <= len(typed) <= LONGEST:
        return False
    found = scrypt_digest(typed, bytes.fromhex(passphrase_salt))
    return hmac.compare_digest(found, passphrase_digest)


def signing_key(desk: Desk) -> bytes | None:
    """What signed-in browsers' tickets are signed with; None while no passphrase is set.

    It follows from the stored digest: it outlasts a restart, and another passphrase ends it.
    """
    if desk.store not in _keys:
        kept = desk.store.rows("leader_passphrase")
        if not kept:
            return None
        digest = bytes.fromhex(kept[0]["passphrase_digest"])
        _keys[desk.store] = hmac.digest(digest, b"ticket of the leader's pages", "sha256")
    return _keys[desk.store]


def _refuse_brewers(desk: Desk, passphrase: str) -> None:
    kept = desk.store.rows("brewer_passphrase")
    if kept and kept[0]["passphrase_digest"] and is_digest_of(passphrase, **kept[0]):
        message = "That is the brewers' passphrase; the leader's must be another. Nothing was set."
        raise PanelError(message)


def folded(passphrase: str) -> str:
    """The same text however a keyboard puts its accents together."""
    return unicodedata.normalize("NFC", passphrase.strip())


def scrypt_digest(passphrase: str, salt: bytes) -> str:
    """Digest of a folded passphrase, in hex; costly on purpose."""
    typed = passphrase.encode("utf-8", "surrogatepass")
    return hashlib.scrypt(typed, salt=salt, n=2**15, r=8, p=1, maxmem=_MEMORY_BYTES).hex()
