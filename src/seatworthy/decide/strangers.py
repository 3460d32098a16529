"""People without a single answer on record: they say what anybody says of plain beer."""

from dataclasses import replace

import numpy as np

from seatworthy.decide.noses import Noses
from seatworthy.stats.ability.abilities import Abilities
from seatworthy.stats.ability.grid import build_grid


def with_strangers(noses: Noses, people: tuple[str, ...]) -> Noses:
    """The same people, and those of these who are not among them, behind them.

    Args:
        noses: Everybody with answers on record.
        people: Person ids.
    """
    new = tuple(person for person in people if person not in noses.people)
    if not new:
        return noses
    own, count, compounds = noses.abilities, len(new), len(noses.compounds)
    draws = len(own.call_draws)
    a, b = noses.settings.call_prior
    mean = a / (a + b)
    theta = build_grid(noses.settings).theta
    shape = (count, compounds, theta.size)
    names = np.full((count, compounds, compounds), 1 / max(compounds - 1, 1))
    names[:, np.arange(compounds), np.arange(compounds)] = 0
    more = Abilities(
        threshold=np.broadcast_to(build_grid(noses.settings).own_prior, shape),
        accuracy=np.full(shape, 0.0),
        threshold_draws=np.zeros((draws, count, compounds)),
        accuracy_draws=np.zeros((draws, count, compounds)),
        calls=np.full(count, mean),
        call_draws=np.full((draws, count), mean),
        has_glasses=np.zeros((count, compounds), dtype=np.bool_),
    )
    joined = Abilities(
        threshold=np.concatenate([own.threshold, more.threshold]),
        accuracy=np.concatenate([own.accuracy, more.accuracy]),
        threshold_draws=np.concatenate([own.threshold_draws, more.threshold_draws], axis=1),
        accuracy_draws=np.concatenate([own.accuracy_draws, more.accuracy_draws], axis=1),
        calls=np.concatenate([own.calls, more.calls]),
        call_draws=np.concatenate([own.call_draws, more.call_draws], axis=1),
        has_glasses=np.concatenate([own.has_glasses, more.has_glasses]),
    )
    return replace(
        noses,
        people=noses.people + new,
        abilities=joined,
        misnamed=np.concatenate([noses.misnamed, names]),
    )
