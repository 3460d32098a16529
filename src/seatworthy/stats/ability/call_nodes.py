"""Which false-call rate the likelihoods of a person use on a given day."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from seatworthy.stats.ability.glasses import Blanks
from seatworthy.stats.ability.grid import build_grid
from seatworthy.stats.ability.settings import Settings


def nearest_node(calls: ArrayLike, blanks: ArrayLike, settings: Settings) -> NDArray[np.intp]:
    """Place on the grid nearest, in ratio, to the rate shrunk towards the prior mean.

    Serves the likelihoods of spiked glasses only; nobody's false calls are judged by it.

    Args:
        calls: False calls, whole numbers; any shape.
        blanks: Blanks answered; same shape.
        settings: Numbers of the model.

    Returns:
        Places on the axis of false-call rates, shaped like the counts.
    """
    a, b = settings.call_prior
    rate = (np.asarray(calls) + a) / (np.asarray(blanks) + a + b)
    apart = np.abs(np.log(rate)[..., None] - np.log(build_grid(settings).calls))
    return apart.argmin(axis=-1)


class CallNodes:
    """The nodes in force by person and day, from the blanks up to and including that day."""

    def __init__(self, blanks: Blanks, settings: Settings) -> None:
        order = np.lexsort((blanks.day, blanks.person))
        days = blanks.day
        self._first = int(days.min()) if days.size else 0
        self._span = int(days.max()) - self._first + 2 if days.size else 1
        person = blanks.person[order]
        self._key = self._keys(person, days[order])
        start = np.searchsorted(person, person)
        calls = np.concatenate([[0], np.cumsum(blanks.is_false_call[order])])
        of_nobody = nearest_node([0], [0], settings)
        after_each = nearest_node(
            calls[1:] - calls[start], np.arange(1, person.size + 1) - start, settings
        )
        self._person = np.concatenate([[-1], person])  # before the first blank there is nobody
        self._node = np.concatenate([of_nobody, after_each])

    def on(self, person: NDArray[np.intp], day: NDArray[np.int64]) -> NDArray[np.intp]:
        """Nodes in force at the end of a day; shapes are those of `person` and `day`."""
        last = np.searchsorted(self._key, self._keys(person, day), "right")
        return self._node[np.where(self._person[last] == person, last, 0)]

    def _keys(self, person: NDArray[np.intp], day: NDArray[np.int64]) -> NDArray[np.int64]:
        """One number that sorts by person, then by day; days outside the blanks are cut off."""
        place = np.clip(day - self._first, -1, self._span - 2) + 1
        return np.asarray(person, dtype=np.int64) * self._span + place
