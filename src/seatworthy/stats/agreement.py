"""Agreement on hidden duplicates, beside what chance or a person's own rates would give."""

from collections.abc import Callable
from typing import Final, Literal, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

Counts = NDArray[np.int64]
Weights = Literal["none", "linear"]


def expected_agreement(rates: ArrayLike) -> NDArray[np.float64]:
    """Chance that two glasses of one sample are both named right, or both not.

    Two different wrong names agree in this sense: neither glass was named right.

    Args:
        rates: Chance of a right name, one per pair, fractions; shape (n,).

    Returns:
        rate^2 + (1 - rate)^2, shape (n,).
    """
    rates = np.asarray(rates, dtype=np.float64)
    return rates**2 + (1 - rates) ** 2


def chance_of_so_few(agreed: int, expected: ArrayLike) -> float:
    """Chance of at most so many agreements among independent pairs that differ in their chances.

    Args:
        agreed: Pairs that agreed, 0 <= agreed <= n.
        expected: Chance of agreement of each pair, fractions; shape (n,).

    Returns:
        A fraction; 1 for no pairs, since nothing is then improbable.

    Raises:
        ValueError: if `agreed` is negative or exceeds the number of pairs.

    Source:
        Poisson's binomial distribution by convolving the pairs one after the other; equals the
        binomial distribution where all chances are equal.
    """
    chances = np.asarray(expected, dtype=np.float64)
    if not 0 <= agreed <= chances.size:
        message = f"agreed must lie between 0 and {chances.size}, got {agreed}"
        raise ValueError(message)
    mass = np.ones(1)
    for chance in chances:
        mass = np.convolve(mass, [1 - chance, chance])
    return float(mass[: agreed + 1].sum())


class Kappa(NamedTuple):
    """Agreement beyond chance and its standard error; nan where chance alone agrees always."""

    value: float
    standard_error: float


def agreed_share(first: ArrayLike, second: ArrayLike) -> float:
    """Share of pairs that got the same code twice.

    Args:
        first: Codes of the first glasses, whole numbers; shape (n,).
        second: Codes of the second glasses; shape (n,).

    Returns:
        A fraction; nan without any pair.

    Raises:
        ValueError: if the two are no rows of whole numbers of equal length.
    """
    one, other = _paired_codes(first, second)
    return float(np.mean(one == other)) if one.size else float("nan")


def agreement_table(first: ArrayLike, second: ArrayLike, categories: int) -> Counts:
    """How often each code of the first glass came with each code of the second.

    Args:
        first: Codes of the first glasses, 0 <= code < categories; shape (n,).
        second: Codes of the second glasses; shape (n,).
        categories: Number of codes K; codes that nobody used keep their row and column.

    Returns:
        Counts, first glass down, second across; shape (K, K).

    Raises:
        ValueError: if the two are no rows of whole numbers of equal length, or a code is none of
            the K.
    """
    one, other = _paired_codes(first, second)
    codes = np.concatenate([one, other])
    if np.any((codes < 0) | (codes >= categories)):
        message = f"codes must lie between 0 and {categories - 1}, got {codes.min()}..{codes.max()}"
        raise ValueError(message)
    flat = np.bincount(one * categories + other, minlength=categories**2)
    return flat.reshape(categories, categories)


def kappa(table: ArrayLike, weights: Weights = "none") -> Kappa:
    """Cohen's kappa: how far agreement exceeds what the two margins give by chance.

    Args:
        table: Counts, one way down and the other across; shape (K, K).
        weights: ``none`` counts two different codes as no agreement at all; ``linear`` gives part
            agreement, 1 - |i - j| / (K - 1), to codes that stand in an order.

    Returns:
        Kappa and its large-sample standard error (kappa itself not taken as 0); both nan for an
        empty table and where both ways used one and the same code only.

    Raises:
        ValueError: if the table is not square, a count is negative or not finite, or the weights
            are unknown.

    Source:
        Cohen (1960), Educ. Psychol. Meas. 20:37-46; standard error of Fleiss, Cohen & Everitt
        (1969), Psychol. Bull. 72:323-327, equations 8 and 13.
    """
    counts, credit = _square(table), _CREDIT.get(weights)
    if credit is None:
        message = f"weights must be one of {', '.join(_CREDIT)}, got {weights!r}"
        raise ValueError(message)
    total = counts.sum()
    if total == np.max(np.diagonal(counts), initial=0):
        return Kappa(float("nan"), float("nan"))
    share, worth = counts / total, credit(len(counts))
    rows, columns = share.sum(axis=1), share.sum(axis=0)
    by_chance = rows @ worth @ columns
    value = ((share * worth).sum() - by_chance) / (1 - by_chance)
    typical = (worth @ columns)[:, None] + rows @ worth
    spread = (share * (worth - typical * (1 - value)) ** 2).sum()
    variance = spread - (value - by_chance * (1 - value)) ** 2
    error = np.sqrt(max(variance, 0.0) / total) / (1 - by_chance)
    return Kappa(float(value), float(error))


def _linear_credit(size: int) -> NDArray[np.float64]:
    place = np.arange(size)
    return 1 - np.abs(place[:, None] - place) / (size - 1)


_CREDIT: Final[dict[str, Callable[[int], NDArray[np.float64]]]] = {
    "none": np.eye,
    "linear": _linear_credit,
}


def _paired_codes(first: ArrayLike, second: ArrayLike) -> tuple[Counts, Counts]:
    one, other = np.asarray(first, dtype=np.float64), np.asarray(second, dtype=np.float64)
    if one.ndim != 1 or one.shape != other.shape:
        message = f"two rows of equal length are needed, got shapes {one.shape} and {other.shape}"
        raise ValueError(message)
    if np.any((one != np.rint(one)) | (other != np.rint(other))):
        message = "codes must be whole numbers"
        raise ValueError(message)
    return one.astype(np.int64), other.astype(np.int64)


def _square(table: ArrayLike) -> NDArray[np.float64]:
    counts = np.asarray(table, dtype=np.float64)
    if counts.ndim != 2 or counts.shape[0] != counts.shape[1]:
        message = f"a square table is needed, got shape {counts.shape}"
        raise ValueError(message)
    if not np.all(np.isfinite(counts) & (counts >= 0)):
        message = "counts must be finite and not negative"
        raise ValueError(message)
    return counts
