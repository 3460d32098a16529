"""What a panel would miss: how often a compound goes uncalled, with how often it could be otherwise.

A fault is called when so many of the panel name it, each on their own. They taste the same bottle, so
its level is one for all; given the level they are taken to call independently. Whoever isn't counted on
for a compound adds nothing to it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from seatworthy.decide.noses import Floats, Noses, named_draws, named_mean

Item = Sequence[int]  # places of the compounds of one critical item; of a group one counts
Places = NDArray[np.intp]

RANGE: Final = 0.80  # eight chances in ten


@dataclass(frozen=True)
class Misses:
    """What one panel lets slip: I items (rows), X levels (columns).

    Attributes:
        mean: Chance that an item goes uncalled; shape (I, X). nan where nobody of the panel has a
            glass of it: then nothing is known.
        low: Lower end of the range that holds `RANGE` of what the evidence allows; shape (I, X).
        high: Upper end; both shaped like `mean`. The mean lies within.
        member: Which compound of the item the panel finds best, its place; shape (I,).
        counted: How many of the panel are counted on for that compound; shape (I,).
        away: Place in the panel of the one whose absence costs most; -1 where nobody is counted on.
        without: The chance at the level asked without that person; shape (I,).
    """

    mean: Floats
    low: Floats
    high: Floats
    member: Places
    counted: Places
    away: Places
    without: Floats


def fewer_than(chances: ArrayLike, callers: int) -> Floats:
    """Chance that fewer than so many independent people call (Poisson-binomial).

    Args:
        chances: Each one's chance to call, 0 to 1; shape (M, ...). M may be 0.
        callers: How many are needed, at least 1.

    Returns:
        Shape of `chances` without its first axis.
    """
    each = np.asarray(chances, dtype=np.float64)
    called = np.zeros((callers, *each.shape[1:]))
    called[0] = 1.0
    for chance in each:
        called[1:] = called[1:] * (1 - chance) + called[:-1] * chance
        called[0] *= 1 - chance
    return called.sum(axis=0)


def call_counts(chances: ArrayLike) -> Floats:
    """Chances that nobody, one, ... all M of independent people call; (M, ...) becomes (M + 1, ...)."""
    each = np.asarray(chances, dtype=np.float64)
    counts = np.zeros((len(each) + 1, *each.shape[1:]))
    counts[0] = 1.0
    for chance in each:
        counts[1:] = counts[1:] * (1 - chance) + counts[:-1] * chance
        counts[0] *= 1 - chance
    return counts


def best_of_items(misses: Floats, items: Sequence[Item], axis: int = 0) -> Floats:
    """Of each item the compound that is missed least: compounds (K) on an axis become items (I)."""
    parts = [np.take(misses, list(item), axis=axis).min(axis=axis) for item in items]
    return np.stack(parts, axis=axis)


def panel_misses(
    noses: Noses,
    counted: NDArray[np.bool_],
    items: Sequence[Item],
    callers: int,
    levels: ArrayLike,
    asked: int,
) -> Misses:
    """What a panel would let slip.

    The mean is exact: a Poisson-binomial chance is linear in each person's chance, and what is known of
    different people is independent, so it is that of the means. The range comes from the draws.

    Args:
        noses: The panel alone, M people.
        counted: Whether somebody is counted on for a compound; shape (M, K).
        items: Critical items.
        callers: How many independent callers make a fault call.
        levels: Multiples of the working threshold; shape (X,).
        asked: Place of the level at which the best compound of a group and the absence are judged.
    """
    used = sorted({compound for item in items for compound in item})
    place = {compound: at for at, compound in enumerate(used)}
    inside = [[place[compound] for compound in item] for item in items]
    counts = counted[:, used]
    mean = named_mean(noses, levels)[:, used] * counts[..., None]
    draws = np.moveaxis(named_draws(noses, levels), 1, 0)[:, :, used] * counts[:, None, :, None]
    missed = fewer_than(mean, callers)
    member = _members(missed[:, asked], noses.is_tested[:, used].any(axis=0), inside)
    known = np.array([noses.is_tested[:, [used[k] for k in item]].any() for item in inside], bool)
    tails = np.quantile(
        fewer_than(draws, callers)[:, member], [(1 - RANGE) / 2, (1 + RANGE) / 2], axis=0
    )
    away, without = _strongest_away(mean[..., asked], inside, callers)
    unknown = np.where(known, 0.0, np.nan)[:, None]
    found = missed[member] + unknown
    return Misses(
        mean=found,
        low=np.minimum(tails[0], missed[member]) + unknown,
        high=np.maximum(tails[1], missed[member]) + unknown,
        member=np.array([used[k] for k in member], dtype=np.intp),
        counted=counts.sum(axis=0)[member],
        away=np.where(counts.sum(axis=0)[member] > 0, away, -1),
        without=without + unknown[:, 0],
    )


def with_one_more(panel: Floats, more: Floats, items: Sequence[Item], callers: int) -> Floats:
    """What would slip if one person came besides.

    Args:
        panel: Chances of the panel to name each compound, nought where not counted on; shape (M, K).
        more: The same of Q others; shape (Q, K).
        items: Critical items.
        callers: How many independent callers make a fault call.

    Returns:
        Chances that each item goes uncalled; shape (Q, I).
    """
    if not len(more):
        return np.empty((0, len(items)))
    everybody = np.concatenate([np.repeat(panel[:, None], len(more), axis=1), more[None]])
    return best_of_items(fewer_than(everybody, callers), items, axis=1)


def _members(missed: Floats, tested: NDArray[np.bool_], items: Sequence[Item]) -> list[int]:
    """The compound of each item that the panel misses least; one that was tasted before others."""
    return [min(item, key=lambda k: (not tested[k], missed[k])) for item in items]


def _strongest_away(chances: Floats, items: Sequence[Item], callers: int) -> tuple[Places, Floats]:
    """Whose absence costs most, for each item, and what would slip then."""
    people = len(chances)
    if not people:
        return np.full(len(items), -1, dtype=np.intp), np.ones(len(items))
    others = [np.delete(np.arange(people), i) for i in range(people)]
    without = np.stack([best_of_items(fewer_than(chances[at], callers), items) for at in others])
    away = without.argmax(axis=0)
    return away, without[away, np.arange(len(items))]
