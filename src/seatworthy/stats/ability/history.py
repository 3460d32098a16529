"""Carries everybody's messages through the days on which glasses were answered.

The likelihood of a named glass depends on the person's false-call rate, which changes as blanks
come in. What is said of a day must not depend on later blanks, so every person has one variant of
the history for each false-call node ever in force; a day is read in the variant in force then.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.stats.ability.call_nodes import CallNodes
from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.grid import Floats
from seatworthy.stats.ability.messages import MessageStore, mix
from seatworthy.stats.ability.settings import Settings
from seatworthy.stats.ability.tables import answer_weights, glass_table, likelihood

Places = NDArray[np.intp]
_NEVER: Final = np.iinfo(np.int64).min


@dataclass(frozen=True)
class Cells:
    """N cells to read, each on a day of its own; every array has shape (N,).

    Attributes:
        person: Place on the person axis.
        compound: Place on the compound axis.
        family: Place on the beer-family axis for which the cell is read.
        day: Days since 1970-01-01.
    """

    person: Places
    compound: Places
    family: Places
    day: NDArray[np.int64]


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
        shape: tuple[int, int, int],
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
        self._variant_of, self._last_read = self._find_variants(reads_all)
        self._lay_out()

    def call_node(self, cells: Cells) -> Places:
        """False-call node in force for each cell on its day, today's after today; shape (N,)."""
        return self._nodes.on(cells.person, np.minimum(cells.day, self._today))

    def touched(self, day: int) -> tuple[Places, Places]:
        """People and compounds of the cells in which a glass was answered that day."""
        on_day = slice(*np.searchsorted(self.glasses.day, [day, day + 1]))
        compounds = self.shape[1]
        cell = np.unique(self.glasses.person[on_day] * compounds + self.glasses.compound[on_day])
        return cell // compounds, cell % compounds

    def absorb(self, day: int) -> None:
        """Take in the glasses of one day; days must come in order."""
        start, end = np.searchsorted(self._day, [day, day + 1])
        rows, place = np.unique(self._row[start:end], return_inverse=True)
        seen = self._table.seen[self._kind[start:end]]
        each = likelihood(self._share[start:end], self._base[start:end], seen)
        together = np.ones((rows.size, *each.shape[1:]))
        for turn in range(int(self._turn[start:end].max(initial=-1)) + 1):
            at = self._turn[start:end] == turn  # no row twice in one turn
            together[place[at]] *= each[at]
        self._store.add(rows, day, together)

    def likelihood(self, cells: Cells) -> Floats:
        """P(own answers so far | naming accuracy, threshold on the day); shape (N, C, G).

        Answers about another beer family count with one more step of the walk between.
        """
        variant = self._variant_of[cells.person, self.call_node(cells)]
        rows = self._row_of[variant, cells.compound].T  # (B, N)
        is_known = self._store.has(rows)
        sources = is_known.sum(axis=0)
        found = np.empty((cells.day.size, *self._store.cell_shape))
        alone, several = np.flatnonzero(sources < 2), np.flatnonzero(sources > 1)
        family = is_known[:, alone].argmax(axis=0)
        found[alone] = self._store.mixed_on(
            rows[family, alone], cells.day[alone], cells.family[alone] != family
        )
        found[several] = self._combine(rows[:, several], cells.day[several], cells.family[several])
        return found

    def _combine(self, rows: Places, day: NDArray[np.int64], read_for: Places) -> Floats:
        """Evidence from several families together; rows (B, N), the others (N,)."""
        product, scale = self._store.of_nothing(day.size)
        for family, own in enumerate(rows):
            known = np.flatnonzero(self._store.has(own))
            messages, log_scale = self._store.on(own[known], day[known], read_for[known] != family)
            product[:, known] *= messages
            scale[:, known] += log_scale
        return mix(product, scale, self._store.walk)

    def has_glasses(self) -> NDArray[np.bool_]:
        """Where own answers exist; shape (P, K, B)."""
        found = np.zeros(self.shape, dtype=np.bool_)
        found[self.glasses.person, self.glasses.compound, self.glasses.family] = True
        return found

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
        last = np.full((people, len(self.settings.call_nodes)), _NEVER)
        np.maximum.at(last, (person, self._nodes.on(person, day)), day)
        in_force = last > _NEVER
        variant_of = np.full(last.shape, -1)
        variant_of[in_force] = np.arange(in_force.sum())
        return variant_of, last[in_force]

    def _lay_out(self) -> None:
        """Repeat each glass for every variant of its person and give it a row."""
        person, node = np.nonzero(self._variant_of >= 0)
        glass, variant = self._for_every_variant(person)
        expanded = self.glasses.where(glass)
        self._day = expanded.day
        self._row = self._find_rows(variant, expanded, person.size)
        self._turn = _turns(self._row, self._day)
        self._share, self._base = answer_weights(expanded, node[variant], self.settings)
        self._table = glass_table(self.glasses, self.settings)
        self._kind = self._table.kind[glass]
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


def _turns(row: Places, day: NDArray[np.int64]) -> Places:
    """How many glasses of the same row and day stand before each one; shape (A,)."""
    order = np.lexsort((np.arange(row.size), day, row))
    place = np.arange(row.size)
    is_new = np.ones(row.size, dtype=np.bool_)
    is_new[1:] = (np.diff(row[order]) != 0) | (np.diff(day[order]) != 0)
    start = np.maximum.accumulate(np.where(is_new, place, 0))
    turns = np.empty_like(place)
    turns[order] = place - start
    return turns
