"""How much more it takes to name a compound than to detect it: what the answers say about it.

A finding to show. The model keeps its fixed `naming_shift`, and no verdict depends on this.
No dates enter: thresholds are taken as the same throughout, so long histories say too much.
"""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray
from threadpoolctl import threadpool_limits

from seatworthy.stats.ability.call_nodes import nearest_node
from seatworthy.stats.ability.glasses import CHOICES, NAMING, Blanks, Glasses
from seatworthy.stats.ability.grid import Floats, build_grid
from seatworthy.stats.ability.settings import DEFAULT, Settings
from seatworthy.stats.ability.tables import answer_weights, glass_table, likelihood

SHIFTS: Final = (0.0, 0.125, 0.25, 0.5, 1.0)  # log2; the places looked at


@dataclass(frozen=True)
class Recognition:
    """The recognition shift of K compounds; arrays of shape (K,) unless said.

    Attributes:
        people: People with both a naming glass and a forced choice of the compound.
        glasses: Their glasses of these methods.
        log_evidence: Log probability of their answers for each of `SHIFTS`; shape (K, 5).
        chance: Chances of the shifts, all taken as equally likely before; shape (K, 5), rows sum
            to 1, nan where nobody has both.
        mean: Mean shift, log2; nan likewise.
    """

    people: NDArray[np.int64]
    glasses: NDArray[np.int64]
    log_evidence: Floats
    chance: Floats
    mean: Floats


def read_recognition(
    glasses: Glasses,
    blanks: Blanks,
    shape: tuple[int, int],
    settings: Settings = DEFAULT,
) -> Recognition:
    """Weigh the shifts by people who both named and picked, the prior of own answers for each.

    A/not-A glasses are left out: their criterion would speak as loudly as the threshold. Beer
    families are put together.

    Args:
        glasses: Answered spiked glasses.
        blanks: Answered blanks; all of them set a person's false-call node.
        shape: Numbers of people P and compounds K.
        settings: Numbers of the model; its `naming_shift` is not used.

    Raises:
        ValueError: if a person or a compound lies outside `shape`.
    """
    _check(glasses, blanks, shape)
    chosen = glasses.where(glasses.speaks & np.isin(glasses.method, (NAMING, *CHOICES)))
    used = chosen.where(_has_both(chosen, shape))
    node = _nodes(blanks, shape[0], settings)[used.person]
    cells, cell = np.unique(used.compound * shape[0] + used.person, return_inverse=True)
    compound = cells // max(shape[0], 1)
    log_evidence = np.zeros((shape[1], len(SHIFTS)))
    with threadpool_limits(limits=1):
        for place, shift in enumerate(SHIFTS):
            one = replace(settings, naming_shift=shift)
            by_cell = _log_evidence(used, node, cell, cells.size, one)
            np.add.at(log_evidence[:, place], compound, by_cell)
    people = np.bincount(compound, minlength=shape[1])
    chance = _under_flat_prior(log_evidence, people > 0)
    return Recognition(
        people=people,
        glasses=np.bincount(used.compound, minlength=shape[1]),
        log_evidence=log_evidence,
        chance=chance,
        mean=chance @ np.array(SHIFTS),
    )


def _under_flat_prior(log_evidence: Floats, is_known: NDArray[np.bool_]) -> Floats:
    """Chances of the shifts, (K, 5), nan where nothing is known."""
    weight = np.exp(log_evidence - log_evidence.max(axis=1, keepdims=True))
    return np.where(is_known[:, None], weight / weight.sum(axis=1, keepdims=True), np.nan)


def _has_both(glasses: Glasses, shape: tuple[int, int]) -> NDArray[np.bool_]:
    """Which glasses belong to somebody who named and picked that compound; shape (A,)."""
    kinds = np.zeros((2, *shape), dtype=np.bool_)
    kinds[(glasses.method == NAMING).astype(np.intp), glasses.person, glasses.compound] = True
    return kinds.all(axis=0)[glasses.person, glasses.compound]


def _nodes(blanks: Blanks, people: int, settings: Settings) -> NDArray[np.intp]:
    """False-call node of each person; shape (P,)."""
    calls = np.bincount(blanks.person[blanks.is_false_call], minlength=people)
    return nearest_node(calls, np.bincount(blanks.person, minlength=people), settings)


def _log_evidence(
    glasses: Glasses,
    node: NDArray[np.intp],
    cell: NDArray[np.intp],
    cells: int,
    settings: Settings,
) -> Floats:
    """Log probability of each cell's answers, threshold and accuracy averaged out; shape (N,)."""
    grid, table = build_grid(settings), glass_table(glasses, settings)
    each = likelihood(*answer_weights(glasses, node, settings), table.seen[table.kind])
    together = np.zeros((cells, *each.shape[1:]))
    np.add.at(together, cell, np.log(each))
    top = together.max(axis=(1, 2), initial=-np.inf, keepdims=True)
    prior = grid.naming_mass[:, None] * grid.own_prior
    return np.log(np.einsum("ncg,cg->n", np.exp(together - top), prior)) + top[:, 0, 0]


def _check(glasses: Glasses, blanks: Blanks, shape: tuple[int, int]) -> None:
    axes = (
        ("person", glasses.person, shape[0]),
        ("compound", glasses.compound, shape[1]),
        ("person of a blank", blanks.person, shape[0]),
    )
    for name, places, size in axes:
        if np.any((places < 0) | (places >= size)):
            msg = f"A {name} lies outside 0 to {size - 1}."
            raise ValueError(msg)
