"""Who is who: spellings, and two spellings of one person merged or split again."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from difflib import get_close_matches

from seatworthy.errors import PanelError
from seatworthy.intake.words import fold
from seatworthy.steps.desk import Desk
from seatworthy.store.people import record_same_person


@dataclass(frozen=True)
class Spellings:
    """Every spelling on record.

    Attributes:
        ids: Person id by spelling.
        stands_for: Person id by person id, for spellings merged into another.
    """

    ids: Mapping[str, str]
    stands_for: Mapping[str, str]


@dataclass(frozen=True)
class Known:
    """One person with all their spellings, the one shown first."""

    person_id: str
    name: str
    other_spellings: tuple[str, ...]


def known_spellings(desk: Desk, known_at: datetime | None = None) -> Spellings:
    """Every spelling with its id and whom it stands for, as known at a moment (None: now)."""
    rows = desk.store.rows("spellings", known_at)
    return Spellings(
        {row["spelling"]: row["spelled_id"] for row in rows},
        {row["spelled_id"]: row["person_id"] for row in rows},
    )


def everybody(desk: Desk) -> list[Known]:
    """Everybody on record, by name."""
    others: dict[str, list[str]] = {}
    for row in desk.store.rows("spellings"):
        if row["spelling"] != row["stands_for"]:
            others.setdefault(row["person_id"], []).append(row["spelling"])
    return [
        Known(row["person_id"], row["spelling"], tuple(others.get(row["person_id"], ())))
        for row in desk.store.rows("people")
    ]


def merge_people(desk: Desk, spelling: str, into: str) -> None:
    """State that two spellings are one person; what each answered then counts for both.

    Raises:
        PanelError: if a name is not on record, both are one person already, or both answered the
            same glasses or have glasses in one planned session, which one person cannot.
    """
    spellings = known_spellings(desk)
    one, other = _id_of(spellings, spelling), _id_of(spellings, into)
    target = spellings.stands_for[other]
    if spellings.stands_for[one] == target:
        message = f"“{spelling}” and “{into}” are one person on record already."
        raise PanelError(message)
    _refuse_nameless(desk, {spelling: spellings.stands_for[one], into: target})
    shared = desk.store.rows("shared_glasses", one=spellings.stands_for[one], other=target)
    if shared:
        message = (
            f"“{spelling}” and “{into}” both have answers under the same code in {len(shared)} "
            "glasses of one sitting, so they are two people, or a file was taken in twice under "
            "another spelling. If it was, restore the backup from before and say --same."
        )
        raise PanelError(message)
    planned = desk.store.rows("shared_sessions", one=spellings.stands_for[one], other=target)
    if planned:
        session = planned[0]
        message = (
            f"“{spelling}” and “{into}” both have glasses in “{session['label']}” of "
            f"{session['session_on']}, so they are two people. Nothing was recorded."
        )
        raise PanelError(message)
    may_sign = {row["person_id"] for row in desk.store.rows("signers")}
    if {spellings.stands_for[one], target} <= may_sign:
        message = (
            f"“{spelling}” and “{into}” may both sign, each with a PIN of their own. Take the right "
            "away from one of them first. Nothing was recorded."
        )
        raise PanelError(message)
    moving = [
        who for who, meant in spellings.stands_for.items() if meant == spellings.stands_for[one]
    ]
    with desk.store.recording("same person") as act:
        for who in moving:
            record_same_person(act, who, target, is_same=True)


def split_people(desk: Desk, spelling: str) -> None:
    """State that a merged spelling is a person of its own again.

    Raises:
        PanelError: if it is not on record, or was not merged into another.
    """
    spellings = known_spellings(desk)
    who = spellings.ids.get(_written(spellings, spelling), "")
    if not who:
        who = _id_of(spellings, spelling)
    if spellings.stands_for[who] == who:
        message = f"“{spelling}” is not merged into anybody; there is nothing to split."
        raise PanelError(message)
    with desk.store.recording("same person") as act:
        record_same_person(act, who, spellings.stands_for[who], is_same=False)


def find_person(desk: Desk, name: str, known_at: datetime | None = None) -> str:
    """Person id for a name, forgiving about capitals and accents, as known at a moment.

    Raises:
        PanelError: if nobody, or more than one, is called so.
    """
    spellings = known_spellings(desk, known_at)
    return spellings.stands_for[_id_of(spellings, name)]


def _refuse_nameless(desk: Desk, people: Mapping[str, str]) -> None:
    """Refuse whoever was made anonymous: nobody may be known again by another's name."""
    nameless = {row["stands_for"] for row in desk.store.rows("anonymous_spellings")}
    for name, person_id in people.items():
        if person_id in nameless:
            message = f"“{name}” has no name any more and stays as it is. Nothing was recorded."
            raise PanelError(message)


def nearest_names(name: str, known: Iterable[str]) -> list[str]:
    """Up to two names on record that look like this one."""
    by_fold = {fold(other): other for other in known}
    return [by_fold[close] for close in get_close_matches(fold(name), by_fold, n=2, cutoff=0.75)]


def _written(spellings: Spellings, name: str) -> str:
    """The merged spelling that differs from a name by capitals or accents at most, if it is one."""
    merged = [s for s, i in spellings.ids.items() if spellings.stands_for[i] != i]
    alike = [spelling for spelling in merged if fold(spelling) == fold(name)]
    return name if name in spellings.ids else alike[0] if len(alike) == 1 else name


def _id_of(spellings: Spellings, name: str) -> str:
    if name in spellings.ids:
        return spellings.ids[name]
    meant = {
        spellings.stands_for[i]
        for s, i in spellings.ids.items()
        if fold(name) in (fold(s), fold(s).split(" ")[0])
    }
    if len(meant) == 1:
        return meant.pop()
    near = nearest_names(name, spellings.ids)
    hint = f" Did you mean {' or '.join(near)}?" if near else ""
    several = "More than one person is" if meant else "Nobody on record is"
    message = f"{several} called “{name}”.{hint} See all with: seatworthy people."
    raise PanelError(message)
