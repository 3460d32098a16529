"""A brewery that pours in rotation, seats whoever has 70 % right, and holds when two name a fault.

Common practice, no source. P people, K compounds.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from two_breweries_kept import Counts
from two_breweries_truth import COMPOUNDS, CRITICAL, PEOPLE, Flags, Pour, Whole

from seatworthy.stats.ability.glasses import NOTHING

GLASSES: Final = 7
BLANKS: Final = 2
LEVEL: Final = 3.0
ENOUGH_RIGHT: Final = 0.70
LEAST_GLASSES: Final = 4
COMPOUNDS_RIGHT: Final = 4
PANEL: Final = 5
QUORUM: Final = 4
CALLERS: Final = 2

Tasting = Callable[[int], Whole]  # what everybody says to a tank, by pour


@dataclass(frozen=True)
class Release:
    """What became of a tank.

    Attributes:
        is_held: Whether it is held.
        pours: How often it was poured for the panel, 1 or 2.
        chance: Chance of a fault after the first pour; nan where nobody says.
        chance_last: The same after the last.
    """

    is_held: bool
    pours: int
    chance: float = float("nan")
    chance_last: float = float("nan")


class Rotation:
    """The brewery.

    Args:
        pours_again: Whether a tank that one person calls is poured again, both pours counting.
        of: How many compounds are in the rotation, the critical ones first.
        right: Share that is to be right for a seat.
    """

    def __init__(
        self, *, pours_again: bool = False, of: int = COMPOUNDS, right: float = ENOUGH_RIGHT
    ) -> None:
        self.counts, self._pours_again, self._of, self._right = Counts(), pours_again, of, right
        self._next = self._first = 0

    def pour(self, week: int, day: int, glasses: int = GLASSES) -> Pour:
        """The next compounds in turn, and two blanks."""
        spiked = glasses - BLANKS
        compound = (self._next + np.arange(spiked)) % self._of
        self._next = (self._next + spiked) % self._of
        return Pour(
            np.concatenate([compound, np.full(BLANKS, NOTHING)]),
            np.concatenate([np.full(spiked, LEVEL), np.zeros(BLANKS)]),
        )

    def take_in(self, week: int, day: int, pour: Pour, said: Whole, is_here: Flags) -> None:
        """Count a session."""
        self.counts.take_in(week, pour, said, is_here)

    def seat(self, week: int, day: int) -> Flags:
        """Whoever has enough right of four glasses or more, in four critical compounds; (P,)."""
        glasses = self.counts.in_year(self.counts.glasses, week)[:, :CRITICAL]
        hits = self.counts.in_year(self.counts.hits, week)[:, :CRITICAL]
        is_right = (glasses >= LEAST_GLASSES) & (hits >= self._right * glasses - 1e-9)
        return is_right.sum(axis=1) >= COMPOUNDS_RIGHT

    def panel(self, seated: Flags, is_here: Flags) -> Whole:
        """The next five of those who sit and are here, others only to make up four."""
        turn = in_turn(self._first)
        self._first = (self._first + 1) % PEOPLE
        chosen = [p for p in turn if seated[p] and is_here[p]][:PANEL]
        others = [p for p in turn if not seated[p] and is_here[p]]
        return np.array([*chosen, *others[: max(QUORUM - len(chosen), 0)]], dtype=np.int64)

    def release(self, panel: Whole, taste: Tasting) -> Release:
        """Held where two of the panel name the same fault."""
        words = taste(0)[panel]
        if _callers(words[None]) >= CALLERS:
            return Release(True, 1)
        if not self._pours_again or not (words != NOTHING).any():
            return Release(False, 1)
        both = np.stack([words, taste(1)[panel]])
        return Release(_callers(both) >= CALLERS, 2)

    def hear(self, tanks: Whole) -> None:
        """Nothing follows from it here."""


def in_turn(first: int) -> list[int]:
    """Everybody, beginning with one of them."""
    return [(first + p) % PEOPLE for p in range(PEOPLE)]


def _callers(words: Whole) -> int:
    """Most people who name one and the same fault, in any of some pours (N, M)."""
    named = set(words[words != NOTHING].tolist())
    return max((int((words == name).any(axis=0).sum()) for name in named), default=0)
