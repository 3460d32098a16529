"""What the brewers' pages show: words, and figures only where the leader allows them.

Nothing here is taken from a score but whether somebody can be asked, unless `figures` says so: a
page that is given such a view has no score to give away.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

from seatworthy.steps.views import Choice

Fitness = Literal["asked", "not", "untested"]

FITNESS_WORDS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "asked": "can be asked",
        "not": "don't count on them for it",
        "untested": "not tested enough",
    }
)


@dataclass(frozen=True)
class FitCell:
    """Whether one person can be asked about one compound.

    Attributes:
        figures: "9 of 10" named right, of the counted glasses; "" unless the leader allows it.
    """

    fitness: Fitness
    figures: str


@dataclass(frozen=True)
class FitRow:
    """One compound and everybody, in the order of the people.

    Attributes:
        label: The word people say.
        is_critical: Whether the beer family lists it so.
    """

    label: str
    is_critical: bool
    cells: tuple[FitCell, ...]


@dataclass(frozen=True)
class FitView:
    """Who can be asked about which compound today.

    Attributes:
        families: To choose from, by label.
        answer: First half of the sentence on top.
        catch: The half that needs a person, "" if nothing does.
        people: First names of those who sit for the family, by name.
        rows: Critical compounds first.
        empty: Why there is nothing to show; "" otherwise. Then all else but the families is empty.
    """

    families: tuple[Choice, ...]
    family: Choice
    answer: str
    catch: str
    lead: str
    people: tuple[str, ...]
    rows: tuple[FitRow, ...]
    empty: str = ""


@dataclass(frozen=True)
class TableRow:
    """One critical compound and those at the table.

    Attributes:
        label: The word people say, of a group all of them.
        state: "enough", "thin" or "nobody".
        here: Who at the table can be asked, first names, with figures where they are allowed.
        elsewhere: Who sits for the family, isn't at the table, and can be asked.
    """

    label: str
    state: Literal["enough", "thin", "nobody"]
    here: tuple[str, ...]
    elsewhere: tuple[str, ...]


@dataclass(frozen=True)
class TableView:
    """What those at the table cover; fields as in `FitView`.

    Attributes:
        people: Who may be chosen: everybody who sits for the family, by name.
    """

    families: tuple[Choice, ...]
    family: Choice
    answer: str
    catch: str
    lead: str
    people: tuple[Choice, ...]
    rows: tuple[TableRow, ...]
    empty: str = ""


@dataclass(frozen=True)
class SaidLine:
    """One taster's word.

    Attributes:
        head: "Bo said DMS".
        words: Whether it counts for what the call is about.
    """

    head: str
    words: str


@dataclass(frozen=True)
class CallInWords:
    """A weighed call without a number in it, unless the leader allows them.

    Attributes:
        where: Small words on top.
        possible: What the beer may have, and how likely, in words.
        said: Every taster's word.
        step: What to do next; "" where no chance is given.
    """

    where: tuple[str, ...]
    answer: str
    catch: str
    lead: str
    possible: tuple[tuple[str, str], ...]
    said: tuple[SaidLine, ...]
    step: str
