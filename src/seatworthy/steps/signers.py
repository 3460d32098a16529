"""Who may sign decisions: each with a PIN of their own, kept as a scrypt digest."""

import hashlib
import hmac
import re
import secrets
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final
from weakref import WeakKeyDictionary

from seatworthy.errors import PanelError
from seatworthy.steps.decision_views import SignerView
from seatworthy.steps.desk import Desk
from seatworthy.steps.people import known_spellings
from seatworthy.steps.sentences import joined
from seatworthy.steps.signing import sign
from seatworthy.store.file import Store
from seatworthy.store.recording import Recording

SHORTEST_PIN: Final = 4
LONGEST_PIN: Final = 12
WRONG_ALLOWED: Final = 5  # wrong PINs before the first wait
FIRST_WAIT_S: Final = 30.0
LONGEST_WAIT_S: Final = 15 * 60.0
_NOTHING = "Nothing was recorded."


@dataclass
class _Failures:
    """Wrong PINs of one person since the last right one, and until when no further one is read."""

    count: int = 0
    refused_until: float = 0.0


_failures: WeakKeyDictionary[Store, dict[str, _Failures]] = WeakKeyDictionary()
_checking = threading.RLock()  # pages ask from several threads
_FORM = re.compile(rf"[0-9A-Za-z]{{{SHORTEST_PIN},{LONGEST_PIN}}}")


def signers(desk: Desk) -> tuple[SignerView, ...]:
    """Everybody who may sign, by name."""
    found = {row["person_id"]: row["spelling"] for row in desk.store.rows("signers")}
    return tuple(SignerView(person_id, name) for person_id, name in found.items())


def appoint_signer(
    desk: Desk, person_id: str, pin: str, by: str | None = None, by_pin: str | None = None
) -> str:
    """Let somebody sign decisions, or give a signer who forgot theirs a new PIN.

    Args:
        desk: The open store.
        person_id: Who may sign from now on.
        pin: Their PIN: 4 to 12 digits or letters.
        by: The signer who appoints; the first signer needs nobody.
        by_pin: The PIN of whoever appoints.

    Raises:
        PanelError: if the PIN will not do, nobody on record has this id, or nobody who may sign
            stands behind it.
    """
    _check_form(pin)
    name = _name_of(desk, person_id)
    with desk.store.recording("signer") as act:
        if signers(desk):
            _check_appointer(desk, by, by_pin)
        act.add("signer", {"person_id": person_id, "is_signer": True})
        _keep_pin(act, person_id, pin)
        sign(act, by)
    _forget_failures(desk, person_id)
    return f"{name} may sign decisions."


def dismiss_signer(desk: Desk, person_id: str, by: str, by_pin: str) -> str:
    """State that somebody may not sign any more; what they signed stays.

    Raises:
        PanelError: if they may not sign, are the last who may, or the PIN is wrong.
    """
    name = _name_of(desk, person_id)
    with desk.store.recording("signer") as act:
        check_pin(desk, by, by_pin)
        stated = [row for row in desk.store.rows("signers") if row["person_id"] == person_id]
        if not stated:
            message = f"{name} is not among those who may sign. {_NOTHING}"
            raise PanelError(message)
        if len(signers(desk)) == 1:
            message = (
                f"{name} is the only one who may sign. Appoint somebody else first. {_NOTHING}"
            )
            raise PanelError(message)
        for row in stated:
            act.add("signer", {"person_id": row["stated_id"], "is_signer": False})
        sign(act, by)
    return f"{name} may not sign any more."


def change_pin(desk: Desk, person_id: str, pin: str, new_pin: str) -> str:
    """Change one's own PIN.

    Raises:
        PanelError: if the present one is wrong, or the new one will not do.
    """
    _check_form(new_pin)
    with desk.store.recording("signer") as act:
        check_pin(desk, person_id, pin)
        # The digest stays outside the history; the entry says who set a new one.
        act.add("signer", {"person_id": person_id, "is_signer": True})
        _keep_pin(act, person_id, new_pin)
        sign(act, person_id)
    return "The PIN is changed."


