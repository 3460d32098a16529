"""What guessing alone would do in a forced choice."""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import betainc

GUESS_RATES: Final = {
    "3afc": 1 / 3,
    "triangle": 1 / 3,
    "duo_trio": 1 / 2,
    "2afc": 1 / 2,
    "a_not_a": 1 / 2,
}
MOST_ASSESSORS: Final = 100_000


def guess_rate(method: str) -> float:
    """Share of right answers by guessing alone.

    Raises:
        ValueError: if the method has no fixed guess rate (naming, intensity).
    """
    if method not in GUESS_RATES:
        known = ", ".join(GUESS_RATES)
        msg = f"The method {method!r} has no fixed guess rate; known are {known}."
        raise ValueError(msg)
    return GUESS_RATES[method]


def p_against_guessing(right: ArrayLike, trials: ArrayLike, method: str) -> NDArray[np.float64]:
    """Chance of so many right answers or more if everybody only guessed (one-sided, exact).

    Args:
        right: Right answers, whole numbers, 0 <= right <= trials; any shape.
        trials: Answers given; same shape or one number.
        method: ``3afc``, ``triangle``, ``duo_trio``, ``2afc`` or ``a_not_a``.

    Returns:
        Probabilities; nan where `trials` is 0.

    Raises:
        ValueError: if a count is negative, `right` exceeds `trials` or the method is unknown.

    Source:
        Exact binomial test as in ISO 4120, ISO 10399 and ISO 5495.
    """
    hits, number = np.broadcast_arrays(
        np.asarray(right, dtype=np.float64), np.asarray(trials, dtype=np.float64)
    )
    if np.any((hits < 0) | (hits > number)):
        msg = "Right answers must lie between 0 and the number of trials."
        raise ValueError(msg)
    tail = binomial_tail(hits, number, guess_rate(method))
    return np.where(number == 0, np.nan, tail)


def smallest_right(trials: int, guess_rate: float, alpha: float) -> int | None:
    """Least number of right answers that guessing reaches with a chance of at most alpha.

    Returns:
        The number; None where even all right is not rare enough.

    Raises:
        ValueError: if `trials` is negative or a fraction does not lie between 0 and 1.
    """
    _check_fractions(guess_rate, alpha)
    if trials < 0:
        msg = f"The number of trials must not be negative, got {trials}."
        raise ValueError(msg)
    tails = binomial_tail(np.arange(trials + 1), trials, guess_rate)
    rare = np.flatnonzero(tails <= alpha)
    return int(rare[0]) if rare.size else None


def assessors_needed(
    guess_rate: float, proportion_discriminators: float, alpha: float, beta: float
) -> int:
    """Least number of answers with which a difference would be found.

    Args:
        guess_rate: Share right by guessing, between 0 and 1.
        proportion_discriminators: Share of people who truly tell the glasses apart; the others
            guess.
        alpha: Allowed chance of a difference where there is none.
        beta: Allowed chance of missing a difference of that size.

    Raises:
        ValueError: if a fraction does not lie between 0 and 1, or more than 100,000 are needed.

    Source:
        Exact binomial power as tabulated in ISO 4120 and ASTM E1885.
    """
    _check_fractions(guess_rate, proportion_discriminators, alpha, beta)
    right_share = proportion_discriminators + (1 - proportion_discriminators) * guess_rate
    for number in range(1, MOST_ASSESSORS + 1):
        needed = smallest_right(number, guess_rate, alpha)
        if needed is not None and binomial_tail(needed, number, right_share) >= 1 - beta:
            return number
    msg = f"More than {MOST_ASSESSORS} answers would be needed."
    raise ValueError(msg)


def binomial_tail(least: ArrayLike, trials: ArrayLike, rate: ArrayLike) -> NDArray[np.float64]:
    """Chance of at least so many successes; shapes are broadcast, ``least`` <= ``trials``."""
    count, number = np.asarray(least, dtype=np.float64), np.asarray(trials, dtype=np.float64)
    tail = betainc(np.maximum(count, 1), np.maximum(number - count + 1, 1), rate)
    return np.where(count <= 0, 1.0, tail)


def _check_fractions(*values: float) -> None:
    for value in values:
        if not 0 < value < 1:
            msg = f"A fraction between 0 and 1 is needed, got {value}."
            raise ValueError(msg)
