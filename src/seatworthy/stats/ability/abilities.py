"""What own answers say of everybody's thresholds and names today, as distributions to go on with."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.special import betaincinv

from seatworthy.stats.ability.cells import Shape
from seatworthy.stats.ability.glasses import Blanks, Glasses
from seatworthy.stats.ability.grid import Floats, Grid, build_grid
from seatworthy.stats.ability.one_thread import one_thread
from seatworthy.stats.ability.present import Present
from seatworthy.stats.ability.settings import DEFAULT, Settings
from seatworthy.stats.ability.tables import perceived
from seatworthy.stats.ability.today import blocks_of

DRAWS: Final = 256


@dataclass(frozen=True)
class Abilities:
    """Posteriors of P people and K compounds in one beer family, with S draws from each.

    Attributes:
        threshold: Posterior of the threshold on the model's grid; shape (P, K, G), sums to 1.
        accuracy: Mean chance to name what is perceived, given the threshold; shape (P, K, G).
        threshold_draws: Draws of the threshold, log2 multiples; shape (S, P, K).
        accuracy_draws: The chance to name in the same draws; shape (S, P, K).
        calls: Mean false-call rate; shape (P,).
        call_draws: Draws of it; shape (S, P).
        has_glasses: Whether somebody has own glasses of a compound, in any family; shape (P, K).
    """

    threshold: Floats
    accuracy: Floats
    threshold_draws: Floats
    accuracy_draws: Floats
    calls: Floats
    call_draws: Floats
    has_glasses: NDArray[np.bool_]


def read_abilities(
    glasses: Glasses,
    blanks: Blanks,
    shape: Shape,
    today: int,
    family: int,
    settings: Settings = DEFAULT,
    *,
    draws: int = DRAWS,
    seed: int = 1,
    pooled: bool = False,
) -> Abilities:
    """Read everybody's posterior of one day.

    Args:
        glasses: Answered spiked glasses; those after `today` are left out.
        blanks: Answered blanks; likewise.
        shape: Numbers of people P, compounds K and beer families B.
        today: Days since 1970-01-01.
        family: Place of the beer family to read for.
        settings: Numbers of the model.
        draws: How many draws S; they are spread evenly over each posterior.
        seed: Decides which draws of different people go together.
        pooled: Lean on colleagues' answers too; otherwise own answers alone.
    """
    people, compounds, _ = shape
    glasses = glasses.where(glasses.day <= today)
    past = blanks.day <= today
    blanks = Blanks(blanks.day[past], blanks.person[past], blanks.is_false_call[past])
    present = Present(shape, settings)
    present.take_in(glasses, blanks)
    rng, grid = np.random.default_rng(seed), build_grid(settings)
    nodes, bins = grid.theta.size, grid.naming_mean.size
    threshold = np.empty((people, compounds, nodes))
    accuracy = np.empty_like(threshold)
    drawn = np.empty((2, draws, people, compounds))
    with one_thread():
        for block in blocks_of(present, np.arange(compounds), np.array([family]), today):
            joint = (block.pooled if pooled else block.own).reshape(-1, bins, nodes)
            at = block.person, block.compound
            mass = joint.sum(axis=1)
            threshold[at] = mass
            named = np.einsum("ncg,c->ng", joint, grid.naming_mean)
            accuracy[at] = named / np.maximum(mass, np.finfo(np.float64).tiny)
            drawn[:, :, at[0], at[1]] = _draw(joint, grid, settings, draws, rng)
    count, called = np.zeros((2, people))
    np.add.at(count, blanks.person, 1)
    np.add.at(called, blanks.person, blanks.is_false_call)
    a, b = settings.call_prior[0] + called, settings.call_prior[1] + count - called
    return Abilities(
        threshold=threshold,
        accuracy=accuracy,
        threshold_draws=drawn[0],
        accuracy_draws=drawn[1],
        calls=a / (a + b),
        call_draws=betaincinv(a, b, _spread(draws, people, rng)),
        has_glasses=present.has_glasses()[:people, :compounds].any(axis=2),
    )


def perceived_at(levels: Floats, thresholds: Floats, settings: Settings = DEFAULT) -> Floats:
    """Chance that each level is perceived well enough to be named, by own threshold.

    Args:
        levels: Multiples of the working threshold, >= 0; shape (X,).
        thresholds: Log2 multiples; any shape.
        settings: Numbers of the model.

    Returns:
        Fractions; shape of `thresholds` with (X,) behind.
    """
    flat = np.clip(perceived(np.asarray(levels, float), thresholds.ravel(), settings), 0, 1)
    return flat.T.reshape(*thresholds.shape, len(levels))


def _spread(draws: int, cells: int, rng: np.random.Generator) -> Floats:
    """Fractions spread evenly from 0 to 1 down each column, in an order of its own; (S, N)."""
    order = np.argsort(rng.random((draws, cells)), axis=0)
    return (order + 0.5) / draws


def _draw(
    joint: Floats, grid: Grid, settings: Settings, draws: int, rng: np.random.Generator
) -> Floats:
    """Thresholds and accuracies drawn from posteriors (N, C, G); shape (2, S, N).

    Within a bin both are taken as spread evenly.
    """
    cells, bins, nodes = joint.shape
    along = np.cumsum(joint.swapaxes(1, 2).reshape(cells, -1), axis=1)  # the threshold runs slowest
    fraction = _spread(draws, cells, rng)
    asked = (fraction * along[:, -1]).T
    found = [np.searchsorted(row, ask) for row, ask in zip(along, asked, strict=True)]
    place = np.stack(found, axis=1)
    place = np.minimum(place, bins * nodes - 1)
    node, naming = np.divmod(place, bins)
    inside = rng.random((2, draws, cells))
    theta = grid.theta[node] + settings.theta_step * (inside[0] - 0.5)
    edges = grid.naming_edges
    named = edges[naming] + (edges[naming + 1] - edges[naming]) * inside[1]
    return np.stack([theta, named])
