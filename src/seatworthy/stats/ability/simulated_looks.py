"""What the model says, day by day, of people who name right with a constant rate.

Simulated tasters get one compound's glasses at the reference level and are right or notice nothing,
each glass by itself. The model reads them as it reads everybody, so the chances are those that a
rule would look at.
"""

from itertools import product
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.glasses import NAMING, Blanks, Glasses, Outcome
from seatworthy.stats.ability.grid import Floats
from seatworthy.stats.ability.settings import DEFAULT, Settings

MOST_LISTED: Final = 10  # 2^10 rows of answers are listed in full, which needs no luck of a draw
_FIRST_DAY: Final = 20_000  # any: the model looks at days between, never at the calendar

Answers = NDArray[np.bool_]


class Runs(NamedTuple):
    """Rows of answers and how often somebody with a rate gives them: R rates, N rows, n glasses.

    Attributes:
        right: Whether each glass was named right; shape (N, n).
        weight: Chance of each row at each rate; shape (R, N), rows sum to 1.
        is_exact: Whether every row there can be is among them, or a random choice.
    """

    right: Answers
    weight: Floats
    is_exact: bool


def all_runs(rate: ArrayLike, glasses: int) -> Runs:
    """Every row of answers there can be.

    Args:
        rate: Rates of right names, fractions; shape (R,).
        glasses: Glasses in a row, n >= 0.

    Raises:
        ValueError: if a rate is no fraction, or there are more than ten glasses.
    """
    if not 0 <= glasses <= MOST_LISTED:
        msg = f"Rows of 0 to {MOST_LISTED} glasses can be listed, got {glasses}."
        raise ValueError(msg)
    chances = _checked(rate)
    right = np.array(list(product((False, True), repeat=glasses)), dtype=np.bool_)
    right = right.reshape(2**glasses, glasses)
    each = np.where(right, chances[:, None, None], 1 - chances[:, None, None])
    return Runs(right, each.prod(axis=2), is_exact=True)


def drawn_runs(rate: ArrayLike, glasses: int, runs: int = 400, seed: int = 1) -> Runs:
    """A random choice of rows of answers, with common random numbers for all rates.

    So a higher rate is never less right in the same run. Rows that came more than once stand once
    and weigh as often as they came. The standard error of a chance p is sqrt(p (1 - p) / runs),
    .025 at most for 400 runs.

    Args:
        rate: Rates of right names, fractions; shape (R,).
        glasses: Glasses in a row, n >= 0.
        runs: Rows drawn for each rate.
        seed: Seed of `numpy.random.default_rng`.

    Raises:
        ValueError: if a rate is no fraction or there are no runs.
    """
    if runs < 1:
        msg = f"At least one run is needed, got {runs}."
        raise ValueError(msg)
    chances = _checked(rate)
    luck = np.random.default_rng(seed).random((runs, glasses))
    right = luck < chances[:, None, None]
    rows, which = np.unique(right.reshape(-1, glasses), axis=0, return_inverse=True)
    weight = np.zeros((chances.size, len(rows)))
    np.add.at(weight, (np.repeat(np.arange(chances.size), runs), which.reshape(-1)), 1 / runs)
    return Runs(rows, weight, is_exact=False)


def chance_at_looks(right: Answers, day: ArrayLike, settings: Settings = DEFAULT) -> Floats:
    """Chance on own answers that the rate asked is reached, at the end of each day with glasses.

    Args:
        right: Whether each glass was named right, else nothing was noticed; shape (N, n).
        day: Day of each glass, counted from any day, not falling; shape (n,).
        settings: Numbers of the model.

    Returns:
        Chances at the L distinct days; shape (N, L). Nobody had a blank.

    Raises:
        ValueError: if the days fall or are not one a glass.
    """
    days = np.asarray(day, dtype=np.int64)
    if days.shape != right.shape[1:] or np.any(np.diff(days) < 0):
        msg = f"One day a glass is needed, none before the last, got {days} for {right.shape}."
        raise ValueError(msg)
    people, looks = len(right), np.unique(days).size
    if not right.size:
        return np.empty((people, looks))
    poured, last = _poured(right, days, settings), _FIRST_DAY + int(days[-1])
    seen = follow(poured, _NO_BLANKS, (people, 1, 1), last, settings)
    return seen.chance_met_own.reshape(looks, people).T


def _poured(rows: Answers, days: NDArray[np.int64], settings: Settings) -> Glasses:
    people, number = rows.shape
    nought = np.zeros(people * number, dtype=np.int64)
    return Glasses(
        day=_FIRST_DAY + np.tile(days, people),
        person=np.repeat(np.arange(people), number),
        compound=nought,
        family=nought,
        method=np.full(nought.size, NAMING),
        level=np.full(nought.size, settings.reference_level),
        background=np.zeros(nought.size),
        outcome=np.where(rows.ravel(), Outcome.RIGHT, Outcome.NONE).astype(np.int64),
    )


def _checked(rate: ArrayLike) -> Floats:
    chances = np.asarray(rate, dtype=np.float64)
    if chances.ndim != 1 or not np.all((chances >= 0) & (chances <= 1)):
        msg = "Rates of right names must be one row of fractions from 0 to 1."
        raise ValueError(msg)
    return chances


_NO_BLANKS: Final = Blanks(
    np.empty(0, dtype=np.int64), np.empty(0, dtype=np.int64), np.empty(0, dtype=np.bool_)
)
