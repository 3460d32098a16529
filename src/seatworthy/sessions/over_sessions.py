"""Which row of a design goes to whom, so that places even out over sessions."""

from collections.abc import Callable, Sequence
from typing import TypeVar

Row = TypeVar("Row")
Cost = Callable[[int, Row], int]


def given_out(rows: Sequence[Row], people: int, size: int, cost: Cost[Row]) -> list[Row]:
    """Give each of some people one of the rows, at the least cost.

    The rows are given out square by square, so what is balanced about a square's rows stays so.
    Within a square, rows change hands between two people, or with one nobody has, while that costs
    less; ties keep the order of the rows, so the same arguments give the same answer.

    Args:
        rows: At least as many as people.
        people: How many, 0 or more.
        size: Rows in a square.
        cost: What it costs to give person number so-and-so a row.
    """
    found: list[Row] = []
    for first in range(0, people, size):
        square = list(rows[first : first + size])
        costs = [
            [cost(who, row) for row in square] for who in range(first, min(first + size, people))
        ]
        found += [square[place] for place in _cheapest(costs)]
    return found


def _cheapest(costs: Sequence[Sequence[int]]) -> list[int]:
    """A row for each person, none twice; no exchange of two makes the sum smaller."""
    places = list(range(len(costs[0])))
    while any(
        _exchanged(costs, places, one, other)
        for one in range(len(costs))
        for other in range(one + 1, len(places))
    ):
        continue
    return places[: len(costs)]


def _exchanged(costs: Sequence[Sequence[int]], places: list[int], one: int, other: int) -> bool:
    """Let two exchange their rows if that costs less; who is beyond the people is nobody."""

    def costs_of(who: int, place: int) -> int:
        return costs[who][place] if who < len(costs) else 0

    mine, theirs = places[one], places[other]
    now = costs_of(one, mine) + costs_of(other, theirs)
    if costs_of(one, theirs) + costs_of(other, mine) >= now:
        return False
    places[one], places[other] = theirs, mine
    return True
