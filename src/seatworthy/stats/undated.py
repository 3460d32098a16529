"""Thresholds from counts, people of a compound pooled, in which NO DATE enters.

A fast model for looks at large records and for comparison with other programs. Glasses of ten years
ago count like today's, so nobody is judged by it: judgements come from `stats.ability`, in which
abilities drift. One matrix product gives the likelihood on a fixed grid of thresholds, slopes are
averaged out, two more products pool the people within each compound.
"""

from collections.abc import Iterator
from dataclasses import dataclass, fields, replace
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray
from threadpoolctl import threadpool_limits

from seatworthy.stats.ability.edges import Edge, edge_of
from seatworthy.stats.ability.grid import Floats, build_grid
from seatworthy.stats.ability.reading import interval
from seatworthy.stats.ability.settings import DEFAULT, Settings
from seatworthy.stats.undated_curves import Curves, checked_counts, log_likelihood
from seatworthy.stats.undated_pooling import pool_cells

Places = NDArray[np.intp]

UNDATED: Final = replace(DEFAULT, theta_step=0.125)
SLOPES: Final = 7  # 5 miss the thresholds of panels with 120 glasses each by up to .012 log2
_CELLS_AT_ONCE: Final = 512


@dataclass(frozen=True)
class UndatedThresholds:
    """Thresholds of N cells as log2 multiples of the working threshold; all arrays are (N,).

    Attributes:
        mean: Posterior mean; nan without own glasses, as are the ends.
        low: Lower end of the interval.
        high: Upper end of the interval.
        edge: `Edge` codes: which end of the thresholds sought the interval touches, so that no
            number must be given; `Edge.ANYWHERE` without own glasses.
    """

    mean: Floats
    low: Floats
    high: Floats
    edge: NDArray[np.int64]


@dataclass(frozen=True)
class Undated:
    """What counts say about N cells and K compounds, all glasses counted alike whatever their date.

    Attributes:
        own: Each cell on its own answers, with the prior N(0, `own_sd`).
        pooled: The same with the answers of the others about the compound.
        own_evidence: Log probability of a cell's answers, one by one, in `own`; shape (N,).
        pooled_evidence: Log probability of all answers about a compound in `pooled`; shape (K,).
    """

    own: UndatedThresholds
    pooled: UndatedThresholds
    own_evidence: Floats
    pooled_evidence: Floats


@dataclass(frozen=True)
class UndatedPosteriors:
    """Posteriors of the threshold behind `Undated`; its evidence has the same meaning there.

    Attributes:
        own: Shape (N, G), each row sums to 1.
        pooled: Likewise.
        own_evidence: Shape (N,).
        pooled_evidence: Shape (K,).
    """

    own: Floats
    pooled: Floats
    own_evidence: Floats
    pooled_evidence: Floats


def estimate_undated(
    right: ArrayLike,
    total: ArrayLike,
    compound: ArrayLike,
    curves: Curves,
    settings: Settings = UNDATED,
) -> Undated:
    """Estimate the thresholds of all cells, own and pooled, whatever the dates of the answers.

    Works through whole compounds, some 500 cells at a time; no array in between is above 20 MB as
    long as a compound has less than 3,000 people.

    Args:
        right: Right answers by kind of glass, 0 <= right <= total; shape (N, X).
        total: Answers by kind of glass; shape (N, X).
        compound: Place of each cell on the compound axis, in any order; shape (N,).
        curves: Chances of a right answer for the X kinds on the thresholds of `settings`.
        settings: Numbers of the model.

    Raises:
        ValueError: if shapes do not fit, a count is impossible or a compound is below 0.
    """
    right, total, compound = _checked(right, total, compound, curves, settings)
    own, pooled = _unread(compound.size), _unread(compound.size)
    own_evidence, pooled_evidence = np.empty(compound.size), np.zeros(_axis(compound))
    with threadpool_limits(limits=1):  # more threads are slower on arrays of this size
        for at in _blocks(compound):
            found = _posteriors(right[at], total[at], compound[at], curves, settings)
            is_known = total[at].any(axis=1)
            _put(_read(found.own, is_known, settings), own, at)
            _put(_read(found.pooled, is_known, settings), pooled, at)
            own_evidence[at] = found.own_evidence
            pooled_evidence[np.unique(compound[at])] = found.pooled_evidence
    return Undated(own, pooled, own_evidence, pooled_evidence)


