"""Glasses on their way into the messages: each with the row it speaks to."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.stats.ability.cells import Places, portions
from seatworthy.stats.ability.glasses import Glasses
from seatworthy.stats.ability.grid import Floats
from seatworthy.stats.ability.messages import MessageStore
from seatworthy.stats.ability.settings import Settings
from seatworthy.stats.ability.tables import answer_weights, glass_table, likelihood

_MOST_UNSCALED: Final = 50  # glasses of one row and day; many more, and their product would be 0


class Poured:
    """Glasses sorted into batches; within a batch no row has glasses of more than one day.

    Args:
        glasses: A glasses that speak, in any order.
        row: The row of messages each one speaks to; shape (A,).
        call_node: False-call node with which each one is read; shape (A,).
        batch: Number of the batch each one belongs to, >= 0; shape (A,).
        settings: Numbers of the model.
    """

    def __init__(
        self,
        glasses: Glasses,
        row: Places,
        call_node: Places,
        batch: NDArray[np.int64],
        settings: Settings,
    ) -> None:
        order = np.lexsort((row, batch))
        row, batch, glasses = row[order], batch[order], glasses.where(order)
        is_first = _differs_from_before(row) | _differs_from_before(batch)
        self._first = np.flatnonzero(is_first)
        self._number = np.diff(self._first, append=row.size)
        self._row, self._batch = row[self._first], batch[self._first]
        self._day = glasses.day[self._first]
        call_node = call_node[order]
        self._share, self._base = answer_weights(glasses, call_node, settings)
        table = glass_table(glasses, settings, call_node)
        self._seen, self._kind = table.seen, table.kind

    def into(self, store: MessageStore, batch: int) -> None:
        """Multiply one batch into the messages; no row's days may come out of order."""
        together = np.arange(*np.searchsorted(self._batch, [batch, batch + 1]))
        by_last_day = together[np.argsort(store.last(self._row[together]), kind="stable")]
        for portion in portions(by_last_day.size):
            each = by_last_day[portion]
            store.add(self._row[each], self._day[each], self._of_all_glasses(each))

    def _of_all_glasses(self, each: Places) -> Floats:
        """P(all answers of a row in its batch | accuracy, threshold); shape (N, C, G).

        Rows of very many glasses lose their common scale, which no estimate looks at.
        """
        product = self._likelihood(self._first[each])
        for further in range(1, int(self._number[each].max())):
            more = np.flatnonzero(self._number[each] > further)
            product[more] *= self._likelihood(self._first[each[more]] + further)
            if further % _MOST_UNSCALED == 0:
                product[more] /= product[more].max(axis=(1, 2), keepdims=True)
        return product

    def _likelihood(self, glass: Places) -> Floats:
        return likelihood(self._share[glass], self._base[glass], self._seen[self._kind[glass]])


def days_of_row_before(row: Places, day: NDArray[np.int64]) -> NDArray[np.int64]:
    """On how many earlier days glasses of the same row were poured; shape (A,)."""
    order = np.lexsort((day, row))
    is_new_row = _differs_from_before(row[order])
    number = np.cumsum(is_new_row | _differs_from_before(day[order]))
    before = np.empty(row.size, dtype=np.int64)
    before[order] = number - np.maximum.accumulate(np.where(is_new_row, number, 0))
    return before


def _differs_from_before(values: NDArray[np.int64]) -> NDArray[np.bool_]:
    differs = np.ones(values.size, dtype=np.bool_)
    differs[1:] = values[1:] != values[:-1]
    return differs
