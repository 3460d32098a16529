"""Own words: which stand for no compound yet, and what the leader says they mean."""

from dataclasses import dataclass

from seatworthy.errors import PanelError
from seatworthy.intake.tables import synonym_rows
from seatworthy.intake.words import Vocabulary
from seatworthy.steps.desk import Desk


@dataclass(frozen=True)
class OpenWords:
    """A wording that stands for no compound yet, and in how many answers it occurs."""

    words: str
    answers: int


def vocabulary(desk: Desk) -> Vocabulary:
    """The words that stand for a compound today."""
    return Vocabulary({row["words_key"]: row["compound"] for row in desk.store.rows("meanings")})


def open_words(desk: Desk) -> list[OpenWords]:
    """Own words with the name open, the most frequent first."""
    return [OpenWords(row["words"], row["answers"]) for row in desk.store.rows("open_words")]


def map_words(desk: Desk, words: str, compound: str) -> str:
    """State once, dated, what a wording means; answers past and to come are read so.

    Args:
        desk: The open store.
        words: The wording.
        compound: A compound's key, name or synonym.

    Returns:
        The compound's key.

    Raises:
        PanelError: if the compound is not on the shelf.
    """
    known = vocabulary(desk)
    key = known.find(compound)
    if key is None:
        near = ", ".join(known.nearest(compound))
        hint = f" Nearest: {near}." if near else ""
        message = f"“{compound}” is not a compound on the shelf.{hint}"
        raise PanelError(message)
    with desk.store.recording("words") as act:
        act.add_all(synonym_rows(key, [words]))
    return key