def undated_posteriors(
    right: ArrayLike,
    total: ArrayLike,
    compound: ArrayLike,
    curves: Curves,
    settings: Settings = UNDATED,
) -> UndatedPosteriors:
    """The posteriors themselves, 1.6 kB a cell; arguments and errors as `estimate_undated`.

    A cell without glasses keeps its prior: N(0, `own_sd`), or that of a newcomer to the panel.
    """
    right, total, compound = _checked(right, total, compound, curves, settings)
    shape = compound.size, build_grid(settings).theta.size
    whole = UndatedPosteriors(
        np.empty(shape), np.empty(shape), np.empty(compound.size), np.zeros(_axis(compound))
    )
    with threadpool_limits(limits=1):
        for at in _blocks(compound):
            found = _posteriors(right[at], total[at], compound[at], curves, settings)
            whole.own[at], whole.pooled[at] = found.own, found.pooled
            whole.own_evidence[at] = found.own_evidence
            whole.pooled_evidence[np.unique(compound[at])] = found.pooled_evidence
    return whole


def _checked(
    right: ArrayLike, total: ArrayLike, compound: ArrayLike, curves: Curves, settings: Settings
) -> tuple[Floats, Floats, Places]:
    _, kinds, thresholds = curves.chance.shape
    right, total = checked_counts(right, total, kinds)
    compound = np.asarray(compound, dtype=np.intp)
    if compound.shape != right.shape[:1]:
        msg = f"One compound for each of {len(right)} cells is needed, got {compound.shape}."
        raise ValueError(msg)
    if thresholds != build_grid(settings).theta.size:
        msg = f"Curves on the thresholds of the settings are needed, got {thresholds} thresholds."
        raise ValueError(msg)
    if np.any(compound < 0):
        msg = f"A compound must not be below 0, got {compound.min()}."
        raise ValueError(msg)
    return right, total, compound


def _axis(compound: Places) -> int:
    """Length of the compound axis."""
    return int(compound.max(initial=-1)) + 1


def _blocks(compound: Places) -> Iterator[Places]:
    """Places of the cells of some whole compounds, these in order."""
    order = np.argsort(compound, kind="stable")
    edges = np.append(_starts(compound[order]), compound.size)
    start = 0
    for edge, after in pairwise(edges):
        if after - start > _CELLS_AT_ONCE and edge > start:
            yield order[start:edge]
            start = edge
    if compound.size > start:
        yield order[start:]


def _starts(compound: Places) -> Places:
    return np.flatnonzero(np.diff(compound, prepend=-1))


def _posteriors(
    right: Floats, total: Floats, compound: Places, curves: Curves, settings: Settings
) -> UndatedPosteriors:
    """One block, sorted by compound; evidence of the compounds present, in that order."""
    starts = _starts(compound)
    likelihood, scale = _likelihood(right, total, curves)
    own = likelihood * build_grid(settings).own_prior
    own_fit = own.sum(axis=1)
    pooled, evidence = pool_cells(likelihood, starts, settings)
    return UndatedPosteriors(
        own=own / own_fit[:, None],
        pooled=pooled,
        own_evidence=np.log(own_fit) + scale,
        pooled_evidence=evidence + np.add.reduceat(scale, starts),
    )


def _likelihood(right: Floats, total: Floats, curves: Curves) -> tuple[Floats, Floats]:
    """P(answers | threshold), slopes averaged out, largest term 1, (N, G), and log scale (N,)."""
    log = log_likelihood(right, total, curves.chance)
    scale = log.max(axis=(1, 2))
    log -= scale[:, None, None]
    np.exp(log, out=log)
    return np.einsum("nsg,s->ng", log, curves.slope_weight), scale


def _read(mass: Floats, is_known: NDArray[np.bool_], settings: Settings) -> UndatedThresholds:
    grid = build_grid(settings)
    low, high = interval(mass, grid.theta_edges, settings.theta_step, settings.interval)
    return UndatedThresholds(
        mean=np.where(is_known, mass @ grid.theta, np.nan),
        low=np.where(is_known, low, np.nan),
        high=np.where(is_known, high, np.nan),
        edge=np.where(is_known, edge_of(low, high, settings), int(Edge.ANYWHERE)),
    )


def _unread(cells: int) -> UndatedThresholds:
    return UndatedThresholds(*np.empty((3, cells)), edge=np.empty(cells, dtype=np.int64))


def _put(some: UndatedThresholds, whole: UndatedThresholds, at: Places) -> None:
    for field in fields(UndatedThresholds):
        getattr(whole, field.name)[at] = getattr(some, field.name)
