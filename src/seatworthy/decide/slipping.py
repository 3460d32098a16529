"""Did everybody at once find less than they usually do? Then suspect the stock, not the people."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.stats import hypergeom

Floats = NDArray[np.float64]

FEWEST_TASTERS: Final = 3  # fewer can't drop together
FEWEST_GLASSES: Final = 6
# Two glasses of one preparation go wrong together: correlation of their answers, assumed.
SHARED: Final = 0.05
# Standard deviations below what was foretold, without the person who fell shortest. From simulated
# panels whose people drift, misname and lose compounds (tests/bench/bench_slipping.py, 20 panels, some
# 30 glasses of 8 people in three months): .6 % of looks at a good compound are called together (.4 % with
# 12 people, .8 % with 4, 1.5 % where doses are off by .6 log2); of stocks that let everybody miss
# a quarter, half or three quarters of what they found, 15, 65 and 90 % are found (4 people: 5, 30, 75);
# one person who alone misses as much is called together in 1 of 300 at most.
TOGETHER_BELOW: Final = 1.8
# Standard deviations, everybody counted, from which it is told that one taster explains it; said of up to
# .3 % of such looks.
RESTS_ON_ONE: Final = 2.5
# Standard deviations from which the panel as a whole is better or worse; for worse again without the
# person who fell shortest, whose loss is no fault of the panel. Said of .4 to 1.3 % of months in which
# the panel as a whole did not move, in the same worlds; better of .8 % at most.
PANEL_MOVED: Final = 2.0
# Chance of so many more calls in blanks if nothing changed, below which it is said.
CALLS_ROSE: Final = 0.01


@dataclass(frozen=True)
class Shortfall:
    """What some glasses brought beside what was foretold of them.

    Attributes:
        glasses: Glasses that were foretold.
        right: Of these, named right.
        foretold: Right names that the days before let expect.
        tasters: Different people.
        below: Standard deviations by which fewer were right; below 0 where more were. nan without a
            glass.
        below_without_worst: The same without the person who fell shortest; nan with fewer than two
            people.
    """

    glasses: int
    right: int
    foretold: float
    tasters: int
    below: float
    below_without_worst: float

    @property
    def is_together(self) -> bool:
        """Whether everybody dropped together: no one person explains it."""
        return (
            self.tasters >= FEWEST_TASTERS
            and self.glasses >= FEWEST_GLASSES
            and self.below_without_worst >= TOGETHER_BELOW
        )

    @property
    def rests_on_one(self) -> bool:
        """Whether it is large and, without one person, would say nothing."""
        is_enough = self.tasters >= FEWEST_TASTERS and self.glasses >= FEWEST_GLASSES
        return is_enough and self.below >= RESTS_ON_ONE and not self.is_together

    @property
    def moved(self) -> int:
        """-1 where all in all fewer were right than chance explains, 1 where more, else 0."""
        if self.tasters < FEWEST_TASTERS:
            return 0
        if self.below_without_worst >= PANEL_MOVED:
            return -1
        return 1 if self.below <= -PANEL_MOVED else 0


def shortfall(
    person: ArrayLike, sample: ArrayLike, right: ArrayLike, chance: ArrayLike
) -> Shortfall:
    """Compare answers with what was foretold of them.

    Args:
        person: Number of each glass's taster; shape (A,).
        sample: Number of its preparation; shape (A,).
        right: Whether it was named right; shape (A,).
        chance: Chance of that by the days before, a fraction; shape (A,). Glasses with a nan are
            left out.

    Raises:
        ValueError: if shapes differ or a chance is no fraction.
    """
    who, jug = np.asarray(person), np.asarray(sample)
    is_right, foretold = np.asarray(right, dtype=np.float64), np.asarray(chance, dtype=np.float64)
    if not who.shape == jug.shape == is_right.shape == foretold.shape or who.ndim != 1:
        msg = "Each glass needs a person, a sample, an answer and a chance."
        raise ValueError(msg)
    if np.any((foretold < 0) | (foretold > 1)):
        msg = "A chance lies between 0 and 1."
        raise ValueError(msg)
    at = ~np.isnan(foretold)
    who, jug, is_right, foretold = who[at], jug[at], is_right[at], foretold[at]
    people, place = np.unique(who, return_inverse=True)
    without = np.nan
    if people.size > 1:
        short = np.bincount(place, foretold - is_right)
        kept = place != int(short.argmax())
        without = _below(jug[kept], is_right[kept], foretold[kept])
    return Shortfall(
        glasses=int(who.size),
        right=int(is_right.sum()),
        foretold=float(foretold.sum()),
        tasters=int(people.size),
        below=_below(jug, is_right, foretold),
        below_without_worst=without,
    )


def chance_of_so_many(recent: int, of: int, before: int, out_of: int) -> float:
    """Chance of at least so many of all calls among the recent blanks, if nothing changed.

    Args:
        recent: Calls in the recent blanks.
        of: Recent blanks.
        before: Calls in the blanks before.
        out_of: Blanks before.

    Returns:
        One-sided probability; 1 where a side has no blank.

    Raises:
        ValueError: if a count is negative or calls exceed blanks.

    Source:
        Fisher's exact test: Fisher (1935), The Design of Experiments, chapter 2.
    """
    if not (0 <= recent <= of and 0 <= before <= out_of):
        msg = "Calls must lie between 0 and the number of blanks."
        raise ValueError(msg)
    if not of or not out_of:
        return 1.0
    return float(hypergeom.sf(recent - 1, of + out_of, recent + before, of))


def more_calls_than_before(recent: int, of: int, before: int, out_of: int) -> bool:
    """Whether something is called in more blanks than chance explains; arguments likewise."""
    return chance_of_so_many(recent, of, before, out_of) < CALLS_ROSE


def _below(sample: NDArray[np.int64], right: Floats, foretold: Floats) -> float:
    """Foretold less right, in standard deviations; glasses of one sample go together a little."""
    if not right.size:
        return np.nan
    _, place = np.unique(sample, return_inverse=True)
    alone = np.maximum(foretold * (1 - foretold), 1e-6)
    spread = np.bincount(place, np.sqrt(alone))
    variance = (1 - SHARED) * alone.sum() + SHARED * (spread**2).sum()
    return float((foretold - right).sum() / np.sqrt(variance))
