"""Own words that are right for any of several compounds, and own words of a session that wait."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from seatworthy.errors import PanelError
from seatworthy.intake.words import fold
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import choice_label, short_label
from seatworthy.steps.sentences import in_sentence, joined
from seatworthy.steps.shelf_writing import NOTHING_NEW
from seatworthy.steps.signing import sign
from seatworthy.steps.views import Choice
from seatworthy.steps.words import NO_COMPOUND, OpenWords, compound_named, read_wording


@dataclass(frozen=True)
class AcceptedWords:
    """Words that are accepted for compounds.

    Attributes:
        words: As they were last written.
        compounds: Keys of what they are accepted for, by name.
        labels: Name of each inside a sentence, in the same order.
        meaning: Key of the compound they stand for besides, `NO_COMPOUND` where they name none, ""
            where nobody said.
        meant: The same as words inside a sentence; "" where nobody said.
    """

    words: str
    compounds: tuple[str, ...]
    labels: tuple[str, ...]
    meaning: str
    meant: str

    @property
    def accepted(self) -> str:
        """What they are accepted for inside a sentence: "ethanethiol or methanethiol"."""
        return joined(self.labels, "or")

    @property
    def besides(self) -> str:
        """What they are right for, as the end of a sentence."""
        return f"right for {self.accepted}" + (" too" if self.meaning else "")


def waiting_words(desk: Desk, session_id: str) -> tuple[OpenWords, ...]:
    """Own words of one session that wait for a meaning, the most frequent first; of no glass in particular."""
    rows = desk.store.rows("session_words", session_id=session_id)
    return tuple(OpenWords(row["words"], row["answers"]) for row in rows)


def compound_choices(desk: Desk) -> tuple[Choice, ...]:
    """Every compound that words may mean, by the name people say."""
    found = [Choice(key, choice_label(label)) for key, label in _labels(desk).items()]
    return tuple(sorted(found, key=lambda choice: choice.label.casefold()))


def word_groups(desk: Desk) -> tuple[AcceptedWords, ...]:
    """Every wording that is accepted for compounds."""
    labels = _labels(desk)
    return tuple(_group(row, labels) for row in desk.store.rows("word_groups"))


def group_of(desk: Desk, words: str) -> AcceptedWords | None:
    """What words are accepted for; None for nothing."""
    key, labels = fold(words), _labels(desk)
    rows = [row for row in desk.store.rows("word_groups") if row["words_key"] == key]
    return _group(rows[0], labels) if rows else None


def accept_words(desk: Desk, words: str, compounds: Sequence[str], *, by: str | None = None) -> str:
    """State, dated, that words are right for any of some compounds, in answers past and to come.

    What they mean, or are accepted for already, stays; in a glass of none of these they are a wrong
    name, and in a blank a call.

    Args:
        desk: The open store.
        words: The wording; no name of a compound.
        compounds: Keys, names or synonyms.
        by: Who says so.

    Returns:
        A sentence on what holds now.

    Raises:
        PanelError: if there is no compound, one is not on the shelf, or the words keep their meaning.
    """
    if not words.strip():
        message = "No words were written: write them first. Nothing was recorded."
        raise PanelError(message)
    if not compounds:
        message = "Choose what the words are right for. Nothing was recorded."
        raise PanelError(message)
    kept = read_wording(desk, words)
    new = not_yet(desk, words, [compound_named(desk, compound) for compound in compounds])
    if not new:
        return NOTHING_NEW
    _record(desk, kept, new, is_accepted=True, by=by)
    return _now(desk, kept)


def not_yet(desk: Desk, words: str, compounds: Sequence[str]) -> tuple[str, ...]:
    """Of some compounds' keys, each once, those for which words are not accepted yet."""
    before = group_of(desk, words)
    known = before.compounds if before else ()
    return tuple(key for key in dict.fromkeys(compounds) if key not in known)


