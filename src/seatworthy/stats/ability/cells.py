"""Which cells are read, for which beer family and on which day, and in what portions."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.stats.ability.glasses import Blanks, Glasses

Places = NDArray[np.intp]
Shape = tuple[int, int, int]

AT_ONCE: Final = 64
"""Cells whose messages are worked on together: they stay in a processor's nearer memory."""


@dataclass(frozen=True)
class Cells:
    """N cells to read, each on a day of its own; every array has shape (N,).

    Attributes:
        person: Place on the person axis.
        compound: Place on the compound axis.
        family: Place on the beer-family axis for which the cell is read.
        day: Days since 1970-01-01.
    """

    person: Places
    compound: Places
    family: Places
    day: NDArray[np.int64]


def portions(number: int, most: int = AT_ONCE) -> Iterator[slice]:
    """Cut 0 to `number` into runs of at most `most`."""
    return (slice(start, min(start + most, number)) for start in range(0, number, most))


def check_places(glasses: Glasses, blanks: Blanks, shape: Shape) -> None:
    """Refuse answers that lie outside the axes.

    Args:
        glasses: Answered spiked glasses.
        blanks: Answered blanks.
        shape: Numbers of people, compounds and beer families.

    Raises:
        ValueError: if a place lies outside `shape`.
    """
    check_cells(glasses.person, glasses.compound, glasses.family, shape)
    _check_axis("The person of a blank", blanks.person, shape[0])


def check_cells(person: Places, compound: Places, family: Places, shape: Shape) -> None:
    """Refuse cells that lie outside the axes; arrays of one shape.

    Raises:
        ValueError: if a place lies outside `shape`.
    """
    names = ("A person", "A compound", "A family")
    for name, places, size in zip(names, (person, compound, family), shape, strict=True):
        _check_axis(name, places, size)


def _check_axis(name: str, places: Places, size: int) -> None:
    outside = (places < 0) | (places >= size)
    if np.any(outside):
        msg = f"{name} lies outside 0 to {size - 1}: {places[outside][0]}."
        raise ValueError(msg)
