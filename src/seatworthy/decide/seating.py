"""Who should sit: the panel that misses least, and the smallest that misses little enough.

Found exactly. A panel of so many people is built person by person; what it would miss if its free
chairs went to the strongest nose left for each compound at once can't be bettered, and a branch whose
bound is no better than the best panel found is left out.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.decide.covering import smallest_cover
from seatworthy.decide.missing import Item, best_of_items, fewer_than
from seatworthy.decide.noses import Floats
from seatworthy.decide.seating_search import DIGITS, Bounds, Search

Flags = NDArray[np.bool_]

MOST_LOOKED_AT: Final = 4_000_000  # panels and parts of panels; some seconds, then it is said


@dataclass(frozen=True)
class Candidates:
    """P people who may sit, K compounds, I critical items.

    Attributes:
        named: Chance to name each compound at the level asked, nought where not counted on; (P, K).
        items: Places of the compounds of each critical item.
        meets: Whether somebody meets an item by the rules; shape (P, I).
        is_other: Whether somebody did not make the batch; shape (P,).
    """

    named: Floats
    items: tuple[Item, ...]
    meets: Flags
    is_other: Flags


@dataclass(frozen=True)
class Needs:
    """What a panel must have.

    Attributes:
        callers: Independent callers that make a fault call.
        quorum: Least people.
        from_others: Least people who did not make the batch.
        people_per_item: Least people who meet each item.
        limit: Largest chance that an item goes uncalled.
    """

    callers: int
    quorum: int = 1
    from_others: int = 0
    people_per_item: int = 0
    limit: float = 1.0


@dataclass(frozen=True)
class Proposal:
    """A panel that was found.

    Attributes:
        people: Places of its people, in order.
        missed: Chance that each item goes uncalled; shape (I,).
        is_proved: Whether no better one exists; else the search was ended before its end.
    """

    people: tuple[int, ...]
    missed: Floats
    is_proved: bool = True

    @property
    def worst(self) -> float:
        """The largest of the chances; 0 without items."""
        return float(self.missed.max(initial=0.0))


def missed_by(candidates: Candidates, people: Sequence[int], callers: int) -> Floats:
    """Chance that each item goes uncalled by these people; shape (I,)."""
    if not candidates.items:
        return np.zeros(0)
    chances = candidates.named[list(people)]
    return best_of_items(fewer_than(chances, callers), candidates.items)


def best_panel(
    candidates: Candidates, needs: Needs, size: int, most: int = MOST_LOOKED_AT
) -> Proposal | None:
    """The panel of so many people whose weakest item is missed least.

    Of panels alike in that the one that misses least in sum, then the first by the order of people.
    An item that too few of the candidates meet is asked of as many as there are.

    Args:
        candidates: Who may sit.
        needs: What the panel must have; quorum and limit are left aside.
        size: How many people.
        most: How many panels and parts are looked at before the search is ended.

    Returns:
        None if no panel of that size has what is needed.
    """
    return _searched(candidates, needs, size, 1.0, most)[0]


def smallest_panel(
    candidates: Candidates, needs: Needs, most: int = MOST_LOOKED_AT
) -> Proposal | None:
    """The fewest people who have all that is needed, the best of as few.

    Args:
        candidates: Who may sit.
        needs: What the panel must have.
        most: How many panels and parts are looked at, for each size.

    Returns:
        None if not even all of them together have it.
    """
    people = len(candidates.is_other)
    least = smallest_cover(
        candidates.meets,
        candidates.is_other,
        people_per_item=needs.people_per_item,
        quorum=needs.quorum,
        from_others=needs.from_others,
    )
    everybody = missed_by(candidates, range(people), needs.callers)
    if least is None or (np.round(everybody, DIGITS) > needs.limit).any():
        return None
    is_proved = True
    for size in range(max(least, 1), people + 1):
        found, is_searched = _searched(candidates, needs, size, needs.limit, most)
        is_proved &= is_searched
        if found is not None:
            return replace(found, is_proved=is_proved)
    return None


def _searched(
    candidates: Candidates, needs: Needs, size: int, limit: float, most: int
) -> tuple[Proposal | None, bool]:
    """What was found, and whether the search came to its end."""
    people = len(candidates.is_other)
    if not 1 <= size <= people:
        return None, True
    bounds = Bounds.of(candidates.named, candidates.items, needs.callers, size)
    search = Search(
        bounds,
        candidates.meets,
        candidates.is_other,
        people_per_item=np.minimum(needs.people_per_item, candidates.meets.sum(axis=0)),
        from_others=needs.from_others,
        limit=limit,
        most=most,
    )
    search.start_from(_tried(candidates, needs, size))
    chosen = search.run()
    if chosen is None:
        return None, search.is_proved
    missed = missed_by(candidates, chosen, needs.callers)
    return Proposal(chosen, missed, search.is_proved), search.is_proved


def _tried(candidates: Candidates, needs: Needs, size: int) -> Iterator[tuple[int, ...]]:
    """A panel built by the best next person, then bettered by exchanges: a start, not an answer."""
    people = range(len(candidates.is_other))

    def value(panel: Sequence[int]) -> tuple[float, float]:
        missed = missed_by(candidates, panel, needs.callers)
        return float(missed.max(initial=0.0)), float(missed.sum())

    panel: list[int] = []
    while len(panel) < size:
        rest = [i for i in people if i not in panel]
        panel.append(min(rest, key=lambda i: value([*panel, i])))
    yield tuple(sorted(panel))
    for at in range(size):
        rest = [i for i in people if i not in panel]
        swaps = [[*panel[:at], i, *panel[at + 1 :]] for i in rest]
        panel = min([panel, *swaps], key=value)
    yield tuple(sorted(panel))
