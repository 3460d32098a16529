"""Who did something, and free text with the salted digest that enters the history."""

from hashlib import sha256
from secrets import token_hex

from seatworthy.errors import PanelError
from seatworthy.intake.words import Unreadable, read_text
from seatworthy.store.recording import Recording


def sign(act: Recording, by: str | None) -> None:
    """Record who is behind an act; nothing if nobody said so."""
    if by is not None:
        act.add("author", {"person_id": by})


def salted(name: str, text: str | None) -> dict[str, object]:
    """A free text as the three columns in which it is kept; all empty without a text.

    Args:
        name: Of the column ("reason").
        text: What was written.
    """
    if not text:
        return {name: None, f"{name}_salt": None, f"{name}_digest": None}
    salt = token_hex(8)
    digest = sha256(f"{salt}{text}".encode()).hexdigest()
    return {name: text, f"{name}_salt": salt, f"{name}_digest": digest}


def signed_reason(reason: str, by: str | None) -> str:
    """A reason as it is kept; it never stands without an author.

    Raises:
        PanelError: if nobody signs, or it is empty, too long or holds characters nobody sees.
    """
    if by is None:
        message = "Say who you are: a correction carries its author. Nothing was recorded."
        raise PanelError(message)
    try:
        found = read_text(reason)
    except Unreadable as fault:
        message = f"The reason {fault}"
        raise PanelError(message) from fault
    if not found:
        message = "Say why in a few words: an auditor will read it. Nothing was recorded."
        raise PanelError(message)
    return found
