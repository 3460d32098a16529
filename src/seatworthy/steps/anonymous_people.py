"""Makes a person anonymous: their name and own words go for good, their facts stay.

After article 17 of the GDPR and its recital 26, from memory and without a legal claim: what is left is
about nobody who can be known by it, as far as a record of few people can be.
"""

from dataclasses import dataclass
from typing import Final

from seatworthy.errors import PanelError
from seatworthy.phrases import STATE_WORDS
from seatworthy.rules.seat_states import HOLDS_SEAT
from seatworthy.steps.desk import Desk
from seatworthy.steps.history_phrases import counted, plain_day
from seatworthy.steps.kept_about import spelled_ids
from seatworthy.steps.panel import people_of_panel
from seatworthy.steps.people import known_spellings
from seatworthy.steps.seats import seat_states, signatures, signed_decisions
from seatworthy.steps.sentences import joined
from seatworthy.steps.signers import check_pin, signers
from seatworthy.steps.signing import sign
from seatworthy.store import anonymous
from seatworthy.store.anonymous_mark import add_to_mark, write_mark
from seatworthy.store.rewriting import rewrite_open

_NOTHING: Final = "Nothing was recorded."
GOES: Final = (
    "The name, in every spelling; what stands in its place is “Somebody made anonymous” with four letters.",
    "Own words that nobody has given a meaning, remarks, replies, what was said after a talk.",
    (
        "Reasons written about their glasses and seats, and remarks and reasons that they wrote; what they "
        "gave as the reason for another person's seat stays as part of that person's record unless it "
        "names them."
    ),
    "Texts by others, and names of files brought in, that hold the name.",
    "The PIN, the right to sign, the place on the panel; the links to their ballots open nothing any more.",
)
STAYS: Final = (
    (
        "What they were served, not to be served and answered, the decisions about their seats, what they "
        "signed and prepared: under the random number they always had. The evidence and everybody else's verdicts "
        "stay as they are, and the chain still adds up."
    ),
    "Own words that stand in the brewery's list of words: they are the brewery's by now.",
)
KNOW: Final = (
    "It cannot be undone. Copies elsewhere, on sticks, other machines or paper, are the leader's to see to.",
    (
        "A results file that is brought in later and holds the name makes a new person: nobody can know "
        "that it was this one."
    ),
    "In a small brewery what stays may still tell colleagues whose it was.",
)


@dataclass(frozen=True)
class Going:
    """What making somebody anonymous would do.

    Attributes:
        texts: How many texts would go.
        sealed: Sentences about where the name stands in what is sealed word for word, and so stays.
        needs_pin: Whether somebody who may sign has to stand behind it.
    """

    person_id: str
    name: str
    texts: int
    sealed: tuple[str, ...]
    needs_pin: bool


def anonymous_people(desk: Desk) -> frozenset[str]:
    """Ids of whoever was made anonymous, every spelling's too."""
    rows = desk.store.rows("anonymous_spellings")
    return frozenset({row["person_id"] for row in rows} | {row["stands_for"] for row in rows})


def what_goes(desk: Desk, person_id: str) -> Going:
    """What would go, and what of the name would stay.

    Raises:
        PanelError: if nobody has this id.
    """
    name, ids = _name_of(desk, person_id), spelled_ids(desk, person_id)
    with desk.store.reading() as cursor:
        texts = anonymous.texts_to_go(cursor, ids)
        sealed = list(anonymous.sealed_places(cursor, ids))
    words = tuple(
        f"{counted(rows, 'text')} under “{table.replace('_', ' ')}, {column.replace('_', ' ')}” "
        f"{'holds' if rows == 1 else 'hold'} a part of the name and cannot be changed: the chain is "
        "sealed over every letter of it."
        for table, column, rows in sealed
    )
    return Going(person_id, name, texts, words, bool(signers(desk)))


def what_is_first(desk: Desk, person_id: str) -> tuple[str, ...]:
    """What must be done before somebody can be made anonymous, each a sentence; () if nothing.

    Raises:
        PanelError: if nobody has this id.
    """
    return _hindrances(desk, person_id, _name_of(desk, person_id))


