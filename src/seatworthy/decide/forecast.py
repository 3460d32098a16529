"""How many more glasses until the rule says met or not met: exactly, every way they may fall.

Taken as given: every glass stands at the reference level, nothing drifts and no old glass drops out
of the window meanwhile. A training that works makes it shorter. `sessions_ahead` makes sessions of
glasses.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from seatworthy.decide.jugs import Limits
from seatworthy.decide.telling import is_settled
from seatworthy.stats.ability.next_answers import NextAnswers

Floats = NDArray[np.float64]
Counts = NDArray[np.int64]


@dataclass(frozen=True)
class Until:
    """Further glasses until the verdict, for P people and K compounds; N is the most looked at.

    Attributes:
        met: Chance of being met first after 0, 1 ... N more glasses; shape (P, K, N + 1).
        not_met: Chance of being not met first after so many; likewise.
        rate_if_open: Share that would be named right of those who are still open after N; nan
            where that can't be; shape (P, K).
    """

    met: Floats
    not_met: Floats
    rate_if_open: Floats

    @property
    def most(self) -> int:
        """N, the most further glasses looked at."""
        return self.met.shape[2] - 1

    @property
    def ever_met(self) -> Floats:
        """Chance of being met within N more glasses; shape (P, K)."""
        return self.met.sum(axis=2)

    @property
    def ever_not_met(self) -> Floats:
        """Chance of being not met within N more; shape (P, K)."""
        return self.not_met.sum(axis=2)


def glasses_until(ahead: NextAnswers, glasses: Counts, limits: Limits) -> Until:
    """Follow every way the answers may fall until the rule says something.

    Args:
        ahead: What further answers would say, as far ahead as is to be looked.
        glasses: Counted glasses so far; shape (P, K).
        limits: The rule for compounds.
    """
    lattice, most = _Lattice(ahead.ways), ahead.most
    total = ahead.ways.sum(axis=1)
    counted = glasses[..., None] + total
    settled = is_settled(ahead.met, counted, limits)
    is_met = settled & (ahead.met >= limits.met_when_sure)
    reach = np.zeros(ahead.seen.shape)
    reach[:, :, 0] = 1.0
    for way in range(len(ahead.ways)):
        if total[way] < most:
            here = np.where(settled[:, :, way], 0.0, reach[:, :, way])
            for to in lattice.after[way]:
                reach[:, :, to] += here * ahead.seen[:, :, to] / ahead.seen[:, :, way]
    open_still = np.where(settled, 0.0, reach)
    steps = total[:, None] == np.arange(most + 1)
    return Until(
        (reach * is_met) @ steps,
        (reach * (settled & ~is_met)) @ steps,
        _rate(open_still[:, :, total == most], ahead.ways[total == most], ahead, lattice),
    )


class _Lattice:
    """Which way follows which by one more answer."""

    def __init__(self, ways: Counts) -> None:
        place = {tuple(way): n for n, way in enumerate(ways.tolist())}
        steps = ((1, 0, 0), (0, 1, 0), (0, 0, 1))
        self.after = [
            [place[to] for s in steps if (to := tuple(np.add(way, s).tolist())) in place]
            for way in ways
        ]


def _rate(weight: Floats, ways: Counts, ahead: NextAnswers, lattice: _Lattice) -> Floats:
    """Share named right of the further glasses of those who stay open."""
    named = (weight * ways[:, 0]).sum(axis=2) / max(ahead.most, 1)
    every = weight.sum(axis=2)
    return np.where(every > 1e-6, named / np.maximum(every, 1e-6), np.nan)
