"""The fewest people by whom every critical compound is covered often enough: the linear part."""

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp


def smallest_cover(
    meets: NDArray[np.bool_],
    is_other: NDArray[np.bool_],
    *,
    people_per_item: int,
    quorum: int,
    from_others: int,
) -> int | None:
    """How many people are needed at least so that quorum, independence and cover are met.

    An integer programme: one yes or no a person, one inequality an item.

    Args:
        meets: Whether somebody meets an item; shape (P, I).
        is_other: Whether somebody did not make the batch; shape (P,).
        people_per_item: Least people who meet each item.
        quorum: Least people.
        from_others: Least people who did not make the batch.

    Returns:
        None where not even all of them do.
    """
    people, items = meets.shape
    rows = np.vstack([meets.T, is_other[None], np.ones((1, people))]).astype(np.float64)
    needed = np.array([*[people_per_item] * items, from_others, quorum], dtype=np.float64)
    if not people or (rows.sum(axis=1) < needed).any():
        return None if needed.any() else 0
    found = milp(
        np.ones(people),
        integrality=np.ones(people),
        bounds=Bounds(0, 1),
        constraints=LinearConstraint(rows, lb=needed),
    )
    return round(float(found.fun))
