"""How likely a taster's word is, for each thing that a beer may have.

A beer has nothing wrong, or one compound at one level, or something that is not on the list. Whoever
perceives a compound names it right, gives another name, or says that something is there without a
name; whoever perceives nothing may still call something, as in a blank. Somebody without a glass of
a compound says of it what they say of plain beer.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.decide.noses import Floats, Noses, perceived_mean
from seatworthy.stats.ability.abilities import perceived_at

NOTHING: Final = -1  # in place of a name: as it should be
SOMETHING: Final = -2  # something is wrong, without a name that is on the axis

# Levels that a faulty beer may have, multiples of the working threshold, and how common they are:
# about twice threshold, within a factor of five. Assumed; with such levels the weighing was simulated.
LEVELS: Final = 2.0 ** np.arange(-0.5, 5.01, 0.5)
_LEVEL_WEIGHT: Final = np.exp(-(((np.log2(LEVELS) - 1.0) / 1.2) ** 2) / 2)
LEVEL_SHARES: Final = _LEVEL_WEIGHT / _LEVEL_WEIGHT.sum()

UNNAMED_SHARE: Final = 0.25  # of what is perceived or guessed and not named right, without a name
# Who notices a cause that is not on the list and is commonly called by some name, and says so, if they
# perceive the compound of that name without fail.
TAINT_NOTICED: Final = 0.5
TAINT_UNNAMED: Final = 0.3  # of those, who finds no name for it; the others give one name


@dataclass(frozen=True)
class Likelihoods:
    """How likely each of T tasters' words is.

    Attributes:
        clean: If nothing is wrong; shape (..., T).
        there: If the beer has one of K compounds at one of X levels; shape (..., T, K, X).
        taint: If it has something unlisted that is commonly called by one of K names; (..., T, K).
    """

    clean: Floats
    there: Floats
    taint: Floats

    def of(self, tasters: list[int]) -> "Likelihoods":
        """Only some tasters, by their places."""
        return Likelihoods(
            self.clean[..., tasters], self.there[..., tasters, :, :], self.taint[..., tasters, :]
        )


def likelihoods(noses: Noses, words: NDArray[np.intp]) -> Likelihoods:
    """Likelihoods by the mean of what is known of everybody.

    Args:
        noses: The T tasters.
        words: What each said: place of a compound, `NOTHING` or `SOMETHING`; shape (T,).
    """
    perceived, named = perceived_mean(noses, LEVELS)
    return _put_together(noses, words, perceived, named, noses.calls)


def likelihood_draws(noses: Noses, words: NDArray[np.intp], draws: int) -> Likelihoods:
    """The same in so many draws of everybody's ability; the draws are the first axis."""
    own = noses.abilities
    seen = perceived_at(LEVELS, own.threshold_draws[:draws], noses.settings)
    seen = seen * noses.is_tested[..., None]
    named = own.accuracy_draws[:draws, ..., None] * seen
    return _put_together(noses, words, seen, named, own.call_draws[:draws])


def _put_together(
    noses: Noses, words: NDArray[np.intp], perceived: Floats, named: Floats, calls: Floats
) -> Likelihoods:
    clean = guess_chance(noses, words, calls)
    tasters = np.arange(len(words))
    is_name = words >= 0
    name = np.where(is_name, words, 0)
    # The share of this word among the words of those who perceive and don't name it right.
    among = (1 - UNNAMED_SHARE) * noses.misnamed[tasters, :, name] * is_name[:, None]
    unnamed = 1 - (1 - UNNAMED_SHARE) * noses.misnamed.sum(axis=2)
    among = np.where((words == SOMETHING)[:, None], unnamed, among)
    there = (perceived - named) * among[..., None] + (1 - perceived) * clean[..., None, None]
    is_it = is_name[:, None] & (name[:, None] == np.arange(len(noses.compounds)))
    there = there + named * is_it[..., None]
    said = np.where((words == SOMETHING)[:, None], TAINT_UNNAMED, (1 - TAINT_UNNAMED) * is_it)
    noticed = taint_noticed(noses)
    taint = noticed * said + (1 - noticed) * clean[..., None]
    return Likelihoods(clean, there, taint)


def taint_noticed(noses: Noses) -> Floats:
    """Chance to notice something unlisted that is like a compound; shape (T, K).

    Nought without a glass of that compound: silence of those who don't smell it means nothing here
    either.
    """
    perceived, _ = perceived_mean(noses, [noses.settings.reference_level])
    return TAINT_NOTICED * perceived[..., 0]


def guess_chance(noses: Noses, words: NDArray[np.intp], calls: Floats) -> Floats:
    """Chance of each taster's word in plain beer.

    Args:
        noses: The T tasters.
        words: Shape (T,).
        calls: False-call rates; shape (..., T).

    Returns:
        Shape of `calls`. Over all words it sums to 1.
    """
    unnamed = unnamed_guesses(noses)
    share = (1 - unnamed) * noses.guessed / max(noses.guessed.sum(), np.finfo(float).tiny)
    among = np.where(words >= 0, share[np.maximum(words, 0)], unnamed)
    return np.where(words == NOTHING, 1 - calls, calls * among)


def unnamed_guesses(noses: Noses) -> float:
    """Share of false calls without a name on the axis."""
    return float(max(1 - noses.guessed.sum(), UNNAMED_SHARE))
