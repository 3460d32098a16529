"""A wish with the facts it is checked against, and the few things read off it in many places."""

from collections import Counter
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from functools import cached_property
from string import ascii_uppercase
from typing import Final
from zoneinfo import ZoneInfo

from seatworthy.sessions.plan import Past, PersonFacts, PlannedSample, ShelfFacts
from seatworthy.sessions.wish import SETS, WantedSample, Wish
from seatworthy.sessions.wording import in_sentence

# A level above this comes late in an order; ours, no source.
STRONG_ABOVE: Final = Decimal(5)


@dataclass(frozen=True)
class Asking:
    """Everything `layout.lay_out` is given.

    Attributes:
        people: Everybody on record, by person id.
        taken: Codes that may not be drawn.
        today: The day it is at the brewery.
        zone: The brewery's.
        label_key: What two spellings of one name share, "" for a name that says nothing.
        past: What was served in earlier sessions.
    """

    wish: Wish
    shelf: ShelfFacts
    people: Mapping[str, PersonFacts]
    taken: Collection[str]
    today: date
    zone: ZoneInfo
    label_key: Callable[[str], str]
    past: Past = field(default_factory=Past)

    @cached_property
    def comers(self) -> tuple[str, ...]:
        """Person ids of those who come, each once, in the order of the wish."""
        return tuple(dict.fromkeys(p for sitting in self.wish.sittings for p in sitting.people))

    @cached_property
    def samples(self) -> tuple[PlannedSample, ...]:
        """The samples with their letters."""
        return tuple(
            PlannedSample(letter(index), wanted.compound, wanted.level, wanted.addition,
                          wanted.glasses, wanted.method, wanted.asks, wanted.batch, wanted.knows,
                          wanted.beer)
            for index, wanted in enumerate(self.wish.samples)
        )  # fmt: skip

    @cached_property
    def glasses(self) -> int:
        """Glasses with a code of a person for whom nothing is left out; at most that in a flight."""
        return self._glasses_without(())

    @cached_property
    def spare_glasses(self) -> int:
        """Glasses of a spare order, in which no set stands."""
        named = sum(max(0, s.glasses) for s in self.wish.samples if s.method not in SETS)
        return named if self.flight is None else min(named, self.flight)

    @cached_property
    def places(self) -> int:
        """Places, glasses or sets, of somebody who tastes everything."""
        return sum(max(0, sample.glasses) for sample in self.wish.samples)

    @cached_property
    def flight(self) -> int | None:
        """Places in a flight; None if everybody tastes everything."""
        return None if self.wish.flight in (None, self.places) else self.wish.flight

    @cached_property
    def has_sets(self) -> bool:
        """Whether anything is asked in forced-choice sets."""
        return any(sample.method in SETS for sample in self.wish.samples)

    @cached_property
    def first_blank(self) -> PlannedSample | None:
        """The sample that fills the other glasses of each set; None if the wish has no blank."""
        return next(iter(self.blanks), None)

    @cached_property
    def blanks(self) -> tuple[PlannedSample, ...]:
        """The samples to which nothing is added."""
        return tuple(sample for sample in self.samples if sample.is_blank)

    @cached_property
    def by_mark(self) -> dict[str, PlannedSample]:
        """The samples by their letters."""
        return {sample.mark: sample for sample in self.samples}

    @cached_property
    def methods(self) -> dict[str, str]:
        """How each letter is asked about."""
        return {sample.mark: sample.method for sample in self.samples}

    def is_late(self, sample: PlannedSample) -> bool:
        """Whether a sample's glasses come last: it is strong, or stays in nose and room.

        Never in a release sitting, where a place at the end would tell which is the check glass.
        """
        if not self.wish.strong_late or self.wish.is_release or sample.compound is None:
            return False
        if sample.method not in SETS and sample.level is not None and sample.level > STRONG_ABOVE:
            return True
        facts = self.shelf.compounds.get(sample.compound)
        return facts is not None and facts.lingers

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

    @cached_property
    def beers(self) -> tuple[str, ...]:
        """Keys of every beer that is poured, that of the wish first."""
        poured = [sample.beer for sample in self.wish.samples if sample.beer is not None]
        return tuple(dict.fromkeys([self.wish.beer, *poured]))

    def beer_label(self, beer: str) -> str:
        """A beer's label; its key if it is not on the shelf."""
        if beer == self.wish.beer:
            return self.shelf.beer_label
        facts = self.shelf.beers.get(beer)
        return facts.label if facts else beer

    def refused_here(self, person: str) -> tuple[str, ...]:
        """Compounds of this session that somebody is not to be served, in the order of the wish."""
        facts = self.people.get(person)
        refused = facts.refused_compounds if facts else frozenset()
        return tuple(compound for compound in self.spiked if compound in refused)

    def kept_glasses(self, person: str) -> int:
        """Glasses with a code that somebody gets at most without what they are not to be served."""
        return self._glasses_without(self.refused_here(person))

    def kept_places(self, person: str) -> int:
        """Places, glasses or sets, that somebody could get without what they are not served."""
        refused = self.refused_here(person)
        return sum(s.glasses for s in self.wish.samples if s.compound not in refused)

    def _glasses_without(self, refused: Collection[str]) -> int:
        """Glasses in the fullest places, as many as a flight has, or in all."""
        # counted by the glasses of one and never listed: somebody may ask for millions
        places: Counter[int] = Counter()
        for sample in self.wish.samples:
            if sample.compound is None or sample.compound not in refused:
                places[SETS.get(sample.method, 1)] += max(0, sample.glasses)
        left = sum(places.values()) if self.flight is None else max(0, self.flight)
        found = 0
        for glasses, count in sorted(places.items(), reverse=True):
            found += glasses * min(count, left)
            left -= min(count, left)
        return found

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
