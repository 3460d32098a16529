"""Blind codes: three digits that say nothing."""

from collections.abc import Collection
from typing import Final

from seatworthy.errors import PlanRefused
from seatworthy.sessions.draw import Draw

# A code that somebody may still have in mind is not poured again; common practice, no source.
CODE_REST_DAYS: Final = 30

# Emergency calls: the number of the European Union and the one of North America.
EMERGENCY_CALLS: Final = frozenset({"112", "911"})


def says_something(code: str) -> bool:
    """Whether people read more into a code than its digits: 111, 123, 321, 112."""
    first, second, third = (int(digit) for digit in code)
    steps = (second - first, third - second)
    return code in EMERGENCY_CALLS or steps in {(0, 0), (1, 1), (-1, -1)}


CODES: Final = tuple(
    code for code in (str(number) for number in range(100, 1000)) if not says_something(code)
)


def draw_codes(count: int, taken: Collection[str], draw: Draw) -> tuple[str, ...]:
    """Draw different codes at random.

    Args:
        count: How many.
        taken: Codes of other sessions within `CODE_REST_DAYS` of this one; none of them is drawn.
        draw: The source of chance.

    Raises:
        PlanRefused: if fewer than `count` are left.
    """
    fault = codes_fault(count, taken)
    if fault:
        raise PlanRefused([fault])
    return tuple(draw.shuffled(_free(taken))[:count])


def codes_fault(count: int, taken: Collection[str]) -> str:
    """Say why so many codes cannot be had; "" if they can."""
    left = len(_free(taken))
    if count <= left:
        return ""
    return (
        f"This plan needs {count} codes and {left} of {len(CODES)} are left, since no code is used "
        f"again within {CODE_REST_DAYS} days: plan fewer glasses or fewer spare orders, or choose "
        "another day."
    )


def _free(taken: Collection[str]) -> list[str]:
    resting = frozenset(taken)
    return [code for code in CODES if code not in resting]