def renew_pin(desk: Desk, person_id: str, new_pin: str) -> str:
    """Give a signer who forgot theirs a new PIN, by whoever holds the store's file.

    The history shows it as an act without an author.

    Raises:
        PanelError: if the person may not sign, or the PIN will not do.
    """
    _check_form(new_pin)
    name = _name_of(desk, person_id)
    with desk.store.recording("signer") as act:
        if person_id not in {one.person_id for one in signers(desk)}:
            message = f"{name} is not among those who may sign. {_NOTHING}"
            raise PanelError(message)
        act.add("signer", {"person_id": person_id, "is_signer": True})
        _keep_pin(act, person_id, new_pin)
    _forget_failures(desk, person_id)
    return f"{name} has a new PIN. The history says that nobody signed for it."


def check_pin(
    desk: Desk, person_id: str, pin: str, clock: Callable[[], float] = time.monotonic
) -> None:
    """Refuse anything but the PIN of somebody who may sign.

    After five wrong ones in a row a person's PIN is not read for 30 seconds, and after each further
    wrong one twice as long, up to 15 minutes.

    Args:
        desk: The open store.
        person_id: Who signs.
        pin: As typed.
        clock: Seconds that only grow.

    Raises:
        PanelError: if the person may not sign, the PIN is wrong, or it is too early to try again.
    """
    with _checking:
        failed = _failures.setdefault(desk.store, {}).setdefault(person_id, _Failures())
        _refuse_while_waiting(failed, clock())
        if not any(signer.person_id == person_id for signer in signers(desk)):
            message = f"{_name_of(desk, person_id)} is not among those who may sign. {_NOTHING}"
            raise PanelError(message)
        if not _is_right(desk, person_id, pin):
            _count_failure(failed, clock())
            message = f"This is not the PIN of {_name_of(desk, person_id)}. {_NOTHING}"
            raise PanelError(message)
        _failures[desk.store].pop(person_id, None)


def _is_right(desk: Desk, person_id: str, pin: str) -> bool:
    if not _FORM.fullmatch(pin):
        return False
    kept = desk.store.rows("signer_pins", person_id=person_id)
    if not kept:
        return False
    found = _digest(pin, bytes.fromhex(kept[0]["pin_salt"]))
    return hmac.compare_digest(found, kept[0]["pin_digest"])


def _keep_pin(act: Recording, person_id: str, pin: str) -> None:
    salt = secrets.token_bytes(16)
    act.cursor.execute(
        "insert into signer_pin (person_id, pin_salt, pin_digest, set_at) values (?, ?, ?, ?)",
        [person_id, salt.hex(), _digest(pin, salt), act.recorded_at],
    )


def _digest(pin: str, salt: bytes) -> str:
    return hashlib.scrypt(pin.encode(), salt=salt, n=2**14, r=8, p=1).hex()


def _check_form(pin: str) -> None:
    if not _FORM.fullmatch(pin):
        message = f"A PIN has {SHORTEST_PIN} to {LONGEST_PIN} digits or letters. {_NOTHING}"
        raise PanelError(message)


def _check_appointer(desk: Desk, by: str | None, by_pin: str | None) -> None:
    if by is None:
        names = joined([signer.name for signer in signers(desk)], "or")
        message = f"Somebody who may sign must appoint the next one: {names}. {_NOTHING}"
        raise PanelError(message)
    check_pin(desk, by, by_pin or "")


def _refuse_while_waiting(failed: _Failures, now: float) -> None:
    if now < failed.refused_until:
        seconds = max(round(failed.refused_until - now), 1)
        wait = "1 second" if seconds == 1 else f"{seconds} seconds"
        message = f"Too many wrong PINs. Try again in {wait}. {_NOTHING}"
        raise PanelError(message)


def _count_failure(failed: _Failures, now: float) -> None:
    failed.count += 1
    if failed.count >= WRONG_ALLOWED:
        doublings = min(failed.count - WRONG_ALLOWED, 10)
        failed.refused_until = now + min(FIRST_WAIT_S * 2**doublings, LONGEST_WAIT_S)


def _forget_failures(desk: Desk, person_id: str) -> None:
    with _checking:
        _failures.get(desk.store, {}).pop(person_id, None)


def _name_of(desk: Desk, person_id: str) -> str:
    """The name somebody goes by.

    Raises:
        PanelError: if nobody on record has this id, or it belongs to a merged spelling.
    """
    for spelling, who in known_spellings(desk).ids.items():
        if who == person_id:
            return spelling
    message = f"Nobody on record has the id {person_id}. {_NOTHING}"
    raise PanelError(message)
