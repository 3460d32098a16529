"""The talk of a release sitting: opened once, then what each says after it, beside what they said before."""

from seatworthy.errors import PanelError
from seatworthy.intake.answers import NOTHING, Answer, read_answer
from seatworthy.intake.words import Unreadable, fold
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import short_label
from seatworthy.steps.release_answers import open_talks, said_after
from seatworthy.steps.sentences import joined
from seatworthy.steps.session_facts import SessionFacts, one_glass, session_with
from seatworthy.steps.session_parts import AS_IT_SHOULD_BE, Sitting
from seatworthy.steps.signing import sign
from seatworthy.steps.talk_rows import talk_rows
from seatworthy.steps.words import vocabulary

_KIND = "talk"


def open_talk(
    desk: Desk, sitting_id: str, *, without_missing: bool = False, by: str | None = None
) -> str:
    """Open the talk at one sitting; what was said before stands from then on.

    Args:
        desk: The open store.
        sitting_id: The sitting.
        without_missing: Whether answers that are missing may stay so.
        by: Who opens it.

    Raises:
        PanelError: if the session judges no beer, is still to come or is over, fewer than two people
            have answered, answers are missing, or the talk is open already.
    """
    with desk.store.recording(_KIND) as act:
        facts, sitting = _release_with(desk, sitting_id)
        missing = missing_words(facts, sitting_id)
        fault = _hindrance(facts, sitting)
        if not fault and missing and not without_missing:
            fault = f"{missing} Wait for them, or say that they stay missing."
        if fault:
            message = f"{fault} Nothing was recorded."
            raise PanelError(message)
        sign(act, by)
        act.add("talk", {"sitting_id": sitting_id, "is_open": True})
    return f"The talk is open: {sitting.label}. What was said before it stands."


def _release_with(desk: Desk, sitting_id: str) -> tuple[SessionFacts, Sitting]:
    facts = session_with(desk, "sitting", sitting_id)
    if not facts.head.is_release:
        message = f"“{facts.head.label}” judges no beer, so there is no talk to open. Nothing was recorded."
        raise PanelError(message)
    return facts, next(s for s in facts.sittings if s.sitting_id == sitting_id)


def _hindrance(facts: SessionFacts, sitting: Sitting) -> str:
    """Why a talk can't be opened at all; "" if it can."""
    if sitting.sitting_id in open_talks(facts):
        return f"The talk at {sitting.label} is open already."
    if facts.head.session_on > facts.desk.today():
        return f"{sitting.label} is still to come, so there is nothing to talk about yet."
    said = {
        g.person_id
        for g in facts.glasses
        if g.sitting_id == sitting.sitting_id and g.kind is not None
    }
    if not said:
        return (
            f"Nobody at {sitting.label} has said anything yet, so there is nothing to talk about."
        )
    if len(said) == 1:
        return (
            f"{facts.names[next(iter(said))]} alone has said anything at {sitting.label}, so there is "
            "nobody to talk to: weigh that word, or wait for another."
        )
    return ""


def missing_words(facts: SessionFacts, sitting_id: str) -> str:
    """Whose answers are missing at one sitting, in one sentence; "" if none is."""
    waiting = [g for g in facts.glasses if g.sitting_id == sitting_id and facts.is_waiting(g)]
    people = [p for p in facts.people_at(sitting_id) if any(g.person_id == p for g in waiting)]
    if not people:
        return ""
    counts = [f"{facts.names[p]} {sum(glass.person_id == p for glass in waiting)}" for p in people]
    return f"{len(waiting)} {'glass has' if len(waiting) == 1 else 'glasses have'} no answer: {joined(counts)}."


def take_talk_back(desk: Desk, sitting_id: str, by: str | None = None) -> str:
    """Take back that a talk was opened, as long as nobody has said anything after it.

    Raises:
        PanelError: if it is not open, or somebody has.
    """
    with desk.store.recording(_KIND) as act:
        facts, sitting = _release_with(desk, sitting_id)
        here = {g.serving_id for g in facts.glasses if g.sitting_id == sitting_id}
        if sitting_id not in open_talks(facts):
            message = f"The talk at {sitting.label} is not open. Nothing was recorded."
            raise PanelError(message)
        if here & said_after(facts).keys():
            message = (
                f"Somebody at {sitting.label} has said something after the talk, so it was held. "
                "Nothing was recorded."
            )
            raise PanelError(message)
        sign(act, by)
        act.add("talk", {"sitting_id": sitting_id, "is_open": False})
    return f"The talk is not open yet: {sitting.label}. Answers may be changed again."


def say_after(
    desk: Desk,
    serving_id: str,
    said: str,
    by: str | None = None,
    *,
    keep_own_words: bool = False,
) -> str:
    """Take what somebody says of one glass after the talk, as the leader types it.

    The same twice is one fact.

    Args:
        desk: The open store.
        serving_id: The glass.
        said: As typed: 0 or "as it should be", ?, a name, or own words.
        by: Who enters it.
        keep_own_words: Whether words that name nothing on the shelf are meant so.

    Raises:
        PanelError: if the talk is not open, nothing was said of the glass before it, or the words
            can't be read.
    """
    with desk.store.recording(_KIND, counts=False) as act:
        facts = session_with(desk, "glass", serving_id)
        glass = one_glass(facts, serving_id)
        fault = ""
        if glass.sitting_id not in open_talks(facts):
            fault = "The talk is not open yet: open it first."
        elif glass.kind is None:
            fault = (
                f"Nothing was said of {glass.label} before the talk: enter that on its sheet first."
            )
        if fault:
            message = f"{fault} Nothing was recorded."
            raise PanelError(message)
        answer = _read(desk, said.strip(), keep_own_words=keep_own_words)
        kept = said_after_as_kept(desk, facts, serving_id)
        if kept != (answer.kind, fold(answer.words or "")):
            sign(act, by)
            act.add_all(talk_rows(serving_id, answer))
    name, words = facts.names[glass.person_id], answer.words or facts.kind_words(answer.kind)
    return f"{name}, {glass.label}, after the talk: {words}."


def said_after_as_kept(desk: Desk, facts: SessionFacts, serving_id: str) -> tuple[str, str] | None:
    """Kind and folded words on record after the talk; None for nothing."""
    rows = desk.store.rows("session_talk_answers", session_id=facts.head.session_id)
    return next(
        (
            (row["kind"], fold(row["words"] or ""))
            for row in rows
            if row["serving_id"] == serving_id
        ),
        None,
    )


def _read(desk: Desk, said: str, *, keep_own_words: bool) -> Answer:
    if fold(said) == fold(AS_IT_SHOULD_BE):
        return NOTHING
    known = vocabulary(desk)
    try:
        answer = read_answer("naming", said, None, known)
    except Unreadable as fault:
        message = f"The answer {fault} Nothing was recorded." if said else _NOTHING_TYPED
        raise PanelError(message) from fault
    meant = {row["words_key"] for row in desk.store.rows("word_readings")}
    if answer.kind == "words" and fold(said) not in meant and not keep_own_words:
        labels = {row["compound"]: row["label"] for row in desk.store.rows("compounds")}
        near = joined([short_label(labels[c]) for c in known.nearest(said)], "or")
        hint = f" Nearest: {near}." if near else ""
        message = (
            f"“{said}” names nothing on the shelf.{hint} Say that these are own words, or type "
            "another. Nothing was recorded."
        )
        raise PanelError(message)
    return answer


_NOTHING_TYPED = "Type what is said now; 0 stands for as it should be. Nothing was recorded."
