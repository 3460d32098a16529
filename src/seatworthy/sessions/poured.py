"""An order of letters becomes glasses and sets, each glass with its own code."""

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Final

from seatworthy.sessions.plan import PlannedGlass, SetGlass
from seatworthy.sessions.set_places import Pattern, odd_place
from seatworthy.sessions.wish import NAMING

Patterns = Sequence[Pattern]

_ALL_NAMED: Final[Mapping[str, str]] = MappingProxyType({})


def glasses_of(
    marks: Sequence[str],
    codes: Iterator[str],
    patterns: Patterns = (),
    methods: Mapping[str, str] = _ALL_NAMED,
    filler: str = "",
) -> tuple[PlannedGlass, ...]:
    """Number the glasses of one order and give each its code.

    Args:
        marks: Letters in the order of serving.
        codes: Where codes come from, one for each glass, also of a set.
        patterns: How each set is filled, () for a single glass; one for each letter, or none at all
            if there is no set.
        methods: Method of each letter; naming where none is given.
        filler: Letter of the blank in the sets.
    """
    found = []
    for position, mark in enumerate(marks, start=1):
        pattern = patterns[position - 1] if patterns else ()
        twin = mark if marks.count(mark) > 1 else None
        glasses = tuple(_set_glasses(pattern, mark, filler, codes))
        code = next(one.code for one in glasses if one.is_odd) if glasses else next(codes)
        found.append(PlannedGlass(position, code, mark, twin, methods.get(mark, NAMING), glasses))
    return tuple(found)


def _set_glasses(
    pattern: Pattern, mark: str, filler: str, codes: Iterator[str]
) -> Iterator[SetGlass]:
    for place, is_spiked in enumerate(pattern):
        letter = mark if is_spiked else filler
        yield SetGlass(place + 1, next(codes), letter, place == odd_place(pattern))


def poured_glasses(patterns: Patterns) -> int:
    """How many glasses an order comes to, those in sets included."""
    return sum(max(1, len(pattern)) for pattern in patterns)
