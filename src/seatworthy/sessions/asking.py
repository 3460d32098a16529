"""A wish with the facts it is checked against, and the few things read off it in many places."""

from collections import Counter
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from string import ascii_uppercase
from zoneinfo import ZoneInfo

from seatworthy.sessions.plan import PersonFacts, PlannedSample, ShelfFacts
from seatworthy.sessions.wish import WantedSample, Wish
from seatworthy.sessions.wording import in_sentence


@dataclass(frozen=True)
class Asking:
    """Everything `layout.lay_out` is given.

    Attributes:
        people: Everybody on record, by person id.
        taken: Codes that may not be drawn.
        today: The day it is at the brewery.
        zone: The brewery's.
        label_key: What two spellings of one name share, "" for a name that says nothing.
    """

    wish: Wish
    shelf: ShelfFacts
    people: Mapping[str, PersonFacts]
    taken: Collection[str]
    today: date
    zone: ZoneInfo
    label_key: Callable[[str], str]

    @cached_property
    def comers(self) -> tuple[str, ...]:
        """Person ids of those who come, each once, in the order of the wish."""
        return tuple(dict.fromkeys(p for sitting in self.wish.sittings for p in sitting.people))

    @cached_property
    def samples(self) -> tuple[PlannedSample, ...]:
        """The samples with their letters."""
        return tuple(
            PlannedSample(letter(index), wanted.compound, wanted.level, wanted.addition,
                          wanted.glasses)
            for index, wanted in enumerate(self.wish.samples)
        )  # fmt: skip

    @cached_property
    def glasses(self) -> int:
        """Glasses with a code of a person for whom nothing is left out."""
        return sum(max(0, sample.glasses) for sample in self.wish.samples)

    @cached_property
    def repeated_labels(self) -> tuple[str, ...]:
        """Names that more than one sitting bears, as first written."""
        counts = Counter(self.label_key(sitting.label) for sitting in self.wish.sittings)
        first = {self.label_key(s.label): s.label for s in reversed(self.wish.sittings)}
        return tuple(first[key] for key, count in counts.items() if key and count > 1)

    @cached_property
    def spiked(self) -> dict[str, list[WantedSample]]:
        """Samples with something in them, by compound, in the order of the wish."""
        found: dict[str, list[WantedSample]] = {}
        for sample in self.wish.samples:
            if sample.compound is not None:
                found.setdefault(sample.compound, []).append(sample)
        return found

    def refused_here(self, person: str) -> tuple[str, ...]:
        """Compounds of this session that somebody is not to be served, in the order of the wish."""
        facts = self.people.get(person)
        refused = facts.refused_compounds if facts else frozenset()
        return tuple(compound for compound in self.spiked if compound in refused)

    def kept_glasses(self, person: str) -> int:
        """Glasses with a code that somebody gets once what they are not to be served is left out."""
        refused = self.refused_here(person)
        return sum(sample.glasses for sample in self.wish.samples if sample.compound not in refused)

    def name(self, person: str) -> str:
        """Somebody's name; their id if they are not on record."""
        return self.people[person].name if person in self.people else person

    def label(self, compound: str) -> str:
        """A compound's label at the start of a sentence; its key if it is not on record."""
        facts = self.shelf.compounds.get(compound)
        return facts.label if facts else compound

    def inside(self, compound: str) -> str:
        """A compound's label inside a sentence."""
        return in_sentence(self.label(compound))


def letter(index: int) -> str:
    """Letter of a sample by its place from 0: A to Z, then AA, AB ..."""
    more, last = divmod(index, len(ascii_uppercase))
    return (letter(more - 1) if more else "") + ascii_uppercase[last]


def folded(label: str) -> str:
    """A name without outer or doubled spaces, and in small letters."""
    return " ".join(label.split()).casefold()
