"""What every glass was likely to bring, by what was known before the day it was poured."""

import numpy as np
from numpy.typing import NDArray
from threadpoolctl import threadpool_limits

from seatworthy.stats.ability.cells import Cells
from seatworthy.stats.ability.glasses import NAMING, Blanks, Glasses, Outcome
from seatworthy.stats.ability.grid import Floats, build_grid
from seatworthy.stats.ability.history import History
from seatworthy.stats.ability.pooling import pool
from seatworthy.stats.ability.reading import posterior
from seatworthy.stats.ability.settings import DEFAULT, Settings
from seatworthy.stats.ability.tables import answer_weights, glass_table, likelihood


def foretell(
    glasses: Glasses,
    blanks: Blanks,
    shape: tuple[int, int, int],
    since: int,
    settings: Settings = DEFAULT,
) -> Floats:
    """Chance that each glass to be named is named right, from the days before it alone.

    Colleagues' answers help to say what to expect, since no person is judged by it.

    Args:
        glasses: Answered spiked glasses; shape (A,).
        blanks: Answered blanks.
        shape: Numbers of people, compounds and beer families.
        since: First day that is foretold; earlier days are only taken in.
        settings: Numbers of the model.

    Returns:
        Shape (A,); nan before `since`, for other methods than naming, and where the model can't
        read the glass.
    """
    found = np.full(glasses.day.shape, np.nan)
    if not glasses.day.size:
        return found
    with threadpool_limits(limits=1):
        history = History(glasses, blanks, shape, int(glasses.day.max()), settings, reads_all=True)
        for day in history.days.tolist():
            at = np.flatnonzero((history.glasses.day == day) & (history.glasses.method == NAMING))
            if day >= since and at.size:
                found[history.chosen[at]] = _chances(history, history.glasses.where(at))
            history.absorb(day)
    return found


def _chances(history: History, poured: Glasses) -> Floats:
    """Chance of a right name for each glass of one day; shape (A,)."""
    chances = np.empty(poured.day.size)
    kinds = np.stack([poured.compound, poured.family], axis=1)
    for compound, family in np.unique(kinds, axis=0).tolist():
        at = np.flatnonzero((poured.compound == compound) & (poured.family == family))
        chances[at] = _alike(history, poured.where(at))
    return chances


def _alike(history: History, poured: Glasses) -> Floats:
    """The same for glasses of one compound and beer family."""
    settings = history.settings
    people = np.arange(history.shape[0])
    where = (poured.compound[0], poured.family[0], poured.day[0])
    cells = Cells(people, *(np.full(people.size, one) for one in where))
    evidence = history.likelihood(cells)
    over_naming = np.einsum("ncg,c->ng", evidence, build_grid(settings).naming_mass)
    joint = posterior(evidence, pool(over_naming[None], settings).prior[0], settings)
    node = history.call_node(cells)[poured.person]
    return _right(poured, joint[poured.person], node, settings)


def _right(poured: Glasses, joint: Floats, node: NDArray[np.intp], settings: Settings) -> Floats:
    """Chance that the answer is right, over what is known of each taster."""
    as_right = Glasses(
        **{
            name: getattr(poured, name)
            for name in ("day", "person", "compound", "family", "method", "level", "background")
        },
        outcome=np.full(poured.day.shape, int(Outcome.RIGHT), dtype=poured.outcome.dtype),
    )
    table = glass_table(as_right, settings, node)
    share, base = answer_weights(as_right, node, settings)
    each = likelihood(share, base, table.seen[table.kind])
    return np.einsum("acg,acg->a", each, joint)
