"""Which glass of a forced-choice set was picked: read from what was typed, put on record."""

from collections.abc import Iterator
from secrets import token_hex

from seatworthy.intake.answers import Answer
from seatworthy.intake.tables import TableRow
from seatworthy.intake.words import Unreadable, quoted
from seatworthy.steps.sentences import joined
from seatworthy.steps.session_parts import Glass


def read_pick(glass: Glass, said: str) -> tuple[Answer, str]:
    """What somebody picked, and its code.

    Args:
        glass: A set, with its parts.
        said: What was typed: one of the codes of the set.

    Raises:
        Unreadable: if it is none of them; the message is a finished sentence.
    """
    picked = [part for part in glass.parts if part.code == said.strip()]
    if not picked:
        found = f"got {quoted(said)}" if said.strip() else "got nothing"
        codes = joined(glass.codes, "or")
        message = (
            f"Set {glass.position} is answered with the code that was circled, {codes}; {found}. "
            "Nothing was stored."
        )
        raise Unreadable(message)
    return Answer("right" if picked[0].is_odd else "wrong"), picked[0].code


def pick_rows(serving_id: str, picked: str | None) -> Iterator[TableRow]:
    """What is kept of a pick besides the answer; nothing for a single glass.

    With a salt, so that nobody can try out by the digest of the entry whether it was right.
    """
    if picked is not None:
        row = {"serving_id": serving_id, "blind_code": picked, "salt": token_hex(8)}
        yield "set_pick", row
