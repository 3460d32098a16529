"""What a panellist's ballot is given to show, and what comes back from it.

Nothing here says what is in a glass: a view of a ballot is all that a phone may ever be told before
the reveal.
"""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

OPEN, EARLY, TALK, HANDED_IN, AWAY, CALLED_OFF, REVEALED = (
    "open",
    "early",
    "talk",
    "handed_in",
    "away",
    "called_off",
    "revealed",
)
SURENESS = ("guess", "fairly", "certain")


@dataclass(frozen=True)
class NameOffered:
    """A compound that may be named, the same list whatever is poured.

    Attributes:
        compound: Its key.
        label: Its short name.
        word: What is said of it ("butterscotch"); may be "".
        wordings: Further words that name it, for searching.
        said: How an answer that names it is kept; read again, it names this compound.
    """

    compound: str
    label: str
    word: str
    wordings: tuple[str, ...] = ()
    said: str = ""


@dataclass(frozen=True)
class OwnAnswer:
    """What somebody said of a glass.

    Attributes:
        kind: "nothing", "something", "words", "picked", "yes", "no" or "rating".
        words: Of "words": as they were written, or the name that was chosen.
        rating: Of "rating".
        picked: Of "picked": the code.
        sureness: One of `SURENESS`; "" if not said.
    """

    kind: str
    words: str = ""
    rating: Decimal | None = None
    picked: str = ""
    sureness: str = ""


@dataclass(frozen=True)
class BallotGlass:
    """One glass, or one forced-choice set, on its own page.

    Attributes:
        place: Running number from 1 on this ballot.
        codes: What stands on it; of a set all its codes from left to right.
        method: "naming", "triangle", "3afc", "2afc", "duo_trio", "a_not_a" or "intensity".
        asked: Label of the compound that is asked about in "a_not_a" and "intensity"; may be "".
        state: "waiting", "answered" or "spilled".
        answer: What is on record; None without an answer.
        answers: How many answers to it are on record, so that a form knows what it was drawn with.
        asks_beer: Label of the beer that is asked about in "a_not_a"; "" where a compound is.
        after: What is on record since the talk; None without it.
        afters: How many answers since the talk are on record.
    """

    serving_id: str
    place: int
    codes: tuple[str, ...]
    method: str
    asked: str
    state: str
    answer: OwnAnswer | None
    answers: int
    asks_beer: str = ""
    after: OwnAnswer | None = None
    afters: int = 0

    @property
    def is_set(self) -> bool:
        """Whether one of several glasses is picked."""
        return len(self.codes) > 1


@dataclass(frozen=True)
class BallotView:
    """One person's ballot at one sitting.

    Attributes:
        name: Whose it is.
        language: "en", "de" or "es".
        state: `OPEN`, `EARLY` (before its day), `TALK` (the answers before the talk are sealed, those
            after it come in), `HANDED_IN` (the sitting is over, what was in the glasses is not told
            yet), `AWAY` (recorded as not tasting), `CALLED_OFF`, or `REVEALED`.
        session_on: Its day.
        starts_at: Time by the brewery's clock; None if none was stated.
        glasses: In the order of serving.
        names: What may be named; empty if nothing is to be named.
        spits: Whether everybody spits.
        alcohol_limit_g: Grams that may be swallowed in the session.
        is_own_word: With `AWAY`: whether they said so themselves, and may take it back.
        is_nudged: Whether the leader asks for the answers that are missing.
        expires_on: Last day of the link, by the brewery's clock.
        has_control: Whether a control, named as such, is poured first.
        is_release: Whether every glass asks if the beer is as it should be.
    """

    name: str
    language: str
    state: str
    session_on: date
    starts_at: datetime | None
    glasses: tuple[BallotGlass, ...]
    names: tuple[NameOffered, ...]
    spits: bool
    alcohol_limit_g: Decimal
    is_own_word: bool
    is_nudged: bool
    expires_on: date
    has_control: bool = False
    is_release: bool = False

    @property
    def waits_after(self) -> tuple[BallotGlass, ...]:
        """Glasses of which something was said before the talk, and nothing yet after it."""
        return tuple(g for g in self.glasses if g.state == "answered" and g.after is None)

    @property
    def waiting(self) -> tuple[BallotGlass, ...]:
        """Glasses that still wait for an answer."""
        return tuple(glass for glass in self.glasses if glass.state == "waiting")

    @property
    def answered(self) -> int:
        """How many glasses are answered."""
        return sum(glass.state == "answered" for glass in self.glasses)


