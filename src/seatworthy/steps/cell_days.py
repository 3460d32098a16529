"""Counts of counted glasses beside the chances of the same days, cell by cell."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.evidence import Evidence, day_number
from seatworthy.rules.compound import CellDay
from seatworthy.stats.ability.followed import Followed

Cell = tuple[str, str, str]  # person id, compound, beer family
Place = tuple[int, int, int]  # the same on the axes of the evidence
Columns = Mapping[str, Any]
Floats = NDArray[np.float64]
Codes = NDArray[np.int64]

_EPOCH: Final = date(1970, 1, 1)
_DAYS: Final = 1 << 20  # more than any day's number, so that cell and day make one number


@dataclass(frozen=True)
class Axes:
    """Places of labels on the axes of the evidence."""

    people: Mapping[str, int]
    compounds: Mapping[str, int]
    families: Mapping[str, int]

    @classmethod
    def of(cls, evidence: Evidence) -> "Axes":
        """The axes of some evidence."""
        axes = (evidence.people, evidence.compounds, evidence.families)
        return cls(*({label: place for place, label in enumerate(axis)} for axis in axes))

    def place(self, cell: Cell) -> Place:
        """Where a cell lies; raises ``KeyError`` for one without answers."""
        person, compound, family = cell
        return self.people[person], self.compounds[compound], self.families[family]

    def codes(self, counts: Columns) -> Codes:
        """The cell of each row of a query as one number, the place in a flat array of cells."""
        places = (
            [axis[label] for label in counts[name]]
            for name, axis in (
                ("person_id", self.people),
                ("compound", self.compounds),
                ("family", self.families),
            )
        )
        person, compound, family = (np.array(place, dtype=np.int64) for place in places)
        return (person * len(self.compounds) + compound) * len(self.families) + family


class DailyChances:
    """Own chances (met, insensitive) on every day on which a cell was touched, and from today on."""

    def __init__(self, evidence: Evidence, followed: Followed, as_of: date) -> None:
        self.axes = Axes.of(evidence)
        self._as_of, self._today = day_number(as_of), followed.today
        self._outlook = followed.chance_met_outlook
        cell = np.ravel_multi_index(
            (followed.cell_person, followed.cell_compound, followed.cell_family),
            self._today.chance_met_own.shape,
        ).astype(np.int64)
        when = cell * _DAYS + followed.days
        order = np.argsort(when)
        self._when = when[order]
        self._met = followed.chance_met_own[order]
        self._insensitive = followed.chance_insensitive_own[order]

    def on(self, cell: Codes, day: Codes) -> tuple[Floats, Floats]:
        """At the end of each day; nan where the glasses of a past day had no level."""
        met = self._today.chance_met_own.ravel()[cell]
        insensitive = self._today.chance_insensitive_own.ravel()[cell]
        past = np.flatnonzero(day < self._as_of)
        when = cell[past] * _DAYS + day[past]
        at = np.minimum(np.searchsorted(self._when, when), max(self._when.size - 1, 0))
        is_known = self._when[at] == when if self._when.size else np.zeros(past.size, np.bool_)
        met[past] = np.where(is_known, self._met[at], np.nan) if self._when.size else np.nan
        insensitive[past] = self._insensitive[at] if self._when.size else np.nan
        return met, insensitive

    def today(self, place: Place) -> tuple[float, float]:
        """On the day asked."""
        met = self._today.chance_met_own[place]
        return float(met), float(self._today.chance_insensitive_own[place])

    def ahead(self, cell: Codes) -> Floats:
        """Chance met on the days of the outlook, if nothing more is poured; shape (N, days)."""
        days = self._outlook.shape[-1]
        return self._outlook.reshape(-1, days)[cell]


def cell_place(evidence: Evidence, cell: Cell) -> Place:
    """Indices of a cell on the axes person, compound, beer family."""
    person, compound, family = cell
    return (
        evidence.people.index(person),
        evidence.compounds.index(compound),
        evidence.families.index(family),
    )


def days_by_cell(counts: Columns, chances: DailyChances) -> dict[Cell, list[CellDay]]:
    """Days on which each cell was touched and the day asked, with that day's chances, ascending.

    A day whose glasses have no level says nothing and is left out.

    Args:
        counts: Columns of the query counted_glasses, in its order.
        chances: The chances.
    """
    cell, day = chances.axes.codes(counts), _day_numbers(counts)
    met, insensitive = chances.on(cell, day)
    return _grouped(counts, cell, day, met, insensitive, np.flatnonzero(~np.isnan(met)))


def days_ahead(counts: Columns, chances: DailyChances, as_of: date) -> dict[Cell, list[CellDay]]:
    """Days to come, if nothing more is poured, for the cells of the columns."""
    cell, day = chances.axes.codes(counts), _day_numbers(counts)
    coming = np.flatnonzero(day > day_number(as_of))
    met, insensitive = chances.on(cell, day)
    starts = _starts(cell[coming])
    met[coming] = chances.ahead(cell[coming][starts]).ravel()
    return _grouped(counts, cell, day, met, insensitive, coming)


def _grouped(
    counts: Columns,
    cell: Codes,
    day: Codes,
    met: Floats,
    insensitive: Floats,
    chosen: NDArray[np.intp],
) -> dict[Cell, list[CellDay]]:
    """The chosen rows as days, cell by cell; rows of one cell stand together."""
    dates = {number: _EPOCH + timedelta(days=number) for number in np.unique(day).tolist()}
    columns = (
        [dates[number] for number in day[chosen].tolist()],
        met[chosen].tolist(),
        *(np.asarray(counts[name])[chosen].tolist() for name in ("glasses", "hits", "days")),
        insensitive[chosen].tolist(),
        np.asarray(counts["strong_glasses"])[chosen].tolist(),
    )
    days = list(map(CellDay, *columns))
    starts = _starts(cell[chosen]).tolist()
    labels = zip(
        *(np.asarray(counts[name])[chosen][starts].tolist() for name in _CELL), strict=True
    )
    ends = [*starts, len(days)][1:]
    return {
        label: days[start:end] for label, start, end in zip(labels, starts, ends, strict=True)
    }  # fmt: skip


_CELL: Final = ("person_id", "compound", "family")


def _starts(cell: Codes) -> NDArray[np.intp]:
    """First row of each cell."""
    return np.flatnonzero(np.diff(cell, prepend=-1))


def _day_numbers(counts: Columns) -> Codes:
    return np.asarray(counts["asked_on"]).astype("datetime64[D]").astype(np.int64)
