"""Asks in the terminal for the passphrase of the leader's pages."""

import sys
from getpass import getpass

from seatworthy.errors import PanelError, StoreError
from seatworthy.network.settings import lan_command
from seatworthy.steps.desk import Desk
from seatworthy.steps.passphrase import SHORTEST, check_length, has_passphrase, set_passphrase

_TRIES = 5
_WHAT_IT_IS = (
    "On a network the leader's pages ask for a passphrase; ballots don't. Choose one of at least "
    f"{SHORTEST} characters. It is kept as a digest only, so write it down if you must."
)


def settle_passphrase(desk: Desk, *, new: bool) -> None:
    """See to it that a passphrase is set, and ask for one if there is none.

    Args:
        desk: The open store.
        new: Whether to set another even if there is one.

    Raises:
        StoreError: if none is set and nobody can be asked.
        PanelError: if what is piped in will not do.
    """
    had_one = has_passphrase(desk)
    if had_one and not new:
        print("The leader's pages ask for the passphrase that was set before (--new-passphrase).")
        return
    if sys.stdin is None or not sys.stdin.isatty():
        set_passphrase(desk, _piped())
    else:
        print(_WHAT_IT_IS)
        _ask_until_set(desk)
    signed_out = " Every browser that was signed in is signed out." if had_one else ""
    print(f"The passphrase is set.{signed_out}")


def _piped() -> str:
    line = sys.stdin.readline() if sys.stdin is not None else ""
    if not line.strip():
        message = (
            "A passphrase must be set and nobody can be asked. Run this in a terminal, or give it in "
            f"one line: {lan_command()} < passphrase.txt"
        )
        raise StoreError(message)
    return line.rstrip("\r\n")


def _ask_until_set(desk: Desk) -> None:
    for _ in range(_TRIES):
        first = getpass("Passphrase: ")
        try:
            check_length(first)
        except PanelError as error:
            print(error)
            continue
        if first.strip() == getpass("The same again: ").strip():
            set_passphrase(desk, first)
            return
        print("The two differ. Once more.")
    message = f"No passphrase was set in {_TRIES} tries. Nothing was opened."
    raise StoreError(message)
