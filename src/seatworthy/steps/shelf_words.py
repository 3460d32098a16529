"""States what words mean, and compounds of the brewery's own."""

from collections.abc import Iterator, Sequence
from typing import Final

from seatworthy.errors import PanelError
from seatworthy.intake.answers import read_answer
from seatworthy.intake.shelf_items import Compound, Shelf
from seatworthy.intake.tables import TableRow, shelf_rows
from seatworthy.intake.words import Unreadable, fold, quoted, read_name
from seatworthy.steps.accepted_words import accept_words, group_of, read_anew
from seatworthy.steps.concentrations import UNITS
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import short_label
from seatworthy.steps.sentences import in_sentence
from seatworthy.steps.shelf_writing import NOTHING_NEW
from seatworthy.steps.signing import sign
from seatworthy.steps.words import NO_COMPOUND, map_words, vocabulary

_KEY_LENGTH: Final = 40
_DESCRIPTORS_LENGTH: Final = 120


def give_meaning(
    desk: Desk, words: str, compound: str, *, again: bool = False, by: str | None = None
) -> str:
    """State what a wording means; answers past and to come are read so.

    Args:
        desk: The open store.
        words: The wording.
        compound: The compound's key, or `NO_COMPOUND` where they name none.
        again: Whether words that have a meaning may get another.
        by: Who says so.

    Raises:
        PanelError: if the words cannot mean a compound, or have another meaning and not `again`.
    """
    if not words.strip():
        message = "No words were written: write them first. Nothing was recorded."
        raise PanelError(message)
    if not compound:
        message = "Choose what the words mean, or that they name none. Nothing was recorded."
        raise PanelError(message)
    before = meaning_now(desk, words)
    if before == compound:
        return NOTHING_NEW
    if before is not None and not again:
        message = (
            f"{quoted(words)} stands for {_named(desk, before)} already. Nothing was recorded."
        )
        raise PanelError(message)
    map_words(desk, words.strip(), compound, again=True, by=by)
    if (group := group_of(desk, words)) is not None:
        return f"“{words}” stands for {_named(desk, compound)} and stays {group.besides}."
    if compound == NO_COMPOUND:
        return f"“{words}” names no compound; its answers count as wrong names."
    return f"“{words}” stands for {_named(desk, compound)}; answers past and to come are read so."


def say_meaning(
    desk: Desk, words: str, compounds: Sequence[str], *, names_none: bool, by: str | None = None
) -> str:
    """State what a wording means: one compound, none, or that it is right for any of several.

    Args:
        desk: The open store.
        words: The wording.
        compounds: Keys of what was chosen.
        names_none: Whether it was said that they name none.
        by: Who says so.

    Raises:
        PanelError: if nothing was chosen, or compounds and none of them, or the words keep their meaning.
    """
    if names_none and compounds:
        message = "Compounds were chosen, and that the words name none. Nothing was recorded."
        raise PanelError(message)
    if len(compounds) > 1:
        return accept_words(desk, words, compounds, by=by)
    chosen = NO_COMPOUND if names_none else next(iter(compounds), "")
    return give_meaning(desk, words, chosen, again=True, by=by)


def doubts_of_meaning(desk: Desk, words: str, compound: str) -> tuple[str, ...]:
    """What should be asked before words get a meaning, a sentence each; () for nothing.

    Args:
        desk: The open store.
        words: The wording.
        compound: The compound's key, or `NO_COMPOUND`.

    Returns:
        Whether they stand for another one, and which answers of closed sessions would be read anew.
    """
    before = meaning_now(desk, words)
    if before == compound:
        return ()
    other = ""
    if before is not None:
        instead = f"it would stand for {_named(desk, compound)} instead"
        other = f"“{words}” stands for {_named(desk, before)} already; {instead}."
    touched = read_anew(desk, words, () if compound == NO_COMPOUND else (compound,))
    return tuple(doubt for doubt in (other, touched) if doubt)


def meaning_now(desk: Desk, words: str) -> str | None:
    """Key of the compound that words stand for, `NO_COMPOUND`, or None if nobody has said."""
    for row in desk.store.rows("shelf_words"):
        if row["words_key"] == fold(words):
            return str(row["compound"] or NO_COMPOUND)
    return None


def add_compound(
    desk: Desk, label: str, descriptors: str, unit: str, *, by: str | None = None
) -> str:
    """Add a compound that the shipped vocabulary lacks.

    Args:
        desk: The open store.
        label: Its name, from which its key is made.
        descriptors: What it smells of, in words parted by commas; may be "".
        unit: The unit in which its amounts are shown, one of `concentrations.UNITS`.
        by: Who did it.

    Raises:
        PanelError: if the name will not do, or means something already.
    """
    name = _own_name(desk, label)
    words = [word for word in (_descriptor(part) for part in descriptors.split(",")) if word]
    if len(", ".join(words)) > _DESCRIPTORS_LENGTH:
        message = (
            f"Say what it smells of in at most {_DESCRIPTORS_LENGTH} characters. "
            "Nothing was recorded."
        )
        raise PanelError(message)
    if unit not in UNITS:
        message = f"{unit!r} is none of {', '.join(UNITS)}."
        raise ValueError(message)
    own = {"descriptors": "|".join(words), "reference_unit": unit.replace("µ", "u")}
    with desk.store.recording("shelf") as act:
        act.add_all(_compound_rows(Compound(_key_of(name), name), own))
        sign(act, by)
    return f"{name} is on the shelf. Its safety data sheet comes first; we know nothing of it."


def _compound_rows(compound: Compound, own: dict[str, object]) -> Iterator[TableRow]:
    for table, row in shelf_rows(Shelf(None, (), (), (), (), (), (compound,))):
        yield table, {**row, **own} if table == "compound" else row


def _own_name(desk: Desk, label: str) -> str:
    """The name of a new compound, tidied and free."""
    try:
        name = read_name(label) if label.strip() else ""
        means = read_answer("naming", name, None).kind if name else "words"
    except Unreadable as fault:
        message = f"The compound's name {fault} Nothing was recorded."
        raise PanelError(message) from fault
    if not name:
        message = "The compound's name is empty. Nothing was recorded."
        raise PanelError(message)
    if means != "words":
        message = f"“{name}” means {means} in every results file; it cannot name a compound."
        raise PanelError(message)
    taken = vocabulary(desk).find(name) or vocabulary(desk).find(_key_of(name))
    if taken is not None:
        message = f"“{name}” stands for {_named(desk, taken)} already. Nothing was recorded."
        raise PanelError(message)
    if (group := group_of(desk, name) or group_of(desk, _key_of(name))) is not None:
        message = f"“{name}” is {group.besides} already. Nothing was recorded."
        raise PanelError(message)
    return name


def _descriptor(written: str) -> str:
    try:
        return read_name(written) if written.strip() else ""
    except Unreadable as fault:
        message = f"What it smells of: a word {fault} Nothing was recorded."
        raise PanelError(message) from fault


def _key_of(name: str) -> str:
    return fold(name).replace(" ", "_")[:_KEY_LENGTH].strip("_")


def _named(desk: Desk, compound: str) -> str:
    if compound == NO_COMPOUND:
        return "no compound"
    for row in desk.store.rows("shelf_compounds"):
        if row["compound"] == compound:
            return in_sentence(short_label(row["label"]))
    return quoted(compound)