def take_words_back(
    desk: Desk, words: str, compounds: Sequence[str], *, by: str | None = None
) -> str:
    """State, dated, that words are not accepted for some compounds any more.

    Args:
        desk: The open store.
        words: The wording.
        compounds: Keys, names or synonyms of what they are accepted for.
        by: Who says so.

    Raises:
        PanelError: if they are not accepted for one of these.
    """
    before = group_of(desk, words)
    keys = list(dict.fromkeys(compound_named(desk, compound) for compound in compounds))
    if not keys:
        message = "Choose what the words are not right for any more. Nothing was recorded."
        raise PanelError(message)
    for key in keys:
        if before is None or key not in before.compounds:
            label = in_sentence(short_label(_labels(desk).get(key, key)))
            message = f"“{words}” is not accepted for {label}. Nothing was recorded."
            raise PanelError(message)
    _record(desk, before.words if before else words, keys, is_accepted=False, by=by)
    return _now(desk, before.words if before else words)


def read_anew(desk: Desk, words: str, compounds: Sequence[str] | None = None) -> str:
    """A sentence on the answers of closed sessions that another meaning would touch; "" for none.

    Args:
        desk: The open store.
        words: The wording.
        compounds: Keys of what it would mean, () for no compound; None where that is not said.
    """
    if compounds is None:
        return _touched(desk, words, "anew")
    if len(compounds) > 1:
        return accepted_anew(desk, words, compounds)
    meant = _names_of(desk, compounds, "or") or "naming no compound"
    return _touched(desk, words, f"as {meant}")


def accepted_anew(desk: Desk, words: str, compounds: Sequence[str]) -> str:
    """The same where words would be right for some compounds, which it names."""
    return _touched(desk, words, f"as right for {_names_of(desk, compounds, 'or')}")


def taken_back_anew(desk: Desk, words: str, compounds: Sequence[str]) -> str:
    """The same where words would not be right for some compounds any more."""
    return _touched(desk, words, f"as not right for {_names_of(desk, compounds, 'or')} any more")


def _names_of(desk: Desk, compounds: Sequence[str], word: str) -> str:
    labels = _labels(desk)
    names = [in_sentence(short_label(labels.get(compound, compound))) for compound in compounds]
    return joined(names, word)


def _touched(desk: Desk, words: str, how: str) -> str:
    """How many answers of closed sessions would be read, and how; "" for none."""
    said = desk.store.rows("words_said", words_key=fold(words))[0]
    if not said["answers"]:
        return ""
    answers = "1 answer" if said["answers"] == 1 else f"{said['answers']} answers"
    sessions = (
        "1 closed session" if said["sessions"] == 1 else f"{said['sessions']} closed sessions"
    )
    verb = "It would be" if said["answers"] == 1 else "They would be"
    return (
        f"“{words}” stands in {answers} of {sessions}. {verb} read {how}, so verdicts may change; what "
        "is signed stays."
    )


def _now(desk: Desk, words: str) -> str:
    """What holds of some words, as a sentence."""
    group = group_of(desk, words)
    if group is None:
        waits = all(row["words_key"] != fold(words) for row in desk.store.rows("meanings"))
        end = "it waits for a meaning again" if waits else "what it means stays"
        return f"“{words}” is accepted for no compound any more; {end}."
    if group.meaning == NO_COMPOUND:
        return f"“{words}” is right for {group.accepted}, and a wrong name elsewhere."
    stands = f"stands for {group.meant} and is " if group.meaning else "is "
    return f"“{words}” {stands}{group.besides}, in answers past and to come."


def _record(
    desk: Desk, words: str, compounds: Sequence[str], *, is_accepted: bool, by: str | None
) -> None:
    row = {"words_key": fold(words), "words": words}
    with desk.store.recording("words") as act:
        sign(act, by)
        for compound in compounds:
            act.add("accepted_words", {**row, "compound": compound, "is_accepted": is_accepted})


def _labels(desk: Desk) -> dict[str, str]:
    return {row["compound"]: row["label"] for row in desk.store.rows("compounds")}


def _group(row: dict[str, Any], labels: dict[str, str]) -> AcceptedWords:
    def named(compound: str) -> str:
        return in_sentence(short_label(labels.get(compound, compound)))

    meaning = (row["meaning"] or NO_COMPOUND) if row["has_meaning"] else ""
    meant = "no compound" if meaning == NO_COMPOUND else named(meaning) if meaning else ""
    return AcceptedWords(
        words=row["words"],
        compounds=tuple(row["accepted"]),
        labels=tuple(named(compound) for compound in row["accepted"]),
        meaning=meaning,
        meant=meant,
    )
