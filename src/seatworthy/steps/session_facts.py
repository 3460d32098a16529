"""One session whole, as it stands on record: what was planned, poured and said, and what became of it."""

from datetime import UTC, datetime
from functools import cached_property
from typing import Any, Final

from seatworthy.errors import PanelError
from seatworthy.sessions.wish import INTENSITY, NAMING
from seatworthy.steps.desk import Desk
from seatworthy.steps.labels import item_label, short_label
from seatworthy.steps.sentences import in_sentence
from seatworthy.steps.session_parts import (
    AS_IT_SHOULD_BE,
    NO_COMPOUND_MEANT,
    NOT_AS_IT_SHOULD_BE,
    NOTHING_ADDED,
    NOTHING_SAID,
    OWN_WORDS,
    SOMETHING_SAID,
    Glass,
    Head,
    Sample,
    SetPart,
    Sitting,
    SpareGlass,
)

_SESSIONS_KEPT: Final = 8
# What no answer changes: it is handed on from one answer to the next.
_LEFT_BY_ANSWERS: Final = (
    "sittings", "samples", "_parts", "seated", "spares", "preparers", "names", "labels",
)  # fmt: skip


class SessionFacts:
    """Everything on record about one session; each part is read when it is first asked for.

    Args:
        desk: The open store.
        head: The session itself.
    """

    def __init__(self, desk: Desk, head: Head) -> None:
        self.desk, self.head = desk, head

    @cached_property
    def sittings(self) -> tuple[Sitting, ...]:
        """In the order of their times."""
        rows = self.desk.store.rows("session_sittings", session_id=self.head.session_id)
        return tuple(Sitting(**row) for row in rows)

    @cached_property
    def samples(self) -> dict[str, Sample]:
        """Samples by id."""
        rows = self.desk.store.rows("session_samples", session_id=self.head.session_id)
        return {row["sample_id"]: Sample(**row) for row in rows}

    @cached_property
    def glasses(self) -> tuple[Glass, ...]:
        """Every glass and every set of every sitting."""
        rows = self.desk.store.rows("session_glasses", session_id=self.head.session_id)
        return tuple(self._glass(row) for row in rows)

    def _glass(self, row: dict[str, Any]) -> Glass:
        right_for = tuple(row.pop("right_for") or ())
        return Glass(**row, right_for=right_for, parts=self._parts.get(row["serving_id"], ()))

    @cached_property
    def methods(self) -> dict[str, str]:
        """How the single glasses of each sample are asked about, also where nobody is poured one yet."""
        own = {glass.planned_sample_id: glass.method for glass in self.glasses}
        letters = {self.samples[sample].mark: method for sample, method in own.items()}
        return {
            key: own.get(key) or letters.get(sample.mark) or (INTENSITY if sample.asks else NAMING)
            for key, sample in self.samples.items()
        }

    @cached_property
    def _parts(self) -> dict[str, tuple[SetPart, ...]]:
        """The glasses of each forced-choice set, from left to right, by serving."""
        found: dict[str, list[SetPart]] = {}
        for row in self.desk.store.rows("session_sets", session_id=self.head.session_id):
            found.setdefault(row.pop("serving_id"), []).append(SetPart(**row))
        return {serving: tuple(parts) for serving, parts in found.items()}

    @cached_property
    def outcomes(self) -> dict[str, str]:
        """What each answered glass came to, as in the view answered_glass, by serving."""
        rows = self.desk.store.rows("session_outcomes", session_id=self.head.session_id)
        return {row["serving_id"]: row["outcome"] for row in rows}

    @cached_property
    def seated(self) -> dict[tuple[str, str], str]:
        """State by sitting and person; people of a file are not among them."""
        rows = self.desk.store.rows("session_seated", session_id=self.head.session_id)
        return {(row["sitting_id"], row["person_id"]): row["state"] for row in rows}

    @cached_property
    def spares(self) -> tuple[SpareGlass, ...]:
        """Every glass of every spare order."""
        rows = self.desk.store.rows("session_spares", session_id=self.head.session_id)
        return tuple(SpareGlass(**row) for row in rows)

    @cached_property
    def preparers(self) -> tuple[str, ...]:
        """Person ids of panellists who prepare."""
        rows = self.desk.store.rows("session_preparers", session_id=self.head.session_id)
        return tuple(row["person_id"] for row in rows)

    @cached_property
    def names(self) -> dict[str, str]:
        """Name by person id, of everybody on record."""
        return {row["person_id"]: row["spelling"] for row in self.desk.store.rows("people")}

    @cached_property
    def labels(self) -> dict[str, str]:
        """Label by compound."""
        return {row["compound"]: row["label"] for row in self.desk.store.rows("compounds")}

    @property
    def is_open(self) -> bool:
        """Whether answers may still come in."""
        return self.head.purpose is not None and self.head.how is None

    @property
    def state(self) -> str:
        """As in `SessionLine.state`."""
        over = sum(sitting.is_over for sitting in self.sittings)
        answered = any(glass.kind for glass in self.glasses)
        return session_state(self.head.purpose, self.head.how, answered, over == len(self.sittings))

    def seat_state(self, sitting_id: str, person_id: str) -> str:
        """Where somebody is: "expected", "late", "left" or "absent"."""
        return self.seated.get((sitting_id, person_id), "expected")

    def is_waiting(self, glass: Glass) -> bool:
        """Whether an answer to this glass is still to come."""
        return (
            glass.kind is None
            and glass.event != "spilled"
            and self.seat_state(glass.sitting_id, glass.person_id) not in ("left", "absent")
        )

    def outcome(self, glass: Glass) -> str | None:
        """What an answer came to, as in the view answered_glass; None without an answer."""
        return self.outcomes.get(glass.serving_id)

    def glasses_of(self, sitting_id: str, person_id: str) -> tuple[Glass, ...]:
        """Somebody's glasses at one sitting, in the order of serving."""
        return self._by_seat.get((sitting_id, person_id), ())

    @cached_property
    def _by_seat(self) -> dict[tuple[str, str], tuple[Glass, ...]]:
        found: dict[tuple[str, str], list[Glass]] = {}
        for glass in self.glasses:
            found.setdefault((glass.sitting_id, glass.person_id), []).append(glass)
        return {
            seat: tuple(sorted(some, key=lambda glass: glass.position or 0))
            for seat, some in found.items()
        }

    def people_at(self, sitting_id: str) -> list[str]:
        """Person ids of one sitting, by name."""
        seats = {person for sitting, person in self._by_seat if sitting == sitting_id}
        seats |= {person for sitting, person in self.seated if sitting == sitting_id}
        return sorted(seats, key=lambda person: self.names[person].casefold())

    def people(self) -> list[str]:
        """Everybody with a glass, by name."""
        found = {glass.person_id for glass in self.glasses}
        return sorted(found, key=lambda person: self.names[person].casefold())

    def samples_at(self, sitting_id: str) -> list[Sample]:
        """The samples of one sitting, by letter."""
        own = [sample for sample in self.samples.values() if sample.sitting_id == sitting_id]
        return sorted(own, key=lambda sample: sample.mark)

    def spares_at(self, sitting_id: str, *, free: bool = True) -> dict[int, list[SpareGlass]]:
        """Spare orders of one sitting by number; only those nobody took, unless ``free`` is off."""
        found: dict[int, list[SpareGlass]] = {}
        for glass in self.spares:
            if glass.sitting_id == sitting_id and not (free and glass.taken_by):
                found.setdefault(glass.spare_no, []).append(glass)
        return found

    def local(self, moment: datetime | None) -> datetime | None:
        """A moment of the store as the clock showed it at the brewery."""
        if moment is None:
            return None
        zoned = moment.replace(tzinfo=UTC).astimezone(self.desk.time_zone)
        return zoned.replace(tzinfo=None)

    def compound_label(self, compound: str | None) -> str:
        """Short label of what is in a sample; "nothing added" for a blank."""
        if compound is None:
            return NOTHING_ADDED
        return short_label(self.labels.get(compound, compound))

    def sample_label(self, sample: Sample) -> str:
        """What is in a sample: a compound, "nothing added", or a beer that is poured as it is."""
        return sample.poured_label or self.compound_label(sample.compound)

    def asked_label(self, sample_id: str) -> str:
        """Label inside a sentence of the compound a sample's glasses ask about; "" for none."""
        asks = self.samples[sample_id].asks
        return in_sentence(self.compound_label(asks)) if asks else ""

    def asked_beer(self, sample_id: str) -> str:
        """Label of the beer a sample's glasses ask about; "" for none."""
        return self.samples[sample_id].asks_beer_label

    def kind_words(self, kind: str) -> str:
        """How "nothing" and "something" are said in this session; any other kind as it is."""
        if self.head.is_release:
            fixed = {"nothing": AS_IT_SHOULD_BE, "something": NOT_AS_IT_SHOULD_BE}
        else:
            fixed = {"nothing": NOTHING_SAID, "something": SOMETHING_SAID}
        return fixed.get(kind, kind)

    def said(self, glass: Glass) -> str:
        """An answer in words as its ballot had them; "" without one."""
        if glass.kind in ("nothing", "something"):
            return self.kind_words(glass.kind)
        return glass.said

    def read_as(self, glass: Glass) -> str:
        """How an answer is read: a compound's label, or one of the words above; "" without one."""
        if glass.kind == "words" and glass.named_compound:
            return self.compound_label(glass.named_compound)
        if glass.kind == "words" and glass.right_for:
            return item_label(glass.right_for, self.labels)
        if glass.kind == "words":
            return NO_COMPOUND_MEANT if glass.is_known else OWN_WORDS
        return self.said(glass)

    def prepares_own(self, person_id: str) -> bool:
        """Whether this person's answers don't count because they prepared the glasses."""
        by_preparer = self.head.recoded_by in self.preparers
        return person_id in self.preparers and (by_preparer or not self.head.is_recoded)


