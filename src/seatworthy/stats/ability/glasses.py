"""What goes into the ability model: answered glasses and blanks, as arrays."""

from dataclasses import dataclass, fields
from enum import IntEnum
from typing import Final

import numpy as np
from numpy.typing import NDArray

NAMING: Final = "naming"
CHOICES: Final = ("3afc", "triangle", "duo_trio", "2afc")
A_NOT_A: Final = "a_not_a"

NOTHING: Final = -1  # said in place of a compound: nothing noticed
UNNAMED: Final = -2  # something noticed, without a known name


class Outcome(IntEnum):
    """What became of a spiked glass."""

    RIGHT = 0
    """Its own name, the right pick, or a yes to A/not-A."""
    WRONG = 1
    """Another name, the wrong pick, or a no to A/not-A."""
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
        method: Method codes; other than naming, the four forced choices and A/not-A say nothing
            here.
        level: Multiple of the working threshold, total, > 0; nan where not known, which says
            nothing here.
        background: Multiple of it that was in the base beer already, >= 0; nan likewise.
        outcome: `Outcome` codes; in a forced choice and in A/not-A all but RIGHT is wrong.

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
        check_shapes(**vars(self))
        if not np.isin(self.outcome, list(Outcome)).all():
            msg = "An outcome must be RIGHT, WRONG, NONE or OPEN."
            raise ValueError(msg)
        if np.any(self.level <= 0) or np.any(self.background < 0):
            msg = "A level must be above 0 and a background not below 0."
            raise ValueError(msg)
        if np.any(np.isinf(self.level) | np.isinf(self.background)):
            msg = "A level and a background must be finite, or nan where they are not known."
            raise ValueError(msg)

    def where(self, chosen: NDArray[np.bool_] | NDArray[np.intp]) -> "Glasses":
        """Only some of the glasses, or all in another order."""
        return Glasses(*(getattr(self, field.name)[chosen] for field in fields(self)))

    @property
    def speaks(self) -> NDArray[np.bool_]:
        """Which glasses the model can read: method with a link, amounts known; shape (A,)."""
        is_known = ~np.isnan(self.level) & ~np.isnan(self.background)
        return np.isin(self.method, (NAMING, *CHOICES, A_NOT_A)) & is_known


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
        check_shapes(**vars(self))


def check_shapes(**arrays: NDArray[np.generic]) -> None:
    """Refuse arrays that do not belong together.

    Raises:
        ValueError: if one of them has not one axis, or another length than the others.
    """
    shapes = {name: array.shape for name, array in arrays.items()}
    if len(set(shapes.values())) > 1 or any(len(shape) != 1 for shape in shapes.values()):
        msg = f"All arrays must be one-dimensional and equally long, got {shapes}."
        raise ValueError(msg)
