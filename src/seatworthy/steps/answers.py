"""Answers from paper into the record, glass by glass, and their corrections."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from difflib import get_close_matches
from types import MappingProxyType
from typing import Final

from seatworthy.errors import PanelError
from seatworthy.intake.answers import Answer, read_answer
from seatworthy.intake.words import Unreadable, fold, quoted
from seatworthy.sessions.wish import INTENSITY, SCALE_TOP, YES_NO
from seatworthy.sessions.wording import plain
from seatworthy.steps.answer_rows import answer_rows
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import item_label, short_label
from seatworthy.steps.picks import read_pick
from seatworthy.steps.session_facts import (
    SessionFacts,
    after_an_answer,
    one_glass,
    session_facts,
    session_with,
)
from seatworthy.steps.session_parts import OWN_WORDS, Glass
from seatworthy.steps.sheet_views import Entered
from seatworthy.steps.sheets import sheet, sheet_key
from seatworthy.steps.signing import salted, sign, signed_reason
from seatworthy.steps.words import vocabulary

__all__ = ["correct_answer", "enter_answer", "sheet"]

_NAME_FIRST: Final = "Type an answer first; 0 stands for nothing."
_JUDGE_FIRST: Final = "Type an answer first; 0 stands for as it should be."
_TYPE_FIRST: Final = MappingProxyType(
    {
        INTENSITY: f"Type a whole number from 0 to {SCALE_TOP} first; 0 stands for not there.",
        YES_NO: "Type yes or no first.",
    }
)


class _Refused(Exception):
    """Why one line typed was not stored; the message is the sentence."""


def enter_answer(
    desk: Desk,
    session_id: str,
    key: str,
    code: str,
    said: str,
    *,
    keep_own_words: bool = False,
    by: str | None = None,
) -> Entered:
    """Take one answer from a sheet into the record.

    Args:
        desk: The open store.
        session_id: The session.
        key: Of the sheet.
        code: The code as typed.
        said: The answer as typed.
        keep_own_words: Whether words that name nothing on the shelf are meant so.
        by: Who enters it.

    Returns:
        What became of it; nothing that is typed raises.
    """
    code, said = code.strip(), said.strip()
    try:
        with desk.store.recording(
            "answer", counts=False
        ) as act:  # the lock is held from the look to the write
            glass, facts = _glass_on_sheet(session_facts(desk, session_id), key, code)
            read = _read(facts, glass, said)
            if glass.kind is not None:
                return _compared(facts, glass, read)
            if read.label == OWN_WORDS and not keep_own_words:
                return Entered("asks", code, said, OWN_WORDS, _asks(read.near))
            sign(act, by)
            act.add_all(answer_rows(glass.serving_id, read.answer, read.picked))
        after_an_answer(facts, act.entry_no)
    except _Refused as refused:
        return Entered("refused", code, said, "", str(refused))
    is_own = read.label == OWN_WORDS
    what = f"own words, “{read.text}”" if is_own else read.label
    return Entered("kept", code, read.text, read.label, f"{_spoken(glass)}: {what}.")


def _spoken(glass: Glass) -> str:
    return f"Set {glass.position}" if glass.parts else glass.label


def _glass_on_sheet(facts: SessionFacts | None, key: str, code: str) -> tuple[Glass, SessionFacts]:
    if facts is None or not facts.is_open:
        message = "This session takes no more answers. Correct one with a reason, if one is wrong."
        raise _Refused(message)
    here = [g for g in facts.glasses if sheet_key(g.sitting_id, g.person_id) == key]
    own = {code: g for g in here for code in g.codes}
    glass = own.get(code)
    if glass is None:
        raise _Refused(_no_such_code(facts, list(own), code))
    state = facts.seat_state(glass.sitting_id, glass.person_id)
    if state == "absent":
        name = facts.names[glass.person_id]
        message = f"{name} is recorded as not there. Take that back on the session's page first."
        raise _Refused(message)
    if glass.event == "spilled":
        message = (
            f"{_spoken(glass)} is recorded as spilled. Take that back on the session's page first."
        )
        raise _Refused(message)
    return glass, facts


def _no_such_code(facts: SessionFacts, own: Sequence[str], code: str) -> str:
    """What to say of a code that is not on the sheet: whose it is, or which it resembles."""
    for glass in facts.glasses:
        if code in glass.codes:
            name = facts.names[glass.person_id]
            what = "set" if glass.parts else "glass"
            return (
                f"{code} is on {name}'s sheet, {what} {glass.position}: open that sheet, or read the "
                "code again. Nothing was stored."
            )
    near = get_close_matches(code, own, n=2, cutoff=0.5)
    hint = f" Near: {' or '.join(near)}." if near else ""
    return f"{quoted(code)} stands on no glass of this sheet.{hint} Read the code again. Nothing was stored."


@dataclass(frozen=True)
class _Read:
    """An answer, how it is read, the nearest compounds of own words, the code picked of a set."""

    answer: Answer
    label: str
    near: tuple[str, ...] = ()
    picked: str | None = None

    @property
    def text(self) -> str:
        return self.answer.words or self.label


def _read_set(glass: Glass, said: str) -> _Read:
    try:
        answer, picked = read_pick(glass, said)
    except Unreadable as fault:
        raise _Refused(str(fault)) from fault
    return _Read(answer, f"picked {picked}", picked=picked)


def _read(facts: SessionFacts, glass: Glass, said: str) -> _Read:
    if glass.parts:
        return _read_set(glass, said)
    desk = facts.desk
    known = vocabulary(desk)
    try:
        answer = read_answer(glass.method, said, glass.blind_code, known)
    except Unreadable as fault:
        first = _JUDGE_FIRST if facts.head.is_release else _NAME_FIRST
        message = f"The answer {fault}" if said else _TYPE_FIRST.get(glass.method, first)
        raise _Refused(message) from fault
    if answer.kind != "words":
        if answer.rating is not None:
            return _Read(answer, _rating(answer.rating, on_scale=facts.head.purpose is not None))
        return _Read(answer, facts.kind_words(answer.kind))
    meant = {row["words_key"]: row["right_for"] for row in desk.store.rows("word_readings")}
    labels = {row["compound"]: row["label"] for row in desk.store.rows("compounds")}
    key = fold(answer.words or "")
    if meant.get(key):
        return _Read(answer, item_label(meant[key], labels))
    near = tuple(short_label(labels[c]) for c in known.nearest(said))
    return _Read(answer, OWN_WORDS, near)


def _rating(rating: Decimal, *, on_scale: bool) -> str:
    """A rating as it is written; a planned session has one scale, a results file may have any."""
    if on_scale and (rating % 1 or rating > SCALE_TOP):
        message = (
            f"A rating is a whole number from 0 (not there) to {SCALE_TOP} (very strong), got "
            f"{plain(rating)}. Nothing was stored."
        )
        raise _Refused(message)
    return plain(rating)


def _asks(near: Sequence[str]) -> str:
    hint = f" Nearest: {', '.join(near)}." if near else ""
    return f"That names nothing on the shelf.{hint} Enter again keeps it as own words."


def _compared(facts: SessionFacts, glass: Glass, read: _Read) -> Entered:
    """What to say of a glass that is answered already."""
    answer, code, spoken = read.answer, next(iter(glass.codes), ""), _spoken(glass)
    same = glass.kind == answer.kind and fold(glass.words or "") == fold(answer.words or "")
    if same and (glass.rating, glass.picked) == (answer.rating, read.picked):
        return Entered(
            "known", code, facts.said(glass), facts.read_as(glass), f"{spoken}: on record."
        )
    sentence = (
        f"{spoken} is on record as “{facts.said(glass)}”. If that is wrong, correct it below with a "
        "reason. Nothing was stored."
    )
    return Entered("refused", code, read.text, "", sentence)


def correct_answer(
    desk: Desk,
    serving_id: str,
    said: str,
    reason: str,
    by: str | None,
    *,
    keep_own_words: bool = False,
) -> str:
    """Put another answer in the place of one on record; both stay in the history.

    Args:
        desk: The open store.
        serving_id: The glass.
        said: What the sheet really says.
        reason: Why, in words.
        by: Who corrects.
        keep_own_words: Whether words that name nothing on the shelf are meant so.

    Raises:
        PanelError: if there is no answer yet, nothing changes, reason or author is missing, or the
            words name nothing and are not said to be meant so.
    """
    why = signed_reason(reason, by)
    with desk.store.recording("correction") as act:
        facts = session_with(desk, "glass", serving_id, is_open=False)
        glass = one_glass(facts, serving_id)
        if glass.kind is None:
            message = f"{glass.title} has no answer to correct; enter it on its sheet."
            raise PanelError(message)
        try:
            read = _read(facts, glass, said.strip())
        except _Refused as refused:
            raise PanelError(str(refused)) from refused
        if _compared(facts, glass, read).outcome == "known":
            message = f"{glass.title} says “{facts.said(glass)}” already. Nothing was recorded."
            raise PanelError(message)
        if read.label == OWN_WORDS and not keep_own_words:
            hint = f" Nearest: {', '.join(read.near)}." if read.near else ""
            message = (
                f"“{said.strip()}” names nothing on the shelf.{hint} Say that these are own words, or "
                "type another answer. Nothing was recorded."
            )
            raise PanelError(message)
        sign(act, by)
        act.add_all(answer_rows(glass.serving_id, read.answer, read.picked))
        act.add("correction", {"serving_id": serving_id, **salted("reason", why)})
    return f"{glass.title}: “{facts.said(glass)}” was corrected to “{read.text}”."
