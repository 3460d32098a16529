"""What goes into the ability model: answered glasses and blanks, as arrays."""

from dataclasses import dataclass, fields
from enum import IntEnum
from typing import Final

import numpy as np
from numpy.typing import NDArray

NAMING: Final = "naming"
CHOICES: Final = ("3afc", "triangle", "duo_trio", "2afc")


class Outcome(IntEnum):
    """What became of a spiked glass."""

    RIGHT = 0
    """Its own name, or the right pick."""
    WRONG = 1
    """Another name, or the wrong pick."""
    NONE = 2
    """Nothing noticed."""
    OPEN = 3
    """Something noticed, no known name given."""


@dataclass(frozen=True)
class Glasses:
    """Answered spiked glasses in any order; every array has shape (A,).

    Attributes:
        day: Days since 1970-01-01.
        person: Place on the person axis.
        compound: Place on the compound axis.
        family: Place on the beer-family axis.
        method: Method codes; other than naming and the four forced choices say nothing here.
        level: Multiple of the working threshold, total, > 0; nan where not known, which says
            nothing here.
        background: Multiple of it that was in the base beer already, >= 0.
        outcome: `Outcome` codes; in a forced choice all but RIGHT is wrong.

    Raises:
        ValueError: if shapes differ, an outcome is unknown, a level is not above 0 or a
            background is below 0.
    """

    day: NDArray[np.int64]
    person: NDArray[np.int64]
    compound: NDArray[np.int64]
    family: NDArray[np.int64]
    method: NDArray[np.str_]
    level: NDArray[np.float64]
    background: NDArray[np.float64]
    outcome: NDArray[np.int64]

    def __post_init__(self) -> None:
        _check_shapes(self)
        if not np.isin(self.outcome, list(Outcome)).all():
            msg = "An outcome must be RIGHT, WRONG, NONE or OPEN."
            raise ValueError(msg)
        if np.any(self.level <= 0) or np.any(self.background < 0):
            msg = "A level must be above 0 and a background not below 0."
            raise ValueError(msg)

    def where(self, chosen: NDArray[np.bool_] | NDArray[np.intp]) -> "Glasses":
        """Only some of the glasses, or all in another order."""
        return Glasses(*(getattr(self, field.name)[chosen] for field in fields(self)))

    @property
    def speaks(self) -> NDArray[np.bool_]:
        """Which glasses the model can read: method with a link, level known; shape (A,)."""
        return np.isin(self.method, (NAMING, *CHOICES)) & ~np.isnan(self.level)


@dataclass(frozen=True)
class Blanks:
    """Answered blanks in any order; every array has shape (Z,).

    Attributes:
        day: Days since 1970-01-01.
        person: Place on the person axis.
        is_false_call: Whether something was called.

    Raises:
        ValueError: if shapes differ.
    """

    day: NDArray[np.int64]
    person: NDArray[np.int64]
    is_false_call: NDArray[np.bool_]

    def __post_init__(self) -> None:
        _check_shapes(self)


def _check_shapes(arrays: Glasses | Blanks) -> None:
    shapes = {field.name: getattr(arrays, field.name).shape for field in fields(arrays)}
    if len(set(shapes.values())) > 1 or any(len(shape) != 1 for shape in shapes.values()):
        msg = f"All arrays must be one-dimensional and equally long, got {shapes}."
        raise ValueError(msg)
