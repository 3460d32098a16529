"""Puts together what answers in several beer families say about one cell."""

from functools import reduce

import numpy as np
from numpy.typing import NDArray

from seatworthy.stats.ability.cells import Places, portions
from seatworthy.stats.ability.grid import Floats
from seatworthy.stats.ability.messages import MessageStore, mix

Days = NDArray[np.int64]


def evidence_on(store: MessageStore, rows: Places, day: Days, read_for: Places) -> Floats:
    """P(own answers so far | naming accuracy, threshold on the day), read for some beer families.

    Answers about another family than the one read for count with one more step of the walk between.

    Args:
        store: Messages of all rows; row 0 has no answers.
        rows: Each cell's row in every family, 0 where it has no answers; shape (N, B).
        day: Days since 1970-01-01, none before the cell's last answer; shape (N,).
        read_for: Families to read for; shape (R,).

    Returns:
        Likelihoods without a common scale; shape (N, R, C, G).
    """
    found = np.empty((day.size, read_for.size, *store.cell_shape))
    is_joint = store.has(rows).sum(axis=1) > 1
    for read, cells in (
        (_of_one, np.flatnonzero(~is_joint)),
        (_of_several, np.flatnonzero(is_joint)),
    ):
        for portion in portions(cells.size):
            at = cells[portion]
            found[at] = read(store, rows[at], day[at], read_for)
    return found


def _of_one(store: MessageStore, rows: Places, day: Days, read_for: Places) -> Floats:
    """Cells with answers in one family at most: mixed before the gap, which costs less."""
    source = store.has(rows).argmax(axis=1)
    mixed = mix(*store.on(rows[np.arange(day.size), source], day), store.walk)
    found = np.repeat(mixed[:, None], read_for.size, axis=1)
    is_gap = source[:, None] != read_for
    found[is_gap] = store.walk.across_gap(found[is_gap])
    return found


def _of_several(store: MessageStore, rows: Places, day: Days, read_for: Places) -> Floats:
    answered = np.flatnonzero(store.has(rows).any(axis=0))
    at_home = {family: store.on(rows[:, family], day) for family in answered.tolist()}
    scale = sum(log_scale for _, log_scale in at_home.values())
    abroad = {family: store.walk.across_gap(messages) for family, (messages, _) in at_home.items()}
    found = []
    for here in read_for.tolist():
        each = (at_home[one][0] if one == here else abroad[one] for one in at_home)
        found.append(mix(reduce(np.multiply, each), scale, store.walk))
    return np.stack(found, axis=1)
