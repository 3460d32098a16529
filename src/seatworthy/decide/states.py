"""What a weighed beer may still have, level by level, and what a further look would show of it."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.decide.information import counted
from seatworthy.decide.noses import Floats, Noses
from seatworthy.decide.said import (
    LEVELS,
    NOTHING,
    SOMETHING,
    TAINT_UNNAMED,
    UNNAMED_SHARE,
    Likelihoods,
    guess_chance,
    taint_noticed,
)
from seatworthy.decide.weighing import level_chances
from seatworthy.stats.ability.abilities import perceived_at
from seatworthy.stats.ability.grid import build_grid
from seatworthy.stats.ability.tables import clearness
from seatworthy.stats.thurstone import LARGEST, proportion_right

_LEAST: Final = 1e-3  # chance below which a compound is left out of what may still be there
_FEW_IN_ALL: Final = 0.05  # of any fault, how much of it is left to those that stand for the rest
# What a laboratory finds of a compound above its working threshold, and of one that is not there;
# round figures for a validated method near the threshold. Assumed.
LABORATORY_FINDS: Final = 0.95
LABORATORY_FALSE: Final = 0.02


@dataclass(frozen=True)
class States:
    """M states: nothing wrong, each compound still possible at each level, something unlisted.

    The unlisted counts twice: commonly called by the compound in question, or not.

    Attributes:
        chance: Shape (M,), sums to 1.
        kind: Place of each state among nothing, K compounds, unlisted; shape (M,).
        kept: Places of the compounds that are still possible, on the compound axis.
        focus: The compound in question, a place on the same axis.
        is_any_fault: Whether the question is whether anything is wrong at all.
    """

    chance: Floats
    kind: NDArray[np.intp]
    kept: tuple[int, ...]
    focus: int
    is_any_fault: bool = False

    def by_kind(self, outcomes: Floats) -> tuple[Floats, Floats]:
        """Chances of the kinds, (Z,), and of outcomes (Y, M) given each, (Y, Z)."""
        kinds = np.unique(self.kind)
        is_kind = (self.kind[:, None] == kinds).astype(float)
        chances = self.chance @ is_kind
        weighted = (outcomes * self.chance) @ is_kind
        return chances, weighted / np.maximum(chances, np.finfo(float).tiny)

    @property
    def is_asked(self) -> NDArray[np.bool_]:
        """Where what is asked about is there; shape (M,)."""
        return self.kind > 0 if self.is_any_fault else self.kind == self.focus + 1


def states_after(
    chances: Floats, likely: Likelihoods, focus: int, *, is_any_fault: bool = False
) -> States:
    """The states after a weighing.

    Args:
        chances: Of nothing, K compounds, something unlisted; shape (K + 2,).
        likely: The likelihoods it rests on.
        focus: Place of the compound in question.
        is_any_fault: Whether the question is whether anything is wrong at all.
    """
    last = len(chances) - 1
    listed = chances[1:last]
    kept = _kept(listed, focus, is_any_fault=is_any_fault)
    scaled = _standing_for_all(listed, kept, None if is_any_fault else focus)
    parts, kinds = [chances[:1]], [0]
    for k in kept:
        parts.append(scaled[k] * level_chances(likely, k))
        kinds += [k + 1] * len(LEVELS)
    by_name = likely.taint.prod(axis=-2)
    called = by_name[focus] / by_name.sum() if by_name.sum() > 0 else 1 / len(by_name)
    parts.append(chances[last] * np.array([called, 1 - called]))
    kinds += [last, last]
    chance = np.concatenate(parts)
    return States(chance / chance.sum(), np.array(kinds), tuple(kept), focus, is_any_fault)


def _kept(listed: Floats, focus: int, *, is_any_fault: bool) -> list[int]:
    """Compounds still possible; of any fault the likeliest, that together are nearly all of it."""
    kept = listed >= _LEAST
    if is_any_fault:
        order = np.argsort(listed)
        kept[order] = np.cumsum(listed[order]) > _FEW_IN_ALL * listed.sum()
    kept[focus] = True
    others = np.delete(np.arange(len(listed)), focus)
    if others.size:
        kept[others[listed[others].argmax()]] = True
    return np.flatnonzero(kept).tolist()


def _standing_for_all(listed: Floats, kept: list[int], apart: int | None) -> Floats:
    """The chances of those kept, so raised that they stand for those left out too; shape (K,).

    Args:
        listed: Chances of K compounds; shape (K,).
        kept: Places of those kept.
        apart: The one compound whose own chance stays as it is; None for none.
    """
    is_raised = np.isin(np.arange(len(listed)), [k for k in kept if k != apart])
    everything = listed.sum() - (0.0 if apart is None else listed[apart])
    raised = listed[is_raised].sum()
    return np.where(is_raised, listed * (everything / raised if raised > 0 else 1.0), listed)


def said_again(noses: Noses, states: States, words: NDArray[np.intp] | None) -> Floats:
    """What each of P people would say when it is poured again, blind; shape (P, 3, M).

    The three are: the compound in question; something else; nothing.

    Args:
        noses: The people.
        states: What the beer may have.
        words: What each said of it before, which tells of their own nose too; None for people who
            did not taste it. Shape (P,).
    """
    perceived, named, wrong = _abilities(noses, states, words)
    people, focus = len(noses.people), states.focus
    call = guess_chance(noses, np.full(people, focus), noses.calls)[:, None]
    silent = 1 - noses.calls[:, None]
    at = np.array([*states.kept], dtype=np.intp)
    is_focus = np.repeat(at == focus, len(LEVELS))
    it = np.where(is_focus, named, wrong) + (1 - perceived) * call
    nothing = (1 - perceived) * silent
    noticed = _noticed(noses, focus)
    taint = noticed * np.array([1 - TAINT_UNNAMED, 0.0]) + (1 - noticed) * call
    it = np.concatenate([call, it, taint], axis=1)
    quiet = (1 - noticed) * silent
    nothing = np.concatenate([silent, nothing, quiet], axis=1)
    return np.stack([it, 1 - it - nothing, nothing], axis=1)


def _noticed(noses: Noses, focus: int) -> Floats:
    """Chance to notice something unlisted, called by the name in question or by any other; (P, 2)."""
    by_name = taint_noticed(noses)
    return np.stack([by_name[:, focus], by_name.mean(axis=1)], axis=1)


def _abilities(
    noses: Noses, states: States, words: NDArray[np.intp] | None
) -> tuple[Floats, Floats, Floats]:
    """Perceived, named right and taken for the compound in question; each (P, kept x levels)."""
    at, own = np.array([*states.kept], dtype=np.intp), noses.abilities
    seen = perceived_at(LEVELS, build_grid(noses.settings).theta, noses.settings)  # (G, X)
    mass, accuracy = own.threshold[:, at], own.accuracy[:, at]
    weight = mass[:, :, None] * np.ones(len(LEVELS))[:, None]
    if words is not None:
        weight = weight * _given(noses, at, words, seen, accuracy)
        weight /= np.maximum(weight.sum(axis=-1, keepdims=True), np.finfo(float).tiny)
    tested = noses.is_tested[:, at, None]
    perceived = np.einsum("pkxg,gx->pkx", weight, seen) * tested
    named = np.einsum("pkxg,gx,pkg->pkx", weight, seen, accuracy) * tested
    among = (1 - UNNAMED_SHARE) * noses.misnamed[:, at, states.focus]
    wrong = (perceived - named) * among[..., None]
    people = len(noses.people)
    return tuple(part.reshape(people, -1) for part in (perceived, named, wrong))


def _given(
    noses: Noses, at: NDArray[np.intp], words: NDArray[np.intp], seen: Floats, accuracy: Floats
) -> Floats:
    """How likely each one's first word is by their threshold; shape (P, kept, X, G)."""
    people = np.arange(len(words))
    name = np.maximum(words, 0)
    among = (1 - UNNAMED_SHARE) * noses.misnamed[people, :, name][:, at]
    unnamed = 1 - (1 - UNNAMED_SHARE) * noses.misnamed[:, at].sum(axis=2)
    among = np.where((words == SOMETHING)[:, None], unnamed, among)[..., None]
    is_it = (words[:, None] == at)[..., None]
    share = np.where(is_it, accuracy, (1 - accuracy) * among)
    share = np.where((words == NOTHING)[:, None, None], 0.0, share)
    clean = guess_chance(noses, words, noses.calls)[:, None, None, None]
    return share[:, :, None] * seen.T + (1 - seen.T) * clean


