"""How likely each answer is for each threshold and naming accuracy.

Every likelihood has the form ``share * seen + base * (1 - seen)``: `seen` depends on the glass and
the threshold, `share` on the answer and the naming accuracy, `base` on the answer and the rate of
false calls. In a forced choice `seen` is the chance of a right pick, in A/not-A that of a yes.

A/not-A is yes/no detection of equal variance with the person's own criterion,
``P(yes) = lapse / 2 + (1 - lapse) * Phi(d' + z(f))``, f being the rate at the person's false-call
node. Here `seen` itself depends on the person. A criterion averaged over people would need no node,
but on simulated panels with frequent callers it made them look .3 to .5 log2 more sensitive still,
and their intervals missed more often. It is taken as known: many such glasses beside few blanks
make an interval too narrow.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr, ndtri

from seatworthy.stats.ability.call_nodes import nearest_node
from seatworthy.stats.ability.glasses import A_NOT_A, NAMING, Glasses, Outcome
from seatworthy.stats.ability.grid import Floats, Grid, build_grid
from seatworthy.stats.ability.settings import Settings
from seatworthy.stats.guessing import guess_rate
from seatworthy.stats.thurstone import LARGEST, d_prime_at, proportion_right


@dataclass(frozen=True)
class GlassTable:
    """The different kinds of glasses that were served, each computed once.

    Attributes:
        seen: Chance that the flavour is perceived (naming), picked (forced choice) or said to be
            there (A/not-A), the error of the preparation averaged out; shape (U, G).
        kind: Which of the U kinds each glass is; shape (A,).
    """

    seen: Floats
    kind: NDArray[np.intp]


def glass_table(
    glasses: Glasses, settings: Settings, call_node: NDArray[np.intp] | None = None
) -> GlassTable:
    """Tables for the different method, level and background combinations present.

    Args:
        glasses: A glasses.
        settings: Numbers of the model.
        call_node: As for `seen_in`.
    """
    _, method = np.unique(glasses.method, return_inverse=True)
    node = np.where(glasses.method == A_NOT_A, _nodes(glasses, settings, call_node), -1)
    keys = np.stack([method, glasses.level, glasses.background, node], axis=1)
    kinds, first, kind = np.unique(
        keys.reshape(-1, 4), axis=0, return_index=True, return_inverse=True
    )
    grid = build_grid(settings)
    each = seen_in(glasses.where(first), grid.dose_shift, 1.0, settings, np.maximum(node[first], 0))
    seen = np.einsum("ujg,j->ug", each, grid.dose_weight)
    return GlassTable(seen.reshape(len(kinds), grid.theta.size), kind.reshape(-1))


def seen_in(
    glasses: Glasses,
    shift: Floats,
    part: float,
    settings: Settings,
    call_node: NDArray[np.intp] | None = None,
) -> Floats:
    """Chance that the flavour is perceived, picked or said to be there, if a dose was off.

    The reference glass of a forced choice holds the background too, and so does the plain beer
    that A/not-A asks to compare with: its d' is taken off.

    Args:
        glasses: A glasses.
        shift: Errors of what was added, log2; shape (J,).
        part: Part of the stated addition that went in: 1 as stated, .5 half, 0 none.
        settings: Numbers of the model.
        call_node: Place of each person's false-call rate on the grid, shape (A,); only A/not-A
            glasses look at it. None reads them as those of somebody without blanks.

    Returns:
        Chances; shape (A, J, G).
    """
    grid, nodes = build_grid(settings), _nodes(glasses, settings, call_node)
    added = np.maximum(glasses.level - glasses.background, 0)
    total = glasses.background[:, None] + part * added[:, None] * np.exp2(shift)
    seen = np.empty((*total.shape, grid.theta.size))
    for method in np.unique(glasses.method).tolist():
        at = glasses.method == method
        if method == NAMING:
            seen[at] = perceived(total[at], grid.theta, settings)
            continue
        apart = _told_apart(total[at], glasses.background[at], grid)
        if method == A_NOT_A:
            seen[at] = _said_yes(apart, grid.calls[nodes[at]], settings)
        else:
            seen[at] = _picked(method, apart, settings)
    return seen


def _nodes(
    glasses: Glasses, settings: Settings, call_node: NDArray[np.intp] | None
) -> NDArray[np.intp]:
    """False-call nodes of the glasses' people, that of somebody without blanks if not known."""
    if call_node is not None:
        return call_node
    return np.full(glasses.method.shape, nearest_node(0, 0, settings), dtype=np.intp)


