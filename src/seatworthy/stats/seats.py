"""How the chances of single compounds add up to a seat, and seats to a panel.

Compounds are taken as independent of each other given how good somebody is, and so are people.
"""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

MOST_EXACT: Final = 2_000_000  # states of a panel times what one person may add; above: simulated
_PANELS: Final = 20_000

Floats = NDArray[np.float64]
SeatTable = NDArray[np.bool_]


class PanelChance(NamedTuple):
    """Chance that a panel can sit, and how it was found.

    Attributes:
        chance: Enough people sit, and enough of them meet every item.
        is_exact: Whether by counting, or from 20,000 simulated panels.
    """

    chance: float
    is_exact: bool


def items_met_and_not(met: ArrayLike, not_met: ArrayLike) -> Floats:
    """Chance of so many items met and so many not met.

    Args:
        met: Chance of each item; shape (I,).
        not_met: Likewise; what the two leave to 1 is open.

    Returns:
        Number met (rows) by number not met (columns); shape (I + 1, I + 1), sums to 1.

    Raises:
        ValueError: if chances are below 0, or their sum above 1.
    """
    good, bad = _checked(met, not_met)
    table = np.zeros((good.size + 1, good.size + 1))
    table[0, 0] = 1
    for up, down in zip(good, bad, strict=True):
        moved = table * (1 - up - down)
        moved[1:] += table[:-1] * up
        moved[:, 1:] += table[:, :-1] * down
        table = moved
    return table


def chance_of_panel(
    met: ArrayLike,
    not_met: ArrayLike,
    has_seat: SeatTable,
    others: float,
    people: int,
    quorum: int,
    each: int,
) -> PanelChance:
    """Chance that people who are all alike make a panel.

    Args:
        met: Chance that a person meets each item; shape (I,).
        not_met: Chance of not met; shape (I,).
        has_seat: Whether so many met and not met give a seat; shape (I + 1, I + 1), as
            `items_met_and_not`.
        others: Chance that whatever else a seat asks for is met.
        people: Number of people.
        quorum: Least people with a seat.
        each: Least people among them who meet an item, for every item.

    Raises:
        ValueError: if the chances are impossible.
    """
    good, bad = _checked(met, not_met)
    states = (quorum + 1) * (each + 1) ** good.size
    if states * 2**good.size > MOST_EXACT:
        return PanelChance(_simulated(good, bad, has_seat, others, people, quorum, each), False)
    sits = _who_sits(good, bad, has_seat) * others
    held = np.zeros((quorum + 1, *(each + 1 for _ in good)))
    held.flat[0] = 1
    for _ in range(people):
        held = _one_more(held, sits)
    return PanelChance(float(held.flat[-1]), True)


def _who_sits(good: Floats, bad: Floats, has_seat: SeatTable) -> Floats:
    """Chance that somebody has a seat and meets just the items of each set; shape (2^I,).

    Bit i of the set's number is item i.
    """
    sets = np.arange(2**good.size)
    met = (sets[:, None] >> np.arange(good.size) & 1).astype(np.bool_)
    by_bad = np.zeros((sets.size, good.size + 1))
    by_bad[:, 0] = 1
    for item, (up, down) in enumerate(zip(good, bad, strict=True)):
        inside = met[:, item, None]
        moved = by_bad * np.where(inside, up, 1 - up - down)
        moved[:, 1:] += by_bad[:, :-1] * np.where(inside, 0, down)
        by_bad = moved
    return (by_bad * has_seat[met.sum(axis=1)]).sum(axis=1)


def _one_more(held: Floats, sits: Floats) -> Floats:
    """Add a person; axis 0 counts seats, axis 1 + i people who meet item i, both up to enough."""
    found = held * (1 - sits.sum())
    for number, chance in enumerate(sits):
        moved = _up(held * chance, 0)
        for item in range(held.ndim - 1):
            if number >> item & 1:
                moved = _up(moved, item + 1)
        found += moved
    return found


def _up(held: Floats, axis: int) -> Floats:
    """One more along an axis; who is at its end stays there."""
    last = held.shape[axis] - 1
    moved = np.roll(held, 1, axis=axis)
    if last:
        first = [slice(None)] * held.ndim
        end = list(first)
        first[axis], end[axis] = 0, last
        moved[tuple(end)] += moved[tuple(first)]
        moved[tuple(first)] = 0
    return moved


def _simulated(
    good: Floats,
    bad: Floats,
    has_seat: SeatTable,
    others: float,
    people: int,
    quorum: int,
    each: int,
) -> float:
    draw = np.random.default_rng(1)
    can_sit = np.zeros(_PANELS, dtype=np.int64)
    cover = np.zeros((_PANELS, good.size), dtype=np.int64)
    for _ in range(people):
        luck = draw.random((_PANELS, good.size))
        met, not_met = luck < good, luck >= 1 - bad
        sits = has_seat[met.sum(axis=1), not_met.sum(axis=1)] & (draw.random(_PANELS) < others)
        can_sit += sits
        cover += met & sits[:, None]
    return float(np.mean((can_sit >= quorum) & (cover >= each).all(axis=1)))


def _checked(met: ArrayLike, not_met: ArrayLike) -> tuple[Floats, Floats]:
    good, bad = np.asarray(met, dtype=np.float64), np.asarray(not_met, dtype=np.float64)
    fits = good.ndim == 1 and good.shape == bad.shape
    if not fits or np.any(good < 0) or np.any(bad < 0) or np.any(good + bad > 1 + 1e-9):
        msg = f"Two chances an item with a sum of at most 1 are needed, got {good} and {bad}."
        raise ValueError(msg)
    return good, bad
