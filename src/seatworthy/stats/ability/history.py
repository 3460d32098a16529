"""Carries everybody's messages through the days on which glasses were answered.

The likelihood of a named glass depends on the person's false-call rate, which changes as blanks
come in. What is said of a day must not depend on later blanks, so every person has one variant of
the history for each false-call node ever in force; a day is read in the variant in force then.
"""

import numpy as np
from numpy.typing import NDArray

from seatworthy.stats.ability.call_nodes import CallNodes
from seatworthy.stats.ability.cells import Cells, Places, Shape
from seatworthy.stats.ability.families import evidence_on
from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.grid import Floats
from seatworthy.stats.ability.messages import NEVER, MessageStore
from seatworthy.stats.ability.poured import Poured
from seatworthy.stats.ability.settings import Settings


class History:
    """Messages by person, variant, compound and family, brought forward one day after another.

    Args:
        glasses: Answered glasses up to the last day, of any method.
        blanks: Answered blanks up to the last day.
        shape: Numbers of people, compounds and beer families.
        today: The last day that will be read without further answers.
        settings: Numbers of the model.
        reads_all: Whether everybody is read on every day with glasses, or only who answered.
    """

    def __init__(
        self,
        glasses: Glasses,
        blanks: Blanks,
        shape: Shape,
        today: int,
        settings: Settings,
        *,
        reads_all: bool = False,
    ) -> None:
        chosen = np.flatnonzero(glasses.speaks & (glasses.day <= today))
        chosen = chosen[np.argsort(glasses.day[chosen], kind="stable")]
        self.chosen = chosen
        self.glasses = glasses.where(chosen)
        self.days = np.unique(self.glasses.day)
        self.settings, self.shape, self._today = settings, shape, today
        past = blanks.day <= today
        self._nodes = CallNodes(
            Blanks(blanks.day[past], blanks.person[past], blanks.is_false_call[past]), settings
        )
        self._has_glasses = np.zeros(shape, dtype=np.bool_)
        self._has_glasses[self.glasses.person, self.glasses.compound, self.glasses.family] = True
        self._variant_of, self._last_read = self._find_variants(reads_all)
        self._lay_out()

    def call_node(self, cells: Cells) -> Places:
        """False-call node in force for each cell on its day, today's after today; shape (N,)."""
        return self.call_node_on(cells.person, cells.day)

    def call_node_on(self, person: Places, day: NDArray[np.int64]) -> Places:
        """The same for people, each on a day; shape (N,)."""
        return self._nodes.on(person, np.minimum(day, self._today))

    def touched(self, day: int) -> tuple[Places, Places]:
        """People and compounds of the cells in which a glass was answered that day."""
        on_day = slice(*np.searchsorted(self.glasses.day, [day, day + 1]))
        compounds = self.shape[1]
        cell = np.unique(self.glasses.person[on_day] * compounds + self.glasses.compound[on_day])
        return cell // compounds, cell % compounds

    def absorb(self, day: int) -> None:
        """Take in the glasses of one day; days must come in order."""
        self._poured.into(self._store, day)

    def evidence(
        self, person: Places, compound: Places, day: NDArray[np.int64], read_for: Places
    ) -> Floats:
        """P(own answers so far | naming accuracy, threshold on the day) for some beer families.

        Answers about another beer family count with one more step of the walk between.

        Args:
            person: Shape (N,).
            compound: Shape (N,).
            day: Days since 1970-01-01; shape (N,).
            read_for: Families to read for; shape (R,).

        Returns:
            Shape (N, R, C, G).
        """
        variant = self._variant_of[person, self.call_node_on(person, day)]
        return evidence_on(self._store, self._row_of[variant, compound], day, read_for)

    def likelihood(self, cells: Cells) -> Floats:
        """The same for each cell's own family; shape (N, C, G)."""
        found = np.empty((cells.day.size, *self._store.cell_shape))
        for family in np.unique(cells.family):
            at = cells.family == family
            chosen = cells.person[at], cells.compound[at], cells.day[at]
            found[at] = self.evidence(*chosen, np.array([family]))[:, 0]
        return found

    def bring_to(self, day: int) -> None:
        """Bring everything to a day on or after the last; reading from then on is quicker."""
        self._store.bring_to(day)

    def has_glasses(self) -> NDArray[np.bool_]:
        """Where own answers exist; shape (P, K, B)."""
        return self._has_glasses

    def _find_variants(self, reads_all: bool) -> tuple[Places, NDArray[np.int64]]:
        """Number of each variant, shape (P, F), -1 where a node was never in force; last days.

        A variant is carried on until the last day on which it is read, shape (V,).
        """
        people = self.shape[0]
        person, day = self.glasses.person, self.glasses.day
        if reads_all:
            person = np.repeat(np.arange(people), self.days.size)
            day = np.tile(self.days, people)
        person = np.concatenate([person, np.arange(people)])
        day = np.concatenate([day, np.full(people, self._today)])
        last = np.full((people, len(self.settings.call_nodes)), NEVER)
        np.maximum.at(last, (person, self._nodes.on(person, day)), day)
        in_force = last > NEVER
        variant_of = np.full(last.shape, -1)
        variant_of[in_force] = np.arange(in_force.sum())
        return variant_of, last[in_force]

    def _lay_out(self) -> None:
        """Repeat each glass for every variant of its person and give it a row."""
        person, node = np.nonzero(self._variant_of >= 0)
        glass, variant = self._for_every_variant(person)
        expanded = self.glasses.where(glass)
        row = self._find_rows(variant, expanded, person.size)
        self._poured = Poured(expanded, row, node[variant], expanded.day, self.settings)
        self._store = MessageStore(int(self._row_of.max()) + 1, self.settings)

    def _for_every_variant(self, person: Places) -> tuple[Places, Places]:
        """Pairs of a glass and a variant of its person that is still read; in order of days."""
        first, number = np.searchsorted(person, np.arange(self.shape[0])), np.bincount(person)
        times = number[self.glasses.person]
        glass = np.repeat(np.arange(times.size), times)
        again = np.arange(times.sum()) - np.repeat(np.cumsum(times) - times, times)
        variant = first[self.glasses.person[glass]] + again
        is_read = self.glasses.day[glass] <= self._last_read[variant]
        return glass[is_read], variant[is_read]

    def _find_rows(self, variant: Places, glasses: Glasses, variants: int) -> Places:
        """A row for every variant of a cell that has answers.

        Row 0 stays without answers and stands for all cells that have none.
        """
        _, compounds, families = self.shape
        cell = (variant * compounds + glasses.compound) * families + glasses.family
        cells, row = np.unique(cell, return_inverse=True)
        row_of = np.zeros(variants * compounds * families, dtype=np.intp)
        row_of[cells] = np.arange(cells.size) + 1
        self._row_of = row_of.reshape(variants, compounds, families)
        return row + 1
