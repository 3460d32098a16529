"""Balanced incomplete block designs of the textbooks: every pair of things together equally often."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from itertools import combinations, product
from typing import Final

Block = tuple[int, ...]

# Base blocks that are moved around the circle of `modulus`; INFINITY stays where it is.
_INFINITY: Final = -1
# Things, size of a block: modulus, base blocks. From memory; `check_pairs` proves each when used.
_FAMILIES: Final = {
    (6, 3): (5, ((0, 1, 3), (0, 1, _INFINITY))),
    (7, 3): (7, ((0, 1, 3),)),
    (8, 4): (7, ((0, 1, 3, _INFINITY), (2, 4, 5, 6))),
    (11, 5): (11, ((1, 3, 4, 5, 9),)),
    (13, 3): (13, ((0, 1, 4), (0, 2, 7))),
    (13, 4): (13, ((0, 1, 3, 9),)),
    (15, 7): (15, ((0, 1, 2, 4, 5, 8, 10),)),
    (19, 9): (19, ((1, 4, 5, 6, 7, 9, 11, 16, 17),)),
    (21, 5): (21, ((3, 6, 7, 12, 14),)),
}
_PLANES: Final = (2, 3, 5)  # affine planes of these prime orders
# A design in which everything of a size stands once is used up to this many blocks.
_MOST_UNREDUCED: Final = 24


@cache
def balanced_blocks(things: int, size: int) -> tuple[Block, ...]:
    """Blocks in which each thing stands equally often, and each pair of things together too.

    Args:
        things: How many, called 0, 1, 2 ...
        size: Things in a block, 1 or more and fewer than things.

    Returns:
        The blocks, proven; none if no such design of few blocks is known here.

    Raises:
        ValueError: if a design claims balance and lacks it.

    Source:
        Difference families, affine planes and complements as in Cochran and Cox, Experimental
        Designs, chapter 11, and in Bose (1939), Ann. Eugenics 9:353-399; all from memory.
    """
    if not 1 <= size < things:
        return ()
    blocks = _known(things, size)
    if not blocks:
        blocks = tuple(_complement(things, block) for block in _known(things, things - size))
    if blocks:
        check_pairs(blocks, things)
    return blocks


def check_pairs(blocks: Sequence[Block], things: int) -> None:
    """Refuse a design that claims balance and lacks it.

    Args:
        blocks: Of things called 0, 1, 2 ...
        things: How many.

    Raises:
        ValueError: naming the first thing or pair that is uneven.
    """
    standing = Counter(thing for block in blocks for thing in block)
    pairs = pair_counts(blocks)
    even = standing[0]
    for thing in range(things):
        if standing[thing] != even:
            message = f"thing {thing} stands in {standing[thing]} blocks, and thing 0 in {even}"
            raise ValueError(message)
    together = pairs[0, 1]
    for one, other in combinations(range(things), 2):
        if pairs[one, other] != together:
            message = (
                f"things {one} and {other} stand together {pairs[one, other]} times, and 0 and 1 "
                f"{together} times"
            )
            raise ValueError(message)


def pair_counts(blocks: Iterable[Sequence[int]]) -> Counter[tuple[int, int]]:
    """How often two things stand in one block, by pair in ascending order."""
    return Counter(pair for block in blocks for pair in combinations(sorted(block), 2))


def _known(things: int, size: int) -> tuple[Block, ...]:
    if (things, size) in _FAMILIES:
        return tuple(_moved_around(things, *_FAMILIES[things, size]))
    if things == size**2 and size in _PLANES:
        return tuple(_affine_lines(size))
    if size in (1, 2) and _unreduced(things, size) <= _MOST_UNREDUCED:
        return tuple(combinations(range(things), size))
    return ()


def _unreduced(things: int, size: int) -> int:
    return things if size == 1 else things * (things - 1) // 2


def _moved_around(things: int, modulus: int, bases: Sequence[Block]) -> Iterator[Block]:
    for base in bases:
        for step in range(modulus):
            yield tuple(
                sorted(things - 1 if x == _INFINITY else (x + step) % modulus for x in base)
            )


def _affine_lines(order: int) -> Iterator[Block]:
    """Lines y = slope x + start and x = start over the numbers modulo a prime."""
    for slope, start in product(range(order), repeat=2):
        yield tuple(x * order + (slope * x + start) % order for x in range(order))
    for x in range(order):
        yield tuple(x * order + y for y in range(order))


def _complement(things: int, block: Block) -> Block:
    return tuple(thing for thing in range(things) if thing not in block)
