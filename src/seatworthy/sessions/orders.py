"""Serving orders in which place and neighbour even out over the panel (Williams designs)."""

from collections import Counter
from collections.abc import Hashable, Iterator, Sequence
from itertools import pairwise
from typing import Final

from seatworthy.sessions.draw import Draw

Row = tuple[int, ...]
Pair = tuple[int, int]

# Namings tried out to keep duplicates apart; more gain nothing at the sizes a panel can taste.
_NAMINGS_TRIED: Final = 200


def williams(treatments: int) -> tuple[Row, ...]:
    """Orders in which each treatment stands equally often in each place and after each other one.

    Args:
        treatments: How many, 1 or more; called 0, 1, 2 ... in the rows.

    Returns:
        As many rows as treatments if that is even, twice as many if it is odd (a second square,
        the first read backwards); each square holds each treatment once in each place.

    Raises:
        ValueError: if there is no treatment.

    Source:
        Williams E.J. (1949), Aust. J. Sci. Res. A 2:149-168; the construction from memory.
    """
    if treatments < 1:
        message = f"a design needs at least one treatment, got {treatments}"
        raise ValueError(message)
    zigzag = [(step + 1) // 2 * (1 if step % 2 else -1) for step in range(treatments)]
    square = tuple(
        tuple((first + step) % treatments for step in zigzag) for first in range(treatments)
    )
    if treatments % 2 == 0 or treatments == 1:
        return square
    return square + tuple(row[::-1] for row in square)


def check_balance(rows: Sequence[Sequence[int]]) -> None:
    """Refuse a design that claims balance and lacks it.

    Args:
        rows: One order a row, of treatments called 0, 1, 2 ...

    Raises:
        ValueError: naming the first row, place or pair of neighbours that is uneven.
    """
    size = len(rows[0]) if rows else 0
    if size == 0:
        message = "a design without rows or glasses is not balanced"
        raise ValueError(message)
    for number, row in enumerate(rows, start=1):
        if sorted(row) != list(range(size)):
            message = f"row {number} does not hold each of {size} treatments once: {tuple(row)}"
            raise ValueError(message)
    places = Counter((what, place) for row in rows for place, what in enumerate(row, start=1))
    wanted = [(what, place) for what in range(size) for place in range(1, size + 1)]
    _check_even(places, wanted, len(rows), size, "treatment {} in place {}")
    following = Counter(pair for row in rows for pair in pairwise(row))
    wanted = [(one, other) for one in range(size) for other in range(size) if one != other]
    _check_even(following, wanted, len(rows), size, "treatment {} right before treatment {}")


def _check_even(
    found: Counter[Pair], wanted: Sequence[Pair], rows: int, size: int, words: str
) -> None:
    for pair in wanted:
        if found[pair] * size != rows:
            message = (
                f"{words.format(*pair)} comes {found[pair]} times in {rows} rows, and "
                f"{rows / size:g} would be even"
            )
            raise ValueError(message)


def serving_orders(
    people: int, marks: Sequence[Hashable], draw: Draw, *, rows: int | None = None
) -> tuple[Row, ...]:
    """Give each of some people an order of the same glasses.

    The rows of the design are shuffled and used up before one is used again, one square after the
    other. So for any number of people each glass stands in each place at most once more often than
    in another, and whenever their number is a multiple of the rows, place and neighbour are exactly
    balanced. Within a square, rows in which no two glasses of one sample stand side by side come
    first; over a whole square they cannot all be avoided, and balance goes first there.

    Args:
        people: How many, 0 or more.
        marks: What is in each glass, such as its sample's letter; equal marks are duplicates.
        draw: The source of chance.
        rows: How many rows, if more than people, for the caller to choose from.

    Returns:
        One row a person: indices into `marks` in the order of serving.
    """
    wanted = people if rows is None else rows
    if not marks:
        return ((),) * wanted
    design = williams(len(marks))
    names = _best_naming(people, marks, draw)
    squares = [_renamed(square, names) for square in _squares(design, len(marks))]
    queue = _rows_in_turn(squares, marks, draw)
    return tuple(next(queue) for _ in range(wanted))


def together(row: Sequence[int], marks: Sequence[Hashable]) -> int:
    """How often two glasses of one sample stand side by side in an order."""
    return sum(marks[one] == marks[other] for one, other in pairwise(row))


def _rows_in_turn(
    squares: Sequence[Sequence[Row]], marks: Sequence[Hashable], draw: Draw
) -> Iterator[Row]:
    """Every row of the design once, then every row again, without end."""
    while True:
        for square in draw.shuffled(squares):
            yield from sorted(draw.shuffled(square), key=lambda row: together(row, marks))


def _best_naming(people: int, marks: Sequence[Hashable], draw: Draw) -> Row:
    """Which glass each treatment of the design stands for: duplicates apart in the rows used.

    A good naming lets the duplicates meet in the same few rows, which are then used last.
    """
    size = len(marks)
    if len(set(marks)) == size:
        return tuple(draw.shuffled(range(size)))
    square = williams(size)[:size]

    def meetings(names: Row) -> int:
        counts = sorted(together(row, marks) for row in _renamed(square, names))
        return sum(counts[: people % size])

    tried = [tuple(draw.shuffled(range(size))) for _ in range(_NAMINGS_TRIED)]
    return min(tried, key=meetings)


def _squares(design: Sequence[Row], size: int) -> list[Sequence[Row]]:
    return [design[start : start + size] for start in range(0, len(design), size)]


def _renamed(square: Sequence[Row], names: Row) -> list[Row]:
    return [tuple(names[what] for what in row) for row in square]
