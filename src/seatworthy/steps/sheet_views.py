"""What the page on which ballots are typed is given: sheets, and what became of a line."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True)
class SheetRow:
    """One line of somebody's sheet.

    Attributes:
        state: "waiting", "answered", "spilled" or "gone" (the person left before it).
        said: The answer as it stands, in words; "" if none.
        read_as: How it is read: a compound's label, "nothing", "something, no name" or "own words";
            "" without an answer.
        is_aside: Whether it is set aside.
        code: What it is typed under; of a set, the code of the leftmost glass.
        name: What it is called: "417", or "set 3 (417 258 903)".
        codes: Of a forced-choice set, all codes from left to right, one of which is the answer;
            empty for a single glass.
        method: How it is asked about, as in the table serving.
        asks: Label of the compound that is asked about; "" for none.
        is_by_phone: Whether the answer came from the person's own phone.
    """

    serving_id: str
    position: int
    code: str
    state: str
    said: str
    read_as: str
    is_aside: bool
    name: str = ""
    codes: tuple[str, ...] = ()
    method: str = "naming"
    asks: str = ""
    is_by_phone: bool = False


@dataclass(frozen=True)
class SheetTab:
    """One person's sheet in the list of sheets; ``key`` is sitting and person."""

    key: str
    person_id: str
    name: str
    sitting: str
    glasses: int
    answered: int


@dataclass(frozen=True)
class SheetView:
    """One person's sheet, to be filled in from paper.

    Attributes:
        key: Of this sheet.
        is_open: Whether answers may still be entered (the session isn't closed or called off).
        sheets: All sheets of the session, in the order of sittings and names.
        words: Every wording that names a compound, with the compound's label, for completion.
        answer: The sentence on top.
        is_release: Whether every glass asks if the beer is as it should be.
    """

    session_id: str
    session_on: date
    session_label: str
    key: str
    person_id: str
    name: str
    sitting: str
    is_open: bool
    rows: tuple[SheetRow, ...]
    sheets: tuple[SheetTab, ...]
    words: tuple[tuple[str, str], ...]
    answer: str
    catch: str
    is_release: bool = False


@dataclass(frozen=True)
class Entered:
    """What became of one line typed.

    Attributes:
        outcome: "kept", "known" (the same answer was on record already), "asks" (own words: say
            again to keep them), or "refused" (nothing was stored).
        code: The code as typed.
        said: The answer as read, in words.
        read_as: As in `SheetRow`.
        sentence: What the reader is told.
    """

    outcome: str
    code: str
    said: str
    read_as: str
    sentence: str
