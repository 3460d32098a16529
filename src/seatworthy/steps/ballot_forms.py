"""What a ballot's form says of a glass, or why it says nothing that can be stored."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

from seatworthy.intake.answers import NOTHING, SOMETHING, WORDS_LENGTH, Answer, read_answer
from seatworthy.intake.words import Unreadable, fold, read_text
from seatworthy.sessions.wish import SCALE_TOP
from seatworthy.steps.ballot_views import SURENESS, BallotGlass, FormAnswer, NameOffered, OwnAnswer
from seatworthy.steps.desk import Desk
from seatworthy.steps.names_offered import said_of
from seatworthy.steps.words import vocabulary

# Faults of a form, as `BallotDone.fault` names them.
NO_CHOICE: Final = "no_choice"
TWO_THINGS: Final = "two_things"
UNREADABLE: Final = "unreadable"
TOO_LONG: Final = "too_long"
NOT_LISTED: Final = "not_listed"
NOT_HERE: Final = "not_here"
OFF_SCALE: Final = "rating"
NOT_BEFORE: Final = "not_before"
_SCALE: Final = frozenset(str(number) for number in range(SCALE_TOP + 1))
_LOST_LETTER: Final = "\ufffd"  # stands for what was no UTF-8
_SINGLE: Final = {"nothing": NOTHING, "something": SOMETHING}


class Fault(Exception):
    """Why a form can't be stored; the message is a fault of `BallotDone`."""


@dataclass(frozen=True)
class FormRead:
    """A form as it is stored.

    Attributes:
        answer: What it says.
        picked: Of a set, the code.
        sureness: One of `SURENESS`; None if not said.
        remark: Own words beside a name that was chosen; "" for none.
    """

    answer: Answer
    picked: str | None = None
    sureness: str | None = None
    remark: str = ""

    @property
    def said(self) -> OwnAnswer:
        """The same as a ballot shows it."""
        sureness = self.sureness or ""
        if self.picked is not None:
            return OwnAnswer("picked", picked=self.picked, sureness=sureness)
        kept = self.answer
        return OwnAnswer(kept.kind, kept.words or "", kept.rating, sureness=sureness)

    def is_on_record(self, glass: BallotGlass) -> bool:
        """Whether a glass holds this very answer already."""
        return _is_same(glass.answer, self.said)

    def is_on_record_after(self, glass: BallotGlass) -> bool:
        """Whether the very same is on record as said after the talk."""
        return _is_same(glass.after, replace(self.said, sureness=""))


def _is_same(kept: OwnAnswer | None, said: OwnAnswer) -> bool:
    if kept is None:
        return False
    return replace(kept, words=fold(kept.words)) == replace(said, words=fold(said.words))


def read_form(
    desk: Desk, glass: BallotGlass, names: Sequence[NameOffered], form: FormAnswer
) -> FormRead:
    """What a form says of a glass.

    Args:
        desk: The open store.
        glass: The glass or set.
        names: What the ballot offers.
        form: As it was sent.

    Raises:
        Fault: if nothing of it can be stored.
    """
    sureness = form.sureness if form.sureness in SURENESS else None
    if glass.is_set:
        return _read_set(desk, glass, form.choice.strip(), sureness)
    if glass.method == "intensity":
        return FormRead(Answer("rating", rating=_on_scale(form.rating)), None, sureness)
    if glass.method == "a_not_a":
        return FormRead(Answer(_one_of(form.choice, ("yes", "no"))), None, sureness)
    return _read_name(desk, names, form, sureness)


def _read_set(desk: Desk, glass: BallotGlass, code: str, sureness: str | None) -> FormRead:
    _one_of(code, glass.codes)
    odd = desk.store.rows("ballot_odd_code", serving_id=glass.serving_id)[0]["blind_code"]
    return FormRead(Answer("right" if code == odd else "wrong"), code, sureness)


def _one_of(choice: str, allowed: tuple[str, ...]) -> str:
    if choice not in allowed:
        raise Fault(NOT_HERE if choice else NO_CHOICE)
    return choice


def _on_scale(text: str) -> Decimal:
    whole = text.strip()
    if not whole:
        raise Fault(NO_CHOICE)
    if whole not in _SCALE:
        raise Fault(OFF_SCALE)
    return Decimal(whole)


def _read_name(
    desk: Desk, names: Sequence[NameOffered], form: FormAnswer, sureness: str | None
) -> FormRead:
    words = form.words.strip()
    if _LOST_LETTER in words:
        raise Fault(UNREADABLE)
    if form.choice == "nothing" and words:
        raise Fault(TWO_THINGS)
    if form.choice in _SINGLE and not words:
        return FormRead(_SINGLE[form.choice], None, sureness)
    if form.choice in ("", "something"):
        return FormRead(_own_words(desk, words), None, sureness)
    return FormRead(_named(desk, names, form.choice), None, sureness, _remark(words))


def _named(desk: Desk, names: Sequence[NameOffered], compound: str) -> Answer:
    """A chosen name; one that was offered when the page was drawn and is not now is taken too."""
    for name in names:
        if name.compound == compound:
            return Answer("words", name.said)
    labels = {row["compound"]: row["label"] for row in desk.store.rows("compounds")}
    if compound not in labels:
        raise Fault(NOT_LISTED)
    return Answer("words", said_of(compound, labels[compound], vocabulary(desk)))


def _own_words(desk: Desk, words: str) -> Answer:
    if not words:
        raise Fault(NO_CHOICE)
    if len(words) > WORDS_LENGTH:
        raise Fault(TOO_LONG)
    try:
        return read_answer("naming", words, None, vocabulary(desk))
    except Unreadable:
        raise Fault(UNREADABLE) from None


def _remark(words: str) -> str:
    if len(words) > WORDS_LENGTH:
        raise Fault(TOO_LONG)
    try:
        return read_text(words, WORDS_LENGTH) if words else ""
    except Unreadable:
        raise Fault(UNREADABLE) from None
