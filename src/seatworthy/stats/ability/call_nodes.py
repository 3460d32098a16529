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
        self._settings = settings
        days = blanks.day
        self._first = int(days.min()) if days.size else 0
        self._span = int(days.max()) - self._first + 2 if days.size else 1
        self._key = self._keys(blanks.person[order], blanks.day[order])
        self._calls = np.concatenate([[0], np.cumsum(blanks.is_false_call[order])])

    def on(self, person: NDArray[np.intp], day: NDArray[np.int64]) -> NDArray[np.intp]:
        """Nodes in force at the end of a day; shapes are those of `person` and `day`."""
        start = np.searchsorted(self._key, self._keys(person, self._first - 1), "left")
        end = np.searchsorted(self._key, self._keys(person, day), "right")
        end = np.maximum(start, end)
        return nearest_node(self._calls[end] - self._calls[start], end - start, self._settings)

    def _keys(self, person: NDArray[np.intp], day: NDArray[np.int64] | int) -> NDArray[np.int64]:
        """One number that sorts by person, then by day; days outside the blanks are cut off."""
        place = np.clip(np.asarray(day) - self._first, -1, self._span - 2) + 1
        return np.asarray(person, dtype=np.int64) * self._span + place
