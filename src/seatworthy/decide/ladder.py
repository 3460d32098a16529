"""Whose word moved a weighed call, and how far."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.decide.noses import Floats, Noses
from seatworthy.decide.said import NOTHING, Likelihoods, likelihoods
from seatworthy.decide.weighing import Prior, chances_after

_EDGE: Final = 1e-9


@dataclass(frozen=True)
class Rung:
    """One taster's word on the ladder.

    Attributes:
        taster: Place among the tasters.
        chance: Chance of what the ladder is about after this word.
        moved: By how much the word changes its log odds beside all the others' words.
    """

    taster: int
    chance: float
    moved: float


def ladder(
    noses: Noses,
    words: NDArray[np.intp],
    prior: Prior,
    places: list[int],
    power: float = 1.0,
    set_apart: frozenset[int] = frozenset(),
) -> tuple[float, tuple[Rung, ...]]:
    """The chance before anybody tasted, and after each word.

    Who called something comes first, then who said nothing, the words that move it most before the
    others. Those who can't be counted on for it stand last and move it nowhere: the little that their
    words say of an unlisted cause is in it from the first word on.

    Args:
        noses: The T tasters.
        words: What each said; shape (T,).
        prior: What was known before.
        places: Of `Weighing.chances`; what the ladder is about is any of them.
        power: What the likelihood is raised to.
        set_apart: Tasters who can't be counted on for it.
    """
    likely = likelihoods(noses, words)
    alone = np.array([_without(likely, prior, places, power, t) for t in range(len(words))])
    order = sorted(
        range(len(words)),
        key=lambda t: (t in set_apart, words[t] == NOTHING, -abs(alone[t]), t),
    )
    rungs, apart = [], sorted(set_apart)
    for number, taster in enumerate(order, start=1):
        heard = [*apart, *(t for t in order[:number] if t not in set_apart)]
        after = _chance(likely.of(heard), prior, places, power)
        rungs.append(Rung(taster, after, float(alone[taster])))
    return float(prior.all[places].sum()), tuple(rungs)


def _without(
    likely: Likelihoods, prior: Prior, places: list[int], power: float, taster: int
) -> float:
    everybody = list(range(likely.clean.shape[-1]))
    others = [t for t in everybody if t != taster]
    with_it = _chance(likely, prior, places, power)
    before = float(prior.all[places].sum())
    without = _chance(likely.of(others), prior, places, power) if others else before
    return float(_log_odds(with_it) - _log_odds(without))


def _chance(likely: Likelihoods, prior: Prior, places: list[int], power: float) -> float:
    return float(chances_after(likely, prior, power)[places].sum())


def _log_odds(chance: float) -> Floats:
    kept = np.clip(chance, _EDGE, 1 - _EDGE)
    return np.log(kept / (1 - kept))