def triangle_right(noses: Noses, states: States) -> Floats:
    """Chance that each of P people picks the odd glass of a triangle against sound beer; (P, M)."""
    theta = build_grid(noses.settings).theta
    apart = np.minimum(clearness(LEVELS, theta), LARGEST)  # (X, G)
    lapse = noses.settings.lapse
    right = lapse / 3 + (1 - lapse) * proportion_right("triangle", apart)
    at = np.array([*states.kept], dtype=np.intp)
    found = np.einsum("pkg,xg->pkx", noses.abilities.threshold[:, at], right)
    found = np.where(noses.is_tested[:, at, None], found, 1 / 3)
    people = len(noses.people)
    clean, taint = np.full((people, 1), 1 / 3), (1 + 2 * _noticed(noses, states.focus)) / 3
    return np.concatenate([clean, found.reshape(people, -1), taint], axis=1)


def triangle_counts(noses: Noses, states: States) -> Floats:
    """Chance of each number of right picks; shape (P + 1, M)."""
    return counted(triangle_right(noses, states))


def laboratory_finds(states: States) -> Floats:
    """Chance that a laboratory finds the compound in question, and that it does not; (2, M)."""
    found = np.where(states.kind == states.focus + 1, LABORATORY_FINDS, LABORATORY_FALSE)
    return np.stack([found, 1 - found])
