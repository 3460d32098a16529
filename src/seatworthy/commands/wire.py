"""How two processes of one machine that know the same secret speak to each other, in short messages."""

import hmac
import json
import socket
import time
from hashlib import sha256
from typing import Any, Final

Words = dict[str, Any]

HELLO_BYTES: Final = 1_024  # before anybody has shown that they know the secret
ASKED_BYTES: Final = 512 * 1024
ANSWERED_BYTES: Final = 160 * 2**20
_TAKEN_S: Final = 60.0
_HEAD: Final = 4


class WireError(Exception):
    """What came is not what was agreed, or nothing came."""


def send(line: socket.socket, words: Words) -> None:
    """Send one message.

    Raises:
        WireError: if nobody takes it.
    """
    body = json.dumps(words).encode("ascii")
    try:
        line.settimeout(_TAKEN_S)
        line.sendall(len(body).to_bytes(_HEAD, "big") + body)
    except OSError as error:
        raise WireError from error


def receive(line: socket.socket, limit: int, within_s: float) -> Words:
    """Wait for one message.

    Args:
        line: Where it comes from.
        limit: Bytes that it may have.
        within_s: Seconds in which all of it must have come.

    Raises:
        WireError: if none comes, or another one than was agreed.
        TimeoutError: if it doesn't come in time.
    """
    due = time.monotonic() + within_s
    length = int.from_bytes(_taken(line, _HEAD, due), "big")
    if length > limit:
        raise WireError
    try:
        words = json.loads(_taken(line, length, due))
    except (ValueError, RecursionError) as error:
        raise WireError from error
    if not isinstance(words, dict):
        raise WireError
    return words


def text_of(words: Words, name: str) -> str:
    """One of a message's texts.

    Raises:
        WireError: if there is none.
    """
    found = words.get(name)
    if not isinstance(found, str):
        raise WireError
    return found


def proof(secret: str, who: str, call: str, answer: str) -> str:
    """What only who knows the secret can say, once.

    Args:
        secret: Known to both.
        who: Who says it; one side's proof is none for the other.
        call: What the caller drew by lot.
        answer: What the called one drew by lot.
    """
    text = f"{who}\n{call}\n{answer}".encode("utf-8", "surrogatepass")
    return hmac.new(secret.encode("ascii"), text, sha256).hexdigest()


def is_proof(said: str, secret: str, who: str, call: str, answer: str) -> bool:
    """Whether it was said by one who knows the secret; takes as long for a near miss as for any."""
    expected = proof(secret, who, call, answer)
    return hmac.compare_digest(said.encode("utf-8", "surrogatepass"), expected.encode("ascii"))


def _taken(line: socket.socket, length: int, due: float) -> bytes:
    taken = bytearray()
    while len(taken) < length:
        left_s = due - time.monotonic()
        if left_s <= 0:
            raise TimeoutError
        line.settimeout(left_s)
        try:
            part = line.recv(min(length - len(taken), 2**20))
        except TimeoutError:
            raise
        except OSError as error:
            raise WireError from error
        if not part:
            raise WireError
        taken += part
    return bytes(taken)