def session_state(purpose: str | None, how: str | None, answered: bool, all_over: bool) -> str:
    """The state of a session in one word of `SessionLine.state`."""
    if purpose is None:
        return "brought_in"
    if how is not None:
        return how
    if all_over:
        return "over"
    return "in_hand" if answered else "planned"


def session_facts(desk: Desk, session_id: str) -> SessionFacts | None:
    """Everything about one session; None if there is none of this id.

    What was read of it is kept until something is recorded: a page and its parts ask many times.
    """
    asked = (desk.version, session_id)
    facts = desk.sessions.get(asked)
    if facts is None:
        head = desk.store.rows("session", session_id=session_id)
        if not head:
            return None
        facts = desk.sessions[asked] = SessionFacts(desk, Head(**head[0]))
        while len(desk.sessions) > _SESSIONS_KEPT:
            desk.sessions.popitem(last=False)
    return facts


def after_an_answer(facts: SessionFacts, entry_no: int) -> None:
    """Keep for the next reader what an act of answering left as it was, so that it isn't read again.

    Args:
        facts: The session as it was read in that act, under the store's lock.
        entry_no: The act, which added an answer and nothing else.
    """
    desk, session_id = facts.desk, facts.head.session_id
    if desk.sessions.pop((entry_no - 1, session_id), None) is facts:
        again = desk.sessions[entry_no, session_id] = SessionFacts(desk, facts.head)
        known = vars(facts)
        vars(again).update({part: known[part] for part in _LEFT_BY_ANSWERS if part in known})


