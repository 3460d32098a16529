"""What further answers at the reference level would say: every way they may fall, exactly.

Glasses are taken as poured today, one after the other, so nothing drifts or ages between them.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.stats.ability.ahead import likelihood_at_reference
from seatworthy.stats.ability.cells import Places
from seatworthy.stats.ability.glasses import Outcome
from seatworthy.stats.ability.grid import Floats, build_grid
from seatworthy.stats.ability.one_thread import one_thread
from seatworthy.stats.ability.present import Present
from seatworthy.stats.ability.reading import build_readout, posterior
from seatworthy.stats.ability.settings import Settings
from seatworthy.stats.ability.tables import perceived

ANSWERS: Final = (Outcome.RIGHT, Outcome.WRONG, Outcome.NONE)  # the order of the last axis below
FEW: Final = 2  # further glasses that a choice of the next session looks at
_CELLS_A_BLOCK: Final = 400


@dataclass(frozen=True)
class NextAnswers:
    """P people and K compounds in one beer family, on own answers alone; Q ways.

    Attributes:
        ways: How many more are named right, named wrong, and not noticed; shape (Q, 3), by their
            sum, none first.
        seen: Chance of such answers in one given order; shape (P, K, Q).
        met: Chance that the rate at the reference level is good enough after them; (P, K, Q).
        perceives: Chance that a glass at that level is perceived often enough; shape (P, K).
        misnames: Chance that it is, and yet named right too seldom; shape (P, K).
    """

    ways: NDArray[np.int64]
    seen: Floats
    met: Floats
    perceives: Floats
    misnames: Floats

    @property
    def most(self) -> int:
        """How many further glasses it looks ahead."""
        return int(self.ways.sum(axis=1).max())

    def of(self, people: Places) -> "NextAnswers":
        """Only some people, by their places."""
        parts = (self.seen, self.met, self.perceives, self.misnames)
        return NextAnswers(self.ways, *(part[people] for part in parts))

    def of_compounds(self, compounds: Places) -> "NextAnswers":
        """Only some compounds, by their places."""
        parts = (self.seen, self.met, self.perceives, self.misnames)
        return NextAnswers(self.ways, *(part[:, compounds] for part in parts))


@lru_cache(maxsize=8)
def ways_to_answer(most: int) -> NDArray[np.int64]:
    """Every count of right, wrong and unnoticed answers up to a sum; shape (Q, 3), by the sum."""
    every = [
        (right, wrong, total - right - wrong)
        for total in range(most + 1)
        for right in range(total, -1, -1)
        for wrong in range(total - right, -1, -1)
    ]
    return np.array(every, dtype=np.int64)


def next_answers(
    present: Present, people: Places, compounds: Places, today: int, family: int, most: int = FEW
) -> NextAnswers:
    """Look ahead from what everybody's answers say now.

    Args:
        present: All answers so far.
        people: Whom to read; shape (P,).
        compounds: What to read; shape (K,).
        today: Days since 1970-01-01.
        family: Place of the beer family to read for.
        most: How many further glasses to look ahead.
    """
    settings, ways, shape = present.settings, ways_to_answer(most), (people.size, compounds.size)
    person, compound = np.repeat(people, compounds.size), np.tile(compounds, people.size)
    seen, met = np.empty((2, person.size, len(ways)))
    parts = np.empty((2, person.size))
    with one_thread():
        for start in range(0, person.size, _CELLS_A_BLOCK):
            at = slice(start, start + _CELLS_A_BLOCK)
            days = np.full(person[at].shape, today)
            evidence = present.evidence(person[at], compound[at], days, np.array([family]))[:, 0]
            own = posterior(evidence, build_grid(settings).own_prior, settings)
            node = present.call_node_on(person[at], days)
            seen[at], met[at] = _after(own, node, most, settings)
            parts[:, at] = _parts(own, settings)
    return NextAnswers(
        ways,
        seen.reshape(*shape, len(ways)),
        met.reshape(*shape, len(ways)),
        *parts.reshape(2, *shape),
    )


def _after(own: Floats, node: Places, most: int, settings: Settings) -> tuple[Floats, Floats]:
    """Chance of the answers, and chance met after them; shape (N, Q) both."""
    flat = own.reshape(len(own), -1)
    seen, met = np.empty((2, len(own), len(ways_to_answer(most))))
    for one in np.unique(node):
        at, powers = node == one, _powers(int(one), most, settings)
        seen[at] = flat[at] @ powers.T
        met[at] = flat[at] @ (powers * build_readout(settings).met[one].ravel()).T / seen[at]
    return seen, met


@lru_cache(maxsize=24)
def _powers(node: int, most: int, settings: Settings) -> Floats:
    """P(answers | accuracy, threshold) of every way; shape (Q, C * G)."""
    each = np.stack([likelihood_at_reference(one, settings)[node].ravel() for one in ANSWERS])
    ways = ways_to_answer(most)
    return np.prod([each[a] ** ways[:, a, None] for a in range(len(ANSWERS))], axis=0)


def _parts(own: Floats, settings: Settings) -> Floats:
    """Chance to perceive often enough, and of it to name too seldom; shape (2, N)."""
    grid, level = build_grid(settings), np.array([settings.reference_level])
    smells = perceived(level, grid.theta, settings)[0] >= settings.p_min
    names_badly = grid.naming_mean < settings.p_min
    over_naming = own[:, :, smells].sum(axis=2)
    return np.stack([over_naming.sum(axis=1), over_naming[:, names_badly].sum(axis=1)])
