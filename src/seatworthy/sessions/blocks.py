"""Who tastes what when nobody tastes everything: balanced incomplete blocks over the panel."""

from collections.abc import Sequence
from dataclasses import dataclass

from seatworthy.sessions.block_exchange import Blocks, exchanged
from seatworthy.sessions.designs import balanced_blocks
from seatworthy.sessions.draw import Draw
from seatworthy.sessions.plan import Past


@dataclass(frozen=True)
class Item:
    """Something shared out as a whole.

    Attributes:
        compound: Compound key.
        places: Places it takes in a flight, 1 or more.
    """

    compound: str
    places: int = 1


@dataclass(frozen=True)
class Taster:
    """Somebody who gets a flight.

    Attributes:
        person_id: "" for a spare order.
        refused: Compounds they are not to be served.
    """

    person_id: str
    refused: frozenset[str] = frozenset()


def share_out(
    items: Sequence[Item], people: Sequence[Taster], size: int, past: Past, draw: Draw
) -> tuple[tuple[int, ...], ...]:
    """Give each person some of the items.

    If all items take one place and nobody refuses any, each item comes to as many people as another
    or to one more, and each pair of items comes together as equally often as a known design, or
    else a search over exchanges, achieves. Otherwise both hold as far as they can. Whoever has had
    little of a compound, or of a pair of compounds, in the past gets the block that holds it.

    Args:
        items: What there is.
        people: Who tastes.
        size: Places in everybody's flight; less is given only if what is left does not fit.
        past: What was served in earlier sessions.
        draw: The source of chance.

    Returns:
        For each person, indices into `items`, ascending.
    """
    allowed = [_allowed(items, taster) for taster in people]
    first = _whole_designs(items, allowed, size, draw)
    blocks = Blocks(
        [set(block) for block in first],
        allowed,
        [item.places for item in items],
        _had([item.compound for item in items], people, past),
    )
    rest = draw.shuffled(range(len(first), len(people)))
    for who in sorted(rest, key=lambda who: len(allowed[who])):  # who has little choice goes first
        blocks.give(who, size, draw)
    exchanged(blocks, draw)
    return tuple(tuple(sorted(block)) for block in blocks.held)


def _allowed(items: Sequence[Item], taster: Taster) -> frozenset[int]:
    return frozenset(i for i, item in enumerate(items) if item.compound not in taster.refused)


def _whole_designs(
    items: Sequence[Item], allowed: Sequence[frozenset[int]], size: int, draw: Draw
) -> list[tuple[int, ...]]:
    """The blocks of a known design as often as they fit whole; none where it can't be used."""
    fits_all = all(len(kept) == len(items) for kept in allowed)
    if not fits_all or any(item.places != 1 for item in items):
        return []
    design = balanced_blocks(len(items), size)
    if not design:
        return []
    names = draw.shuffled(range(len(items)))
    blocks = [tuple(names[thing] for thing in block) for block in design]
    rounds = len(allowed) // len(design)
    return [block for _ in range(rounds) for block in draw.shuffled(blocks)]


def _had(
    compounds: Sequence[str], people: Sequence[Taster], past: Past
) -> list[list[list[int]]] | None:
    """How often each person had two items together, and on the diagonal one; None for no past."""
    if not past.served and not past.together:
        return None

    def had(person: str, one: str, other: str) -> int:
        if one == other:
            return past.served.get((person, one), 0)
        first, second = sorted((one, other))
        return past.together.get((person, first, second), 0)

    return [
        [
            [
                had(taster.person_id, one, other) if place == there or one != other else 0
                for there, other in enumerate(compounds)
            ]
            for place, one in enumerate(compounds)
        ]
        for taster in people
    ]