def make_anonymous(desk: Desk, person_id: str, by: str | None = None, pin: str = "") -> str:
    """Take somebody's name and own words away for good, in one act.

    Args:
        desk: The open store.
        person_id: Whom.
        by: Who may sign and stands behind it; nobody has to while nobody may sign.
        pin: Their PIN.

    Raises:
        PanelError: if something must be done first, or the PIN is wrong.
    """
    with desk.store.alone():
        name, ids = _name_of(desk, person_id), spelled_ids(desk, person_id)
        if found := _hindrances(desk, person_id, name):
            message = f"{' '.join(found)} {_NOTHING}"
            raise PanelError(message)
        if signers(desk):
            check_pin(desk, by or "", pin) if by else _refuse_unsigned(desk)
        before = add_to_mark(desk.store.path, ids)  # first: a kill after the act forgets nothing
        try:
            with desk.store.recording("made anonymous") as act:
                anonymous.make_anonymous(act, ids)
                sign(act, by)
        except BaseException:
            write_mark(desk.store.path, before)
            raise
    return _told(desk, person_id, is_gone=rewrite_open(desk.store))


def refuse_unread() -> str:
    """Refuse while nobody said that they read what goes.

    Raises:
        PanelError: always.
    """
    message = f"Tick that you have read what goes for good. {_NOTHING}"
    raise PanelError(message)


def is_file_clean(desk: Desk) -> bool:
    """Try to write the store's file anew if that is still due; whether nothing is left in it."""
    return rewrite_open(desk.store)


def _told(desk: Desk, person_id: str, *, is_gone: bool) -> str:
    name = _name_of(desk, person_id)
    done = f"{name} is all that is left of the name"
    if is_gone:
        return f"{done}; the store's file was written anew without it."
    return (
        f"{done}. Somebody was reading, so the file itself is written anew when Seatworthy is next "
        "stopped or started."
    )


def _hindrances(desk: Desk, person_id: str, name: str) -> tuple[str, ...]:
    if person_id in anonymous_people(desk):
        return (f"{name} has no name left to take away.",)
    found = [*_seats_held(desk, person_id, name)]
    sessions = desk.store.rows("kept_open_sessions", person_id=person_id)
    if sessions:
        named = [f"{row['label']} of {plain_day(row['session_on'])}" for row in sessions]
        found.append(f"{name} is planned for {joined(named)}: close or call off first.")
    if any(one.person_id == person_id for one in signers(desk)):
        only = len(signers(desk)) == 1
        first = "appoint somebody else and take the right" if only else "take the right"
        found.append(f"{name} may sign: {first} away first, under People.")
    return tuple(found)


def _seats_held(desk: Desk, person_id: str, name: str) -> list[str]:
    today, signed = desk.today(), signatures(desk)
    labels = {one.family: one.family_label or one.family for one in signed_decisions(desk)}
    held = {
        family: STATE_WORDS[str(state.state)]
        for (person, family), state in seat_states(desk, today, None, signed).items()
        if person == person_id and state.holds_seat
    }
    for (person, family), own in signed.items():
        latest = max(own, key=lambda one: one.entry_no)
        if person == person_id and latest.from_on > today and latest.state in HOLDS_SEAT:
            held.setdefault(family, f"on the panel from {plain_day(latest.from_on)}")
    return [
        f"{name} is {words} for {labels.get(family, family)}: sign first that they left the panel, "
        "under Seats."
        for family, words in sorted(held.items())
    ]


def _refuse_unsigned(desk: Desk) -> None:
    names = joined([signer.name for signer in signers(desk)], "or")
    message = f"Somebody who may sign must stand behind it: {names}. {_NOTHING}"
    raise PanelError(message)


def _name_of(desk: Desk, person_id: str) -> str:
    for person in people_of_panel(desk):
        if person.person_id == person_id:
            return person.name
    known = known_spellings(desk).ids.values()
    merged = " It is another spelling of somebody; choose them." if person_id in known else ""
    message = f"Nobody on the list of people goes by that id.{merged} {_NOTHING}"
    raise PanelError(message)
