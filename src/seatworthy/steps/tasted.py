"""What each taster said of one beer: the hand-over from a sitting to the weighing of a call."""

from dataclasses import dataclass
from typing import Final, Literal

Kind = Literal["nothing", "named", "something"]

NOTHING: Final = "nothing"  # as it should be
NAMED: Final = "named"  # not as it should be, and a compound on the list is why
SOMETHING: Final = "something"  # not as it should be, without a name that is on the list


@dataclass(frozen=True)
class Tasted:
    """One taster's word on one beer.

    Attributes:
        person_id: Who.
        name: The name they are known by.
        kind: What they said before any talk.
        compound: The compound named, None without one.
        words: Their own words, "" without.
        after: What they said after the talk, None if they said nothing more.
        after_compound: The compound named then.
        after_words: Their own words then.
    """

    person_id: str
    name: str
    kind: Kind
    compound: str | None = None
    words: str = ""
    after: Kind | None = None
    after_compound: str | None = None
    after_words: str = ""