def open_session(desk: Desk, session_id: str) -> SessionFacts:
    """Like `session_facts`, for what may only be done before a session is closed.

    Raises:
        PanelError: if there is no such session, or it is closed, called off or from a file.
    """
    facts = session_facts(desk, session_id)
    if facts is None:
        message = "There is no such session on record. Open it from the list of sessions."
        raise PanelError(message)
    return _still_open(facts)


def _still_open(facts: SessionFacts) -> SessionFacts:
    if not facts.is_open:
        how = {
            "closed": "is closed: what was in the glasses is known, so nothing there changes any more",
            "called_off": "was called off",
        }.get(facts.head.how or "", "was brought in from a file and has no plan")
        message = f"“{facts.head.label}” {how}. Nothing was recorded."
        raise PanelError(message)
    return facts


def session_with(desk: Desk, kind: str, thing_id: str, *, is_open: bool = True) -> SessionFacts:
    """The session that a "sitting", "sample" or "glass" belongs to.

    Args:
        desk: The open store.
        kind: What it is.
        thing_id: Its id.
        is_open: Whether only a session that is neither closed nor called off will do.

    Raises:
        PanelError: if it is not on record, or its session is not open and must be.
    """
    found = _where(desk, kind, thing_id)
    facts = session_facts(desk, found[0]["session_id"]) if found else None
    if facts is None:
        message = f"There is no such {kind} on record. Open the session again from the list."
        raise PanelError(message)
    return _still_open(facts) if is_open else facts


def _where(desk: Desk, kind: str, thing_id: str) -> list[dict[str, Any]]:
    if kind == "sitting":
        return desk.store.rows("where_is_sitting", sitting_id=thing_id)
    if kind == "sample":
        return desk.store.rows("where_is_sample", sample_id=thing_id)
    return desk.store.rows("where_is_glass", serving_id=thing_id)


def one_glass(facts: SessionFacts, serving_id: str) -> Glass:
    """A glass of a session by its id; raises ``KeyError`` for one of another session."""
    return {glass.serving_id: glass for glass in facts.glasses}[serving_id]
