"""Who takes which compound for which other: a distribution of names a person gives to each one.

No dates enter: a mix-up of last year counts like one of last week.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.special import betaincc

from seatworthy.stats.ability.glasses import NAMING, NOTHING, UNNAMED, Glasses, check_shapes
from seatworthy.stats.ability.grid import Floats
from seatworthy.stats.ability.settings import DEFAULT, Settings
from seatworthy.stats.ability.tables import glass_table

PRIOR_GLASSES: Final = 3.0  # what is expected of a row weighs like so many glasses; assumed
WORTH_SAYING: Final = 0.1  # a name given to fewer perceived glasses is no mix-up; assumed
SURE_ENOUGH: Final = 0.8  # chance from which on a pair is called mixed up; assumed
LEAST_OWN: Final = 2  # own wrong names without which nobody is said to mix up a pair
_SWEEPS: Final = 2
_LEAST: Final = 1e-12


@dataclass(frozen=True)
class Calls:
    """Answers to spiked naming glasses, in any order; every array has shape (A,).

    Attributes:
        person: Place on the person axis.
        served: Place of what was in the glass on the compound axis.
        said: Place of the name on the same axis; `NOTHING`, or `UNNAMED` for something without a
            known name, which moves no row.
        perceived: Chance that this person perceives such a glass (`chance_perceived`), a fraction.

    Raises:
        ValueError: if shapes differ, `said` lies below `UNNAMED` or `perceived` is no fraction.
    """

    person: NDArray[np.int64]
    served: NDArray[np.int64]
    said: NDArray[np.int64]
    perceived: NDArray[np.float64]

    def __post_init__(self) -> None:
        check_shapes(**vars(self))
        if np.any(self.said < UNNAMED):
            msg = f"What was said is a place, {NOTHING} or {UNNAMED}, got {self.said.min()}."
            raise ValueError(msg)
        if not np.all((self.perceived >= 0) & (self.perceived <= 1)):
            msg = "The chance to perceive a glass lies between 0 and 1."
            raise ValueError(msg)


@dataclass(frozen=True)
class Confusion:
    """Names given to what was perceived: P people, K compounds served, K names; (P, K, K).

    A row holds the names for one compound, its own name on the diagonal. What is called "pooled"
    leans on colleagues; a pair is flagged on a person's own answers alone. Rows in which a person
    never gave a name are nan.

    Attributes:
        names: How often each name was given; whole numbers, right names on the diagonal.
        weight: The same with guesses taken out: how many glasses are thought to have been
            perceived and named so.
        mean: Share of each name among the perceived, own answers alone.
        mean_pooled: The same, pooled.
        chance: Chance that the share is above `WORTH_SAYING`, own answers alone.
        chance_pooled: The same, pooled; for information, nobody is flagged by it.
        is_mixed_up: `chance` above `SURE_ENOUGH` and at least `LEAST_OWN` own wrong names.
        unnamed: Glasses in which something was noticed and no known name given; shape (P, K).
    """

    names: NDArray[np.int64]
    weight: Floats
    mean: Floats
    mean_pooled: Floats
    chance: Floats
    chance_pooled: Floats
    is_mixed_up: NDArray[np.bool_]
    unnamed: NDArray[np.int64]


def chance_perceived(
    glasses: Glasses, theta_mass: Floats, settings: Settings = DEFAULT
) -> NDArray[np.float64]:
    """Chance that each glass's taster perceives its flavour well enough to name it.

    Args:
        glasses: A naming glasses.
        theta_mass: Posterior of the threshold of each glass's cell; shape (A, G), rows sum to 1.
        settings: Numbers of the model.

    Returns:
        Fractions; shape (A,).

    Raises:
        ValueError: if a glass is of another method or its level is not known.
    """
    if not np.all((glasses.method == NAMING) & glasses.speaks):
        msg = "Only naming glasses of known level can be looked at."
        raise ValueError(msg)
    table = glass_table(glasses, settings)
    return np.clip(np.einsum("ag,ag->a", theta_mass, table.seen[table.kind]), 0, 1)


def find_mix_ups(
    calls: Calls,
    false_calls: Floats,
    shape: tuple[int, int],
    settings: Settings = DEFAULT,
    guesses: Floats | None = None,
) -> Confusion:
    """Estimate everybody's rows of names.

    Every name counts by the chance that it came from perception and not from a guess,
    ``D C / (D C + (1 - D) f q)``, in which the row C is that of the sweep before; two sweeps are
    made. A row is Dirichlet(weights + 3 m). Own rows take for m the naming prior of the ability
    model, mostly the own name and the rest even; pooled rows add the colleagues' weights to it,
    and m is brought to a sum of 1.

    On simulated panels of nine with ten compounds, three of the 810 pairs taken for each other in
    four of ten perceived glasses: flagged were 64, 81 and 97 % of them with 6, 12 and 24 glasses a
    cell, and 1.7, .5 and .2 others a panel that happen in less than one of ten. A flag after six
    glasses is a hint. A flat row for m flagged twice as many others at 12 glasses, and up to 5 a
    panel with few compounds.

    Args:
        calls: The answers.
        false_calls: Rate at each person's false-call node, between 0 and 1; shape (P,).
        shape: Numbers of people P and compounds K.
        settings: Numbers of the model.
        guesses: Share of each name among blind guesses, above 0, shape (K,); None takes all as
            equal.

    Raises:
        ValueError: if a place lies outside `shape`, or a false-call rate or share of guesses is
            missing or out of its range.
    """
    even, usual = np.full(shape[1], 1 / max(shape[1], 1)), _usual_rows(shape[1], settings)
    guessed = even if guesses is None else guesses
    _check(calls, false_calls, guessed, shape)
    lucky = false_calls[:, None] * guessed
    weight, own = _fit(calls, shape, lucky, usual, with_colleagues=False)
    _, pooled = _fit(calls, shape, lucky, usual, with_colleagues=True)
    names = _count(calls, calls.said >= 0, (*shape, shape[1]))
    mean, chance = _read_off(own, names)
    mean_pooled, chance_pooled = _read_off(pooled, names)
    is_wrong = ~np.eye(shape[1], dtype=np.bool_)
    return Confusion(
        names=names,
        weight=weight,
        mean=mean,
        mean_pooled=mean_pooled,
        chance=chance,
        chance_pooled=chance_pooled,
        is_mixed_up=is_wrong & (chance > SURE_ENOUGH) & (names >= LEAST_OWN),
        unnamed=_count(calls, calls.said == UNNAMED, shape),
    )


def _usual_rows(compounds: int, settings: Settings) -> Floats:
    """What is expected of anybody: mostly the own name, the rest even; shape (K, K)."""
    a, b = settings.naming_prior
    own = a / (a + b) if compounds > 1 else 1.0
    rows = np.full((compounds, compounds), (1 - own) / max(compounds - 1, 1))
    np.fill_diagonal(rows, own)
    return rows


def _fit(
    calls: Calls, shape: tuple[int, int], lucky: Floats, usual: Floats, *, with_colleagues: bool
) -> tuple[Floats, Floats]:
    """Weights of the names and Dirichlet parameters of the rows; shape (P, K, K) both."""
    rows = np.broadcast_to(usual, (shape[0], *usual.shape))
    weight, parameters = np.zeros_like(rows), PRIOR_GLASSES * rows
    for _ in range(_SWEEPS):
        weight = _weigh(calls, rows, lucky)
        of_others = (weight.sum(axis=0) - weight) * with_colleagues
        parameters = weight + PRIOR_GLASSES * _share(usual + of_others)
        rows = _share(parameters)
    return weight, parameters


def _weigh(calls: Calls, rows: Floats, lucky: Floats) -> Floats:
    """Sum of the chances that a name came from perception; shape of `rows`."""
    named = calls.said >= 0
    person, served, said = calls.person[named], calls.served[named], calls.said[named]
    perceived = calls.perceived[named]
    meant = perceived * rows[person, served, said]
    guessed = (1 - perceived) * lucky[person, said]
    weight = np.zeros_like(rows)
    np.add.at(weight, (person, served, said), meant / (meant + guessed))
    return weight


def _share(parameters: Floats) -> Floats:
    return parameters / parameters.sum(axis=2, keepdims=True)


def _read_off(parameters: Floats, names: NDArray[np.int64]) -> tuple[Floats, Floats]:
    """Mean share, and chance that it is worth saying; nan in rows without a name.

    One margin of a Dirichlet is a Beta.
    """
    rest = parameters.sum(axis=2, keepdims=True) - parameters
    exceeds = betaincc(parameters, np.maximum(rest, _LEAST), WORTH_SAYING)
    is_known = names.sum(axis=2, keepdims=True) > 0
    return np.where(is_known, _share(parameters), np.nan), np.where(is_known, exceeds, np.nan)


def _count(calls: Calls, chosen: NDArray[np.bool_], shape: tuple[int, ...]) -> NDArray[np.int64]:
    """How many chosen answers fall on each person and compound, and name if asked for."""
    counts = np.zeros(shape, dtype=np.int64)
    places = (calls.person, calls.served, calls.said)[: len(shape)]
    np.add.at(counts, tuple(place[chosen] for place in places), 1)
    return counts


def _check(calls: Calls, false_calls: Floats, guesses: Floats, shape: tuple[int, int]) -> None:
    sizes = (("person", 0, shape[0]), ("served", 0, shape[1]), ("said", UNNAMED, shape[1]))
    for name, least, size in sizes:
        places = getattr(calls, name)
        if np.any((places < least) | (places >= size)):
            msg = f"A place in {name} lies outside {least} to {size - 1}."
            raise ValueError(msg)
    if false_calls.shape != shape[:1] or not np.all((false_calls > 0) & (false_calls < 1)):
        msg = f"Each of {shape[0]} people needs a false-call rate between 0 and 1."
        raise ValueError(msg)
    if guesses.shape != shape[1:] or not np.all(guesses > 0):
        msg = f"Each of {shape[1]} names needs a share of the guesses above 0."
        raise ValueError(msg)
