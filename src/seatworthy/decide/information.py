"""Expected information: how much an outcome is expected to tell about a state."""

import numpy as np

from seatworthy.decide.noses import Floats


def expected_information(chances: Floats, outcomes: Floats) -> float:
    """Mutual information of an outcome with a state, in bits.

    Args:
        chances: Of each of Z states; shape (Z,), sums to 1.
        outcomes: Chance of each of Y outcomes in each state; shape (Y, Z), columns sum to 1.

    Source:
        Shannon (1948), Bell Syst. Tech. J. 27:379-423; as a value of an experiment Lindley (1956),
        Ann. Math. Stat. 27:986-1005.
    """
    return float(_entropy(outcomes @ chances) - _entropies(outcomes) @ chances)


def together(first: Floats, second: Floats) -> Floats:
    """Outcomes of two looks that are independent given the state; shapes (Y, M), (V, M) to (YV, M)."""
    return (first[:, None] * second[None]).reshape(-1, first.shape[-1])


def counted(hits: Floats) -> Floats:
    """Chance of each number of hits, each with a chance of its own; (N, M) to (N + 1, M)."""
    number = np.ones((1, hits.shape[-1]))
    for hit in hits:
        missed = np.concatenate([number * (1 - hit), np.zeros((1, hits.shape[-1]))])
        missed[1:] += number * hit
        number = missed
    return number


def _entropy(chances: Floats) -> float:
    kept = chances[chances > 0]
    return float(-(kept * np.log2(kept)).sum())


def _entropies(outcomes: Floats) -> Floats:
    safe = np.where(outcomes > 0, outcomes, 1.0)
    return -(outcomes * np.log2(safe)).sum(axis=0)
