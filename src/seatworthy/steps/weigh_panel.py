"""The tasters of one beer as the weighing needs them, and what the record says of each."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from seatworthy.decide.next_step import NEW
from seatworthy.decide.noses import Noses, named_mean
from seatworthy.decide.said import NOTHING, SOMETHING
from seatworthy.decide.strangers import with_strangers
from seatworthy.rules.verdict import Standing
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import Judged
from seatworthy.steps.labels import first_names
from seatworthy.steps.noses import noses_of
from seatworthy.steps.tasted import NAMED, Tasted
from seatworthy.steps.tasted import NOTHING as SAID_NOTHING
from seatworthy.steps.weigh_views import Question
from seatworthy.steps.weigh_words import finds_words


@dataclass(frozen=True)
class WeighPanel:
    """One beer family's people on one day.

    Attributes:
        judged: The day judged.
        family: Beer family's key.
        noses: Everybody on record and every taster, by place.
        words: What everybody said: place of a compound, "nothing", "something", or that they did
            not taste; shape (P,).
        tasters: Places of those who tasted, in the order in which they are named.
        names: Short name by person id.
    """

    judged: Judged
    family: str
    noses: Noses
    words: NDArray[np.intp]
    tasters: tuple[int, ...]
    names: dict[str, str]

    @property
    def of_tasters(self) -> Noses:
        """The noses of those who tasted."""
        return self.noses.of(list(self.tasters))

    @property
    def said(self) -> NDArray[np.intp]:
        """Their words."""
        return self.words[list(self.tasters)]

    def name(self, place: int) -> str:
        """Short name of somebody."""
        person = self.noses.people[place]
        return self.names.get(person, person)

    def is_tested(self, place: int, compound: str) -> bool:
        """Whether somebody has own glasses of a compound."""
        return bool(self.noses.is_tested[place, self.noses.compounds.index(compound)])

    def is_insensitive(self, place: int, compound: str) -> bool:
        """Whether the record says that somebody doesn't smell a compound."""
        cell = self.judged.cells.get((self.noses.people[place], compound, self.family))
        return cell is not None and cell.standing is Standing.INSENSITIVE

    def counts_for(self, place: int, compound: str) -> bool:
        """Whether somebody's word or silence on a compound means anything."""
        return self.is_tested(place, compound) and not self.is_insensitive(place, compound)

    def notes(self, place: int, compound: str, *, in_words: bool) -> tuple[str, ...]:
        """What the record says of somebody and a compound, in one or two short lines."""
        counts = self.counts_for(place, compound)
        if in_words:
            return (finds_words(self._rate(place, compound), counts=counts),)
        if not self.is_tested(place, compound):
            return ("never had a glass with it,", "doesn't count here")
        person = self.noses.people[place]
        day = self.judged.days.get((person, compound, self.family))
        blanks = self.judged.blanks.get(person)
        finds = (
            f"finds it {day.hits} of {day.glasses}" if day and day.glasses else "no counted glass"
        )
        if not counts:
            return ("doesn't smell it,", "doesn't count here")
        calls = blanks.false_calls if blanks else 0
        number = blanks.blanks if blanks else 0
        plural = "" if calls == 1 else "s"
        return (f"{finds},", f"{calls} false call{plural} in {number}")

    def _rate(self, place: int, compound: str) -> float | None:
        if not self.is_tested(place, compound):
            return None
        at = self.noses.compounds.index(compound)
        level = self.noses.settings.reference_level
        return float(named_mean(self.noses.of([place]), [level])[0, at, 0])


def weigh_panel(desk: Desk, judged: Judged, question: Question) -> WeighPanel:
    """Everybody on record with what they said of this beer."""
    people = tuple(word.person_id for word in question.words)
    noses = with_strangers(noses_of(desk, judged, question.family), people)
    words = np.full(len(noses.people), NEW, dtype=np.intp)
    tasters = []
    for word in question.words:
        place = noses.people.index(word.person_id)
        words[place] = _place_of(word, noses.compounds)
        tasters.append(place)
    known = {**judged.people, **{word.person_id: word.name for word in question.words}}
    return WeighPanel(judged, question.family, noses, words, tuple(tasters), first_names(known))


def _place_of(word: Tasted, compounds: tuple[str, ...]) -> int:
    if word.kind == SAID_NOTHING:
        return NOTHING
    if word.kind == NAMED and word.compound in compounds:
        return compounds.index(word.compound)
    return SOMETHING
