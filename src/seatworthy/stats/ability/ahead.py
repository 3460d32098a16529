"""What would be read later, with nothing more poured or with further right names."""

from collections.abc import Sequence
from functools import lru_cache
from typing import Final

import numpy as np

from seatworthy.stats.ability.cells import Places
from seatworthy.stats.ability.glasses import NAMING, Glasses, Outcome
from seatworthy.stats.ability.grid import Floats
from seatworthy.stats.ability.history import History
from seatworthy.stats.ability.own import read_own
from seatworthy.stats.ability.reading import build_readout
from seatworthy.stats.ability.settings import Settings
from seatworthy.stats.ability.tables import answer_weights, glass_table, likelihood
from seatworthy.stats.ability.today import Block

MOST_MORE_GLASSES: Final = 8


def after_more_hits(own: Floats, call_node: Places, settings: Settings, missed: int = 0) -> Floats:
    """Chance met after 0 to 8 further right names at the reference level.

    Args:
        own: Posterior of accuracy and threshold from own answers; shape (N, C, G).
        call_node: False-call nodes; shape (N,).
        settings: Numbers of the model.
        missed: Further glasses at that level in which nothing was noticed, besides.

    Returns:
        Shape (N, 9).
    """
    hit = likelihood_at_reference(Outcome.RIGHT, settings)
    miss = likelihood_at_reference(Outcome.NONE, settings) if missed else None
    met = build_readout(settings).met
    chances = np.empty((len(own), MOST_MORE_GLASSES + 1))
    for node in np.unique(call_node):
        at = call_node == node
        powers = hit[node] ** np.arange(MOST_MORE_GLASSES + 1)[:, None, None]
        if miss is not None:
            powers *= miss[node] ** missed
        flat = own[at].reshape(at.sum(), -1)
        every = flat @ powers.reshape(len(powers), -1).T
        chances[at] = flat @ (powers * met[node]).reshape(len(powers), -1).T / every
    return chances


@lru_cache(maxsize=24)
def likelihood_at_reference(outcome: Outcome, settings: Settings) -> Floats:
    """P(outcome of a naming glass at the reference level), error of dosing in it; (F, C, G)."""
    nodes = np.arange(len(settings.call_nodes))
    zero, level = np.zeros_like(nodes), np.full(nodes.shape, settings.reference_level)
    answered = np.full(nodes.shape, int(outcome))
    method = np.full(nodes.shape, NAMING)
    glasses = Glasses(zero, zero, zero, zero, method, level, 0 * level, answered)
    table = glass_table(glasses, settings)
    return likelihood(*answer_weights(glasses, nodes, settings), table.seen[table.kind])


def look_ahead(
    history: History, block: Block, chance_now: Floats, outlook_days: Sequence[int]
) -> Floats:
    """Chance met on later days if nothing more is poured.

    Args:
        history: All answers, absorbed and brought to today.
        block: All people in some compounds, read today for all families: N cells.
        chance_now: Their chance today, which time does not change where nothing was answered;
            shape (N,).
        outlook_days: How many days later, each >= 0.

    Returns:
        Shape (N, days).
    """
    families = np.arange(history.shape[2])
    chances = np.repeat(chance_now[:, None], len(outlook_days), axis=1)
    answered = np.flatnonzero(history.has_glasses()[block.person, block.compound].any(axis=1))
    person, compound = block.person[answered], block.compound[answered]
    cells = (answered[:, None] * families.size + families).ravel()
    for place, days in enumerate(outlook_days):
        then = np.full(person.shape, block.day + days)
        evidence = history.evidence(person, compound, then, families)
        own = read_own(
            evidence.reshape(cells.size, *evidence.shape[2:]),
            block.call_node[cells],
            history.settings,
        )
        chances[cells, place] = own.chance_met
    return chances
