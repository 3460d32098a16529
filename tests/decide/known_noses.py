"""People whose noses are known exactly, for the tests of the decisions."""

import numpy as np

from seatworthy.decide.noses import Noses
from seatworthy.stats.ability.abilities import Abilities
from seatworthy.stats.ability.grid import build_grid
from seatworthy.stats.ability.settings import DEFAULT


def noses_of(thresholds, accuracy=0.9, calls=0.05, tested=None, draws=64, spread=0.0, seed=1):
    """People with thresholds (P, K), log2 multiples, that are certain or spread about it.

    Args:
        thresholds: Shape (P, K).
        accuracy: Chance to name what is perceived; a number or (P, K).
        calls: False-call rates; a number or (P,).
        tested: Whether somebody has own glasses, (P, K); None: everybody of everything.
        draws: How many draws.
        spread: Standard deviation of the threshold's posterior.
        seed: Of the draws.
    """
    theta = np.asarray(thresholds, dtype=float)
    people, compounds = theta.shape
    grid = build_grid(DEFAULT).theta
    width = max(spread, DEFAULT.theta_step / 2)
    mass = np.exp(-(((grid - theta[..., None]) / width) ** 2) / 2)
    mass /= mass.sum(axis=2, keepdims=True)
    named = np.broadcast_to(np.asarray(accuracy, dtype=float), theta.shape)
    called = np.broadcast_to(np.asarray(calls, dtype=float), (people,))
    rng = np.random.default_rng(seed)
    abilities = Abilities(
        threshold=mass,
        accuracy=np.broadcast_to(named[..., None], mass.shape),
        threshold_draws=theta + spread * rng.standard_normal((draws, people, compounds)),
        accuracy_draws=np.broadcast_to(named, (draws, people, compounds)),
        calls=called,
        call_draws=np.broadcast_to(called, (draws, people)),
        has_glasses=np.ones(theta.shape, bool) if tested is None else np.asarray(tested, bool),
    )
    guessed = np.full(compounds, 1 / 12)
    others = max(compounds - 1, 1)
    misnamed = np.full((people, compounds, compounds), 1 / others) * (1 - np.eye(compounds))
    return Noses(
        tuple(f"p{i}" for i in range(people)),
        tuple(f"c{k}" for k in range(compounds)),
        abilities,
        guessed,
        misnamed,
    )
