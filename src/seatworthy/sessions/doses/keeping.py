"""How long dosed beer keeps, and what is left of a compound that fades."""

from decimal import Decimal
from types import MappingProxyType
from typing import Final

from seatworthy.sessions.doses.equipment import PITCHER

WEAK_LEVEL: Final = Decimal(1)  # at or below the working threshold
# Hours from dosing to serving, by class: usual and weak, cold in a capped bottle or a keg, ...
# Common practice, no source: spiked bottles keep cold a few days, weak ones a day or two at most.
CAPPED_H: Final = MappingProxyType(
    {
        "hours": (Decimal(12), Decimal(6)),
        "day": (Decimal(24), Decimal(24)),
        "days": (Decimal(72), Decimal(36)),
    }
)
# ... and in an open pitcher, at any level. Common practice, no source.
OPEN_H: Final = MappingProxyType({"hours": Decimal("0.5"), "day": Decimal(4), "days": Decimal(12)})
_MOST_CAUTIOUS: Final = "hours"


def keeps_h(
    keeping_class: str,
    level: Decimal,
    kind_of_container: str,
    own: tuple[Decimal | None, Decimal | None],
) -> Decimal:
    """Hours from dosing to serving.

    Args:
        keeping_class: "hours", "day" or "days", as in the vocabulary; "" if nobody knows, and then
            the shortest holds.
        level: Multiple of the working threshold; 1 or less is weak.
        kind_of_container: One of `equipment.KINDS`.
        own: What the brewery states itself, usual and weak; it stands before ours. Where it states
            the usual hours alone, weak beer keeps as long, but not longer than ours. It is meant of
            capped vessels: in an open pitcher the shorter of its hours and ours holds.

    Raises:
        ValueError: if there is no such class.
    """
    usual = _usual_h(keeping_class or _MOST_CAUTIOUS, level, kind_of_container)
    stated, stated_weak = own
    if kind_of_container == PITCHER:
        known = [hours for hours in own if hours is not None]
        return min([usual, *known])
    if level > WEAK_LEVEL:
        return usual if stated is None else stated
    if stated_weak is not None:
        return stated_weak
    return usual if stated is None else min(stated, usual)


def _usual_h(keeping_class: str, level: Decimal, kind: str) -> Decimal:
    if keeping_class not in CAPPED_H:
        message = f"{keeping_class!r} is no class of keeping; expected {', '.join(CAPPED_H)}."
        raise ValueError(message)
    if kind == PITCHER:
        return OPEN_H[keeping_class]
    usual, weak = CAPPED_H[keeping_class]
    return weak if level <= WEAK_LEVEL else usual


def left_share(hours: float, half_life_h: float) -> float:
    """Share of a compound that is left after some hours, 0 to 1.

    Args:
        hours: Since dosing, 0 or more.
        half_life_h: Hours after which half is left, more than 0.

    Raises:
        ValueError: if the half-life is not more than 0, or the hours are negative.
    """
    if half_life_h <= 0 or hours < 0:
        message = f"Hours are 0 or more and a half-life more than 0, got {hours} and {half_life_h}."
        raise ValueError(message)
    return float(0.5 ** (hours / half_life_h))
