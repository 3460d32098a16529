"""A command handed to the process that holds the store, and what comes back."""

import secrets
import socket
import sys
from collections.abc import Sequence
from getpass import getpass
from pathlib import Path
from typing import Final

from seatworthy.commands import wire
from seatworthy.commands.note import Note, own_version, read_note
from seatworthy.commands.within import OUT
from seatworthy.errors import StoreError

_OWN_ADDRESS: Final = "127.0.0.1"
_CALL_S: Final = 5.0
DONE_S: Final = 1_800.0  # the longest command, and the one before it
_NONCE_BYTES: Final = 32
_CUT_OFF = (
    "Where the store is open ({address}, process {process}) the command was cut off before it "
    "answered. Whether “{command}” was done can't be told from here, but nothing is ever half recorded: "
    "open the store again if need be, and look with: seatworthy history."
)
_TOO_LONG = (
    "Where the store is open ({address}) “{command}” has not answered for {minutes} minutes. It may "
    "still be done: look with seatworthy history before you say it again."
)
_NOT_WAITED = (
    "Not waited for any longer; where the store is open ({address}) “{command}” goes on. What it did "
    "shows: seatworthy history."
)


def owner_of(store: Path) -> Note | None:
    """The note of the process on this machine that holds a store and answers; None if none does."""
    note = read_note(store)
    if note is None or not note.is_of_this_machine:
        return None
    try:
        with _called(note) as line:
            wire.send(line, _asked(store, []))
            answer = wire.receive(line, wire.HELLO_BYTES, _CALL_S)
    except (wire.WireError, TimeoutError):
        return None
    return note if answer.get("is_here") is True else None


def done_by_owner(note: Note, store: Path, words: Sequence[str]) -> int:
    """Have a command done where the store is open; print what it prints, and return its exit code.

    Args:
        note: Of the process that holds the store.
        store: The store.
        words: The command, as it was typed.

    Raises:
        StoreError: if it can't be known whether it was done.
    """
    told = {"address": note.address, "process": note.process, "command": words[0]}
    try:
        with _called(note) as line:
            wire.send(line, _asked(store, words))
            return _heard_out(line)
    except KeyboardInterrupt:
        print(_NOT_WAITED.format(**told), file=sys.stderr)
        raise
    except TimeoutError as error:
        message = _TOO_LONG.format(minutes=f"{DONE_S / 60:.0f}", **told)
        raise StoreError(message) from error
    except wire.WireError as error:
        raise StoreError(_CUT_OFF.format(**told)) from error


def _called(note: Note) -> socket.socket:
    """A line to who shows that they know the note's secret, and to whom we have shown it.

    Raises:
        WireError: if it is somebody else.
    """
    try:
        line = socket.create_connection((_OWN_ADDRESS, note.port), timeout=_CALL_S)
    except (OSError, OverflowError) as error:
        raise wire.WireError from error
    try:
        call = secrets.token_hex(_NONCE_BYTES)
        wire.send(line, {"call": call})
        heard = wire.receive(line, wire.HELLO_BYTES, _CALL_S)
        answer, said = wire.text_of(heard, "answer"), wire.text_of(heard, "proof")
        if not wire.is_proof(said, note.secret, "owner", call, answer):
            raise wire.WireError
        wire.send(line, {"proof": wire.proof(note.secret, "caller", call, answer)})
    except BaseException as error:
        line.close()
        if isinstance(error, TimeoutError):
            raise wire.WireError from error
        raise
    return line


def _asked(store: Path, words: Sequence[str]) -> wire.Words:
    return {
        "store": str(store.resolve()),
        "words": list(words),
        "folder": str(Path.cwd()),
        "version": own_version(),
    }


def _heard_out(line: socket.socket) -> int:
    """Print what comes until the command is done; what it asks is asked here."""
    while True:
        heard = wire.receive(line, wire.ANSWERED_BYTES, DONE_S)
        if "refused" in heard:
            raise StoreError(wire.text_of(heard, "refused"))
        for stream, text in heard.get("printed") or []:
            _print(stream, text)
        if "asks" in heard:
            wire.send(line, {"said": getpass(wire.text_of(heard, "asks"))})
        elif isinstance(heard.get("code"), int):
            return heard["code"]
        else:
            raise wire.WireError


def _print(stream: str, text: str) -> None:
    to = sys.stdout if stream == OUT else sys.stderr
    to.write(text)
    to.flush()
