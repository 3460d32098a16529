"""Answers from paper into the record, glass by glass, and their corrections."""

from collections.abc import Sequence
from difflib import get_close_matches

from seatworthy.errors import PanelError
from seatworthy.intake.answers import Answer, read_answer
from seatworthy.intake.words import Unreadable, fold, quoted
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import short_label
from seatworthy.steps.session_facts import SessionFacts, one_glass, session_facts, session_with
from seatworthy.steps.session_parts import NOTHING_SAID, OWN_WORDS, SOMETHING_SAID, Glass
from seatworthy.steps.sheet_views import Entered
from seatworthy.steps.sheets import sheet, sheet_key
from seatworthy.steps.signing import salted, sign, signed_reason
from seatworthy.steps.words import vocabulary

__all__ = ["correct_answer", "enter_answer", "sheet"]


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
        with desk.store.recording("answer") as act:  # the lock is held from the look to the write
            glass, facts = _glass_on_sheet(session_facts(desk, session_id), key, code)
            answer, label, near = _read(desk, glass, said)
            if glass.kind is not None:
                return _compared(facts, glass, answer, label)
            if label == OWN_WORDS and not keep_own_words:
                return Entered("asks", code, said, OWN_WORDS, _asks(near))
            sign(act, by)
            act.add("answer", _answer_row(glass, answer))
    except _Refused as refused:
        return Entered("refused", code, said, "", str(refused))
    text = answer.words or label
    sentence = f"{code}: {label}." if label != OWN_WORDS else f"{code}: own words, “{text}”."
    return Entered("kept", code, text, label, sentence)


def _glass_on_sheet(facts: SessionFacts | None, key: str, code: str) -> tuple[Glass, SessionFacts]:
    if facts is None or not facts.is_open:
        message = "This session takes no more answers. Correct one with a reason, if one is wrong."
        raise _Refused(message)
    own = {g.blind_code: g for g in facts.glasses if sheet_key(g.sitting_id, g.person_id) == key}
    glass = own.get(code)
    if glass is None:
        raise _Refused(_no_such_code(facts, list(own), code))
    state = facts.seat_state(glass.sitting_id, glass.person_id)
    if state == "absent":
        name = facts.names[glass.person_id]
        message = f"{name} is recorded as not there. Take that back on the session's page first."
        raise _Refused(message)
    if glass.event == "spilled":
        message = f"{code} is recorded as spilled. Take that back on the session's page first."
        raise _Refused(message)
    return glass, facts


def _no_such_code(facts: SessionFacts, own: Sequence[str | None], code: str) -> str:
    """What to say of a code that is not on the sheet: whose it is, or which it resembles."""
    for glass in facts.glasses:
        if glass.blind_code == code:
            name = facts.names[glass.person_id]
            return f"{code} is on {name}'s sheet, glass {glass.position}. Nothing was stored."
    near = get_close_matches(code, [c for c in own if c], n=2, cutoff=0.5)
    hint = f" Near: {' or '.join(near)}." if near else ""
    return f"{quoted(code)} stands on no glass of this sheet.{hint} Nothing was stored."


def _read(desk: Desk, glass: Glass, said: str) -> tuple[Answer, str, tuple[str, ...]]:
    """An answer, how it is read, and the nearest compounds of own words."""
    known = vocabulary(desk)
    try:
        answer = read_answer(glass.method, said, glass.blind_code, known)
    except Unreadable as fault:
        message = f"The answer {fault}" if said else "Type an answer first; 0 stands for nothing."
        raise _Refused(message) from fault
    if answer.kind != "words":
        words = {"nothing": NOTHING_SAID, "something": SOMETHING_SAID}
        return answer, words.get(answer.kind, str(answer.rating or answer.kind)), ()
    meant = {row["words_key"]: row["compound"] for row in desk.store.rows("meanings")}
    labels = {row["compound"]: row["label"] for row in desk.store.rows("compounds")}
    key = fold(answer.words or "")
    if meant.get(key):
        return answer, short_label(labels[meant[key]]), ()
    near = tuple(short_label(labels[c]) for c in known.nearest(said))
    return answer, OWN_WORDS, near


def _asks(near: Sequence[str]) -> str:
    hint = f" Nearest: {', '.join(near)}." if near else ""
    return f"That names nothing on the shelf.{hint} Enter again keeps it as own words."


def _compared(facts: SessionFacts, glass: Glass, answer: Answer, label: str) -> Entered:
    """What to say of a glass that is answered already."""
    same = glass.kind == answer.kind and fold(glass.words or "") == fold(answer.words or "")
    code = glass.blind_code or ""
    if same and glass.rating == answer.rating:
        return Entered("known", code, glass.said, facts.read_as(glass), f"{code}: on record.")
    sentence = (
        f"{code} is on record as “{glass.said}”. If that is wrong, correct it below with a "
        "reason. Nothing was stored."
    )
    return Entered("refused", code, answer.words or label, "", sentence)


def _answer_row(glass: Glass, answer: Answer) -> dict[str, object]:
    words = salted("words", answer.words)
    return {
        "serving_id": glass.serving_id,
        "kind": answer.kind,
        **words,
        "words_key": fold(answer.words) if answer.words else None,
        "rating": answer.rating,
    }


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
            message = f"Glass {glass.blind_code} has no answer to correct; enter it on its sheet."
            raise PanelError(message)
        try:
            answer, label, near = _read(desk, glass, said.strip())
        except _Refused as refused:
            raise PanelError(str(refused)) from refused
        if _compared(facts, glass, answer, label).outcome == "known":
            message = f"Glass {glass.blind_code} says “{glass.said}” already. Nothing was recorded."
            raise PanelError(message)
        if label == OWN_WORDS and not keep_own_words:
            hint = f" Nearest: {', '.join(near)}." if near else ""
            message = f"“{said.strip()}” names nothing on the shelf.{hint} Nothing was recorded."
            raise PanelError(message)
        sign(act, by)
        act.add("answer", _answer_row(glass, answer))
        act.add("correction", {"serving_id": serving_id, **salted("reason", why)})
    return f"Glass {glass.blind_code}: “{glass.said}” was corrected to “{answer.words or label}”."
