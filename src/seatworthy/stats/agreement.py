"""Agreement on hidden duplicates, beside what a person's own rates would give."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


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
