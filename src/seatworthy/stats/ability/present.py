"""What everybody's answers say now, kept up to date session by session."""

from dataclasses import fields
from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.stats.ability.call_nodes import nearest_node
from seatworthy.stats.ability.cells import Places, Shape, check_cells, check_places
from seatworthy.stats.ability.families import evidence_on
from seatworthy.stats.ability.followed import Today
from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.grid import Floats
from seatworthy.stats.ability.messages import NEVER, MessageStore
from seatworthy.stats.ability.one_thread import one_thread
from seatworthy.stats.ability.poured import Poured, days_of_row_before
from seatworthy.stats.ability.settings import DEFAULT, Settings
from seatworthy.stats.ability.today import Named, read_today

_ROOM_AHEAD: Final = 8  # a store that is full grows by an eighth at least


class Present:
    """The messages of all cells, read with the false-call rates in force now.

    A session changes the cells in which a glass was answered and no others. Where blanks move
    somebody's false-call rate, or a glass is older than what its cell already holds, the glasses
    kept are run through again: all of that person's, or all of that cell's. So the estimates are
    those of `follow` for today, whatever the order in which sessions come in.

    Answers cannot be taken out again: after a correction, start anew.

    Args:
        shape: Numbers of people P, compounds K and beer families B.
        settings: Numbers of the model.
    """

    def __init__(self, shape: Shape, settings: Settings = DEFAULT) -> None:
        self.settings, self._asked_shape = settings, shape
        people, compounds, families = (max(size, 1) for size in shape)
        self.shape = (people, compounds, families)  # an empty axis is cut off on reading
        self._kept: list[Glasses] = []
        self._blanks, self._calls = np.zeros((2, people), dtype=np.int64)
        self._node = nearest_node(self._calls, self._blanks, settings)
        self._store = MessageStore(1, settings)  # row 0 stands for all cells without answers
        self._row_of = np.zeros(self.shape, dtype=np.intp)
        self._rows, self._room = 1, 1
        self._last_day = int(NEVER)

    def take_in(self, glasses: Glasses, blanks: Blanks) -> None:
        """Add answers, of one session or of many, in any order.

        Args:
            glasses: Answered spiked glasses; those that do not speak are left out.
            blanks: Answered blanks.

        Raises:
            ValueError: if a place lies outside the shape; nothing is taken in then.
        """
        check_places(glasses, blanks, self._asked_shape)
        new = glasses.where(glasses.speaks)
        with one_thread():
            self._make_rows(new)
            again = self._rows_to_run_again(new, self._count(blanks))
            earlier = self._take_back(again)
            self._pour(_joined([*earlier, new]))
        self._kept.append(new)
        days = [self._last_day, *(one.day.max() for one in (new, blanks) if one.day.size)]
        self._last_day = int(max(days))

    def read(self, day: int) -> Today:
        """Estimates of everybody on a day, shape (P, K, B).

        Args:
            day: Days since 1970-01-01.

        Raises:
            ValueError: if answers of a later day were taken in.
        """
        _, compounds, families = self.shape
        values = self._read(day, np.arange(compounds), np.arange(families))
        people, compounds, families = self._asked_shape
        return Today(
            **{name: every[:people, :compounds, :families] for name, every in values.items()}
        )

    def read_cells(self, day: int, person: Places, compound: Places, family: Places) -> Today:
        """Estimates of some cells on a day, the pooled ones from everybody; shape (N,).

        Args:
            day: Days since 1970-01-01.
            person: Places on the person axis; shape (N,).
            compound: Places on the compound axis; shape (N,).
            family: Beer family each cell is read for; shape (N,).

        Raises:
            ValueError: if answers of a later day were taken in, or a cell lies outside the shape.
        """
        check_cells(person, compound, family, self._asked_shape)
        compounds, column = np.unique(compound, return_inverse=True)
        families, layer = np.unique(family, return_inverse=True)
        if not compounds.size:  # read one of each and choose nothing from it
            compounds = families = np.zeros(1, dtype=np.intp)
        values = self._read(day, compounds, families)
        return Today(**{name: every[person, column, layer] for name, every in values.items()})

    def call_node_on(self, person: Places, day: NDArray[np.int64]) -> Places:
        """False-call node in force now, whatever the day; shape (N,)."""
        return self._node[np.broadcast_to(person, day.shape)]

    def evidence(
        self, person: Places, compound: Places, day: NDArray[np.int64], read_for: Places
    ) -> Floats:
        """P(own answers so far | naming accuracy, threshold on the day); shape (N, R, C, G)."""
        return evidence_on(self._store, self._row_of[person, compound], day, read_for)

    def has_glasses(self) -> NDArray[np.bool_]:
        """Where own answers exist; shape (P, K, B)."""
        return self._row_of > 0

    def _read(self, day: int, compounds: Places, families: Places) -> Named:
        if day < self._last_day:
            msg = f"Answers up to day {self._last_day} were taken in; day {day} lies before."
            raise ValueError(msg)
        with one_thread():
            return read_today(self, compounds, families, day)

    def _count(self, blanks: Blanks) -> Places:
        """Count blanks and tell whose false-call node they move."""
        np.add.at(self._blanks, blanks.person, 1)
        np.add.at(self._calls, blanks.person, blanks.is_false_call)
        before, self._node = self._node, nearest_node(self._calls, self._blanks, self.settings)
        return np.flatnonzero(self._node != before)

    def _make_rows(self, glasses: Glasses) -> None:
        """Give every cell that has its first answers a row."""
        places = (glasses.person, glasses.compound, glasses.family)
        cells = np.unique(np.ravel_multi_index(places, self.shape))
        cells = cells[self._row_of.ravel()[cells] == 0]
        np.put(self._row_of, cells, self._rows + np.arange(cells.size))
        self._rows += cells.size
        if self._rows > self._room:
            more = max(self._rows - self._room, self._room // _ROOM_AHEAD)
            self._store.grow(more)
            self._room += more

    def _rows_to_run_again(self, new: Glasses, moved: Places) -> Places:
        """Rows of people whose node moved and of cells that hold answers after a new glass."""
        row = self._rows_of(new)
        is_late = new.day < self._store.last(row)
        again = np.unique(np.concatenate([row[is_late], self._row_of[moved].ravel()]))
        return again[self._store.has(again)]

    def _take_back(self, rows: Places) -> list[Glasses]:
        """Take all answers out of some rows; the glasses they came from."""
        if not rows.size:
            return []
        self._kept = [_joined(self._kept)]
        self._store.forget(rows)
        return [one.where(np.isin(self._rows_of(one), rows)) for one in self._kept]

    def _pour(self, glasses: Glasses) -> None:
        row, node = self._rows_of(glasses), self._node[glasses.person]
        batch = days_of_row_before(row, glasses.day)
        poured = Poured(glasses, row, node, batch, self.settings)
        for number in range(int(batch.max(initial=-1)) + 1):
            poured.into(self._store, number)

    def _rows_of(self, glasses: Glasses) -> Places:
        return self._row_of[glasses.person, glasses.compound, glasses.family]


def _joined(parts: list[Glasses]) -> Glasses:
    names = (field.name for field in fields(Glasses))
    return Glasses(*(np.concatenate([getattr(one, name) for one in parts]) for name in names))
