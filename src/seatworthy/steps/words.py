"""Own words: which stand for no compound yet, and what the leader says they mean."""

from dataclasses import dataclass

from seatworthy.errors import PanelError
from seatworthy.intake.answers import read_answer
from seatworthy.intake.tables import synonym_rows
from seatworthy.intake.words import Unreadable, Vocabulary, fold, quoted
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import short_label
from seatworthy.steps.signing import sign

NO_COMPOUND = "none"


@dataclass(frozen=True)
class OpenWords:
    """A wording of which nobody has said yet what it means, and in how many answers it occurs."""

    words: str
    answers: int


def vocabulary(desk: Desk) -> Vocabulary:
    """The words that stand for a compound today."""
    rows = desk.store.rows("meanings")
    described: dict[str, list[str]] = {}
    for row in desk.store.rows("compounds"):
        for word in row["descriptors"].split("|"):
            described.setdefault(word, []).append(row["compound"])
    return Vocabulary(
        {row["words_key"]: row["compound"] for row in rows if row["compound"]}, described
    )


def read_wording(desk: Desk, words: str) -> str:
    """A wording as it is kept.

    Words that say nothing, something or nobody there keep that meaning; so do compounds' names.

    Raises:
        PanelError: if the wording is one of these, or no wording at all.
    """
    try:
        answer = read_answer("naming", words, None)
    except Unreadable as fault:
        message = f"{quoted(words)} {fault}"
        raise PanelError(message) from fault
    if answer.kind != "words":
        message = (
            f"{quoted(words)} means {answer.kind} in every results file; it cannot mean a compound. "
            "Leave it as it is."
        )
        raise PanelError(message)
    own = {
        fold(name)
        for row in desk.store.rows("compounds")
        for name in (row["compound"], row["label"], short_label(row["label"]))
    }
    if fold(words) in own:
        message = f"{quoted(words)} is the name of a compound; it cannot get another meaning."
        raise PanelError(message)
    return answer.words or words


def open_words(desk: Desk) -> list[OpenWords]:
    """Own words of closed sessions that wait for a meaning, the most frequent first."""
    return [OpenWords(row["words"], row["answers"]) for row in desk.store.rows("open_words")]


def compound_named(desk: Desk, name: str) -> str:
    """Key of the compound that goes by a name.

    Raises:
        PanelError: if none on the shelf does.
    """
    known = vocabulary(desk)
    key = known.find(name)
    if key is None:
        near = ", ".join(known.nearest(name))
        hint = f" Nearest: {near}." if near else ""
        message = f"{quoted(name)} is not a compound on the shelf.{hint} Choose one that is."
        raise PanelError(message)
    return key


def map_words(
    desk: Desk, words: str, compound: str, *, again: bool = False, by: str | None = None
) -> str | None:
    """State once, dated, what a wording means; answers past and to come are read so.

    A wording that stands for no compound makes its answers wrong names. What it is accepted for besides
    stays accepted.

    Args:
        desk: The open store.
        words: The wording.
        compound: A compound's key, name or synonym, or `NO_COMPOUND`.
        again: Whether words that have a meaning already may get another.
        by: Who says so.

    Returns:
        The compound's key; None if the words stand for no compound.

    Raises:
        PanelError: if the compound is not on the shelf, or the words have a meaning already.
    """
    key = None if compound.casefold() == NO_COMPOUND else compound_named(desk, compound)
    kept = read_wording(desk, words)
    before = {row["words_key"]: row["compound"] for row in desk.store.rows("meanings")}
    if fold(words) in before and not again:
        meant = before[fold(words)] or "no compound"
        message = (
            f"{quoted(words)} stands for {meant} already. Say --again to change that, dated today."
        )
        raise PanelError(message)
    with desk.store.recording("words") as act:
        sign(act, by)
        act.add_all(synonym_rows(key, [kept]))
    return key
