"""What everybody says to a glass that holds a compound: the ground all three decisions stand on.

Somebody without a glass of a compound says of it what they would say of plain beer: they are not
counted on for it, and their word or silence moves nothing there.
"""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from seatworthy.stats.ability.abilities import Abilities, perceived_at
from seatworthy.stats.ability.grid import build_grid
from seatworthy.stats.ability.settings import DEFAULT, Settings

Floats = NDArray[np.float64]

LEVELS: Final = (1.0, 2.0, 3.0, 5.0)  # multiples at which a panel's misses are shown


@dataclass(frozen=True)
class Noses:
    """P people and K compounds in one beer family, by their own answers.

    Attributes:
        people: Person ids, the labels of the person axis.
        compounds: Compound keys, the labels of the compound axis.
        abilities: Posteriors of thresholds and naming, and false-call rates.
        guessed: Share of each compound's name among false calls; shape (K,), sums to less than 1,
            the rest being names that are not on the axis.
        misnamed: Of the wrong names for a compound, the share of each other name; shape (P, K, K),
            nought on the diagonal, rows sum to at most 1.
        settings: Numbers of the ability model.
    """

    people: tuple[str, ...]
    compounds: tuple[str, ...]
    abilities: Abilities
    guessed: Floats
    misnamed: Floats
    settings: Settings = DEFAULT

    @property
    def is_tested(self) -> NDArray[np.bool_]:
        """Whether somebody has own glasses of a compound; shape (P, K)."""
        return self.abilities.has_glasses

    @property
    def calls(self) -> Floats:
        """Mean false-call rate; shape (P,)."""
        return self.abilities.calls

    def of(self, people: list[int] | NDArray[np.intp]) -> "Noses":
        """Only some people, by their places, in that order."""
        at = np.asarray(people, dtype=np.intp)
        own = self.abilities
        return replace(
            self,
            people=tuple(self.people[i] for i in at),
            misnamed=self.misnamed[at],
            abilities=Abilities(
                threshold=own.threshold[at],
                accuracy=own.accuracy[at],
                threshold_draws=own.threshold_draws[:, at],
                accuracy_draws=own.accuracy_draws[:, at],
                calls=own.calls[at],
                call_draws=own.call_draws[:, at],
                has_glasses=own.has_glasses[at],
            ),
        )


def perceived_mean(noses: Noses, levels: ArrayLike) -> tuple[Floats, Floats]:
    """Mean chance to perceive a level, and to perceive it and name it right.

    Args:
        noses: The people.
        levels: Multiples of the working threshold; shape (X,).

    Returns:
        Two arrays of shape (P, K, X); nought where somebody has no glasses of the compound.
    """
    own, theta = noses.abilities, build_grid(noses.settings).theta
    seen = perceived_at(np.atleast_1d(np.asarray(levels, float)), theta, noses.settings)
    tested = noses.is_tested[..., None]
    perceived = (own.threshold @ seen) * tested
    named = ((own.threshold * own.accuracy) @ seen) * tested
    return perceived, named


def named_mean(noses: Noses, levels: ArrayLike) -> Floats:
    """Mean chance that each person names each compound at each level; shape (P, K, X)."""
    perceived, named = perceived_mean(noses, levels)
    lucky = noses.calls[:, None, None] * noses.guessed[:, None]
    return named + (1 - perceived) * lucky


def named_draws(noses: Noses, levels: ArrayLike) -> Floats:
    """The same in every draw; shape (S, P, K, X)."""
    own = noses.abilities
    ask = np.atleast_1d(np.asarray(levels, float))
    seen = perceived_at(ask, own.threshold_draws, noses.settings) * noses.is_tested[..., None]
    lucky = own.call_draws[:, :, None, None] * noses.guessed[:, None]
    return own.accuracy_draws[..., None] * seen + (1 - seen) * lucky