@dataclass(frozen=True)
class FormAnswer:
    """What a form holds, as it was sent.

    Attributes:
        choice: "nothing", "something", "yes", "no", a compound's key, or the code picked; "" for none.
        words: Own words; "" for none.
        rating: As written on the scale; "" for none.
        sureness: One of `SURENESS`; "" if not said.
        seen: `BallotGlass.answers` when the form was drawn (after the talk, `BallotGlass.afters`);
            None if it does not say.
        is_after: Whether it says what somebody says after the talk.
    """

    choice: str = ""
    words: str = ""
    rating: str = ""
    sureness: str = ""
    seen: int | None = None
    is_after: bool = False


@dataclass(frozen=True)
class BallotDone:
    """What became of a form.

    Attributes:
        outcome: "kept", "known" (it was on record already), "meanwhile" (another answer came in since
            the form was drawn; nothing was stored), "refused" or "closed" (nothing was stored).
        fault: With "refused", why: "no_choice" (nothing chosen), "two_things" (two contrary things
            chosen), "unreadable" (the words can't be read as an answer), "too_long", "not_listed" (the
            compound is not on the list any more), "not_here" (no such glass on this ballot, or
            nothing that may be said of it), "spilled", "rating" (not on the scale), "no_room" (the
            computer could not store it), "not_before" (after the talk: nothing was said of this glass
            before it). Else "".
        view: The ballot as it stands after it.
    """

    outcome: str
    fault: str
    view: BallotView


@dataclass(frozen=True)
class OwnGlass:
    """One of somebody's glasses after the reveal.

    Attributes:
        place, codes: As on the ballot.
        was: Label of what was in it; "" for nothing added.
        level: Multiple of threshold; None if none is stated.
        odd: Code of the glass of a set that differed; "" for a single glass.
        held_by_others: Of a set: whether all the others held it, and the odd one did not.
        said: What was said.
        said_label: Label of the compound that the words were read as; "" if they name none.
        outcome: "right", "wrong" (another name), "open" (noticed, no name, or own words that wait for
            a meaning), "missed", "called" (yes, where it is not), "rated" (no right or wrong),
            "judged" (a beer of which nobody knows what is in it), "not_known" (no, where it is that
            beer), "taken_for" (yes, where it is not), "spilled", or "" (not answered).
        note: Why it doesn't count: "", "prepared" (they prepared it), "aside", "unfit" (prepared too
            early, from an expired lot, or unevenly), or "waits" (own words that wait for a meaning).
        after: What was said after the talk; None if nothing was.
        beer: What it was where a beer was poured as it is; "" for a preparation.
    """

    place: int
    codes: tuple[str, ...]
    was: str
    level: Decimal | None
    odd: str
    held_by_others: bool
    said: OwnAnswer | None
    said_label: str
    outcome: str
    note: str
    after: OwnAnswer | None = None
    beer: str = ""


@dataclass(frozen=True)
class OwnFeedback:
    """Somebody's own page after the reveal; nobody else is on it.

    Attributes:
        right, counted: Glasses that count and have a right and wrong, and those of them that were right.
        mixed_up: Labels of what was in a glass and what it was called, of the commonest mix-up; None.
        has_tasted: Whether they tasted at this sitting at all.
        is_release: As in `BallotView`.
    """

    name: str
    language: str
    session_on: date
    glasses: tuple[OwnGlass, ...]
    right: int
    counted: int
    mixed_up: tuple[str, str] | None
    expires_on: date
    has_tasted: bool = True
    is_release: bool = False


@dataclass(frozen=True)
class LinkLine:
    """One seat's link, for the leader.

    Attributes:
        key: Of the seat, as in `steps.sheets.sheet_key`.
        secret: The link's last part; "" if this process doesn't know it (it is stored as a digest).
        handed_out_at: When it was made (local); None if there is none.
        expires_on: Its last day; None if there is none.
        opened: Whether somebody opened it since this process started.
    """

    key: str
    sitting_id: str
    person_id: str
    name: str
    sitting: str
    language: str
    secret: str
    handed_out_at: datetime | None
    expires_on: date | None
    opened: bool