def perceived(total: Floats, theta: Floats, settings: Settings) -> Floats:
    """Chance that a flavour is perceived well enough to be named, false alarms taken out.

    Args:
        total: Multiples of the working threshold, >= 0; any shape.
        theta: Thresholds, log2 multiples; shape (G,).
        settings: Numbers of the model.

    Returns:
        Fractions from 0 to 1 less the lapse; shape of `total` and (G,) behind.
    """
    clear = np.minimum(clearness(total, theta + settings.naming_shift), LARGEST)
    alarm = settings.criterion
    return (1 - settings.lapse) * (ndtr(clear + ndtri(alarm)) - alarm) / (1 - alarm)


def clearness(total: Floats, theta: Floats) -> Floats:
    """The d' of a glass against plain beer, in proportion to its level; shape as `perceived`.

    A person whose threshold is the level gets 2/3 right in a 3-AFC, half way up from guessing.
    """
    return _unit_d_prime() * total[..., None] / np.exp2(theta)


@lru_cache(maxsize=1)
def _unit_d_prime() -> float:
    return float(d_prime_at("3afc", 2 / 3))


def _told_apart(total: Floats, background: Floats, grid: Grid) -> Floats:
    """The d' of a glass against one that holds the background alone; shape (A, J, G)."""
    reference = clearness(background[:, None], grid.theta)
    return np.clip(clearness(total, grid.theta) - reference, 0, LARGEST)


def _picked(method: str, apart: Floats, settings: Settings) -> Floats:
    """Chance of a right pick, lapses guessed; shape of `apart`."""
    by_chance = settings.lapse * guess_rate(method)
    return by_chance + (1 - settings.lapse) * proportion_right(method, apart)


def _said_yes(apart: Floats, alarm: Floats, settings: Settings) -> Floats:
    """Chance of a yes for people with a rate of false alarms, shape (A,); a lapse is a toss."""
    criterion = -ndtri(alarm)[:, None, None]
    return settings.lapse / 2 + (1 - settings.lapse) * ndtr(apart - criterion)


def answer_weights(
    glasses: Glasses, call_node: NDArray[np.intp], settings: Settings
) -> tuple[Floats, Floats]:
    """The parts of the likelihood that depend on the answer and the person.

    Args:
        glasses: A glasses.
        call_node: Place of each person's false-call rate on the grid; shape (A,).
        settings: Numbers of the model.

    Returns:
        `share`, shape (A, C), and `base`, shape (A,).
    """
    grid = build_grid(settings)
    accuracy, calls, lucky = grid.naming_mean, grid.calls[call_node], 1 / settings.names
    outcome, is_naming = glasses.outcome, glasses.method == NAMING
    ones = np.ones_like(accuracy)
    share = np.stack([accuracy, 1 - accuracy, 0 * ones, ones])[outcome]
    base = np.choose(outcome, [calls * lucky, calls * (1 - lucky), 1 - calls, calls])
    is_right = (outcome == Outcome.RIGHT) * 1.0
    share = np.where(is_naming[:, None], share, is_right[:, None])
    return share, np.where(is_naming, base, 1 - is_right)


def likelihood(share: Floats, base: Floats, seen: Floats) -> Floats:
    """P(answer | naming accuracy, threshold).

    Args:
        share: Shape (A, C).
        base: Shape (A,).
        seen: Shape (A, G).

    Returns:
        Probabilities; shape (A, C, G).
    """
    return share[:, :, None] * seen[:, None, :] + (base[:, None] * (1 - seen))[:, None, :]
