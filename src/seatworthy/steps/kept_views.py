"""What is shown of what is kept about a person."""

from dataclasses import dataclass
from datetime import date

from seatworthy.steps.views import Choice


@dataclass(frozen=True)
class KeptLine:
    """One kind of thing that is kept.

    Attributes:
        head: Under which it stands ("Sessions").
        key: Table and column.
        words: What it is, in the number of `rows`.
        first_on: Day of the first at the brewery; None where no moment is kept with it.
        last_on: Of the last, likewise.
    """

    head: str
    key: str
    words: str
    rows: int
    first_on: date | None
    last_on: date | None


@dataclass(frozen=True)
class KeptView:
    """All that is kept about one person.

    Attributes:
        answer, catch, lead: The sentence on top and what follows from it.
        known_as: Their other spellings.
        said: What is on record in so many words: since when on the panel, roles, what is not to be
            served, the ballot's language; sentences.
        lines: Every kind of thing of which there is any, in the order of their heads.
        nothing_in: Kinds of which there is none, as a list in words.
        people: Everybody to choose from.
        is_anonymous: Whether their name is gone.
    """

    person_id: str
    name: str
    answer: str
    catch: str
    lead: str
    known_as: tuple[str, ...]
    said: tuple[str, ...]
    lines: tuple[KeptLine, ...]
    nothing_in: tuple[str, ...]
    people: tuple[Choice, ...]
    today: date
    is_anonymous: bool
