"""Ascending series: one compound in forced-choice sets, each a fixed ratio stronger."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Final

from seatworthy.errors import PlanRefused
from seatworthy.sessions.plan import PlannedSample
from seatworthy.sessions.wish import SETS, WantedSample
from seatworthy.sessions.wording import plain, times

LOWEST_LEVEL: Final = Decimal("0.01")  # nobody smells less than this; ours, no source
HIGHEST_LEVEL: Final = Decimal(100)
FEWEST_STEPS: Final = 2
MOST_STEPS: Final = 12
# Decimals of a level that a store keeps.
_KEPT: Final = Decimal("1e-9")


def ascending(
    compound: str,
    lowest: Decimal,
    ratio: Decimal,
    steps: int,
    method: str,
    *,
    ceiling: Decimal | None = None,
) -> tuple[WantedSample, ...]:
    """The samples of a series, the weakest first, each `ratio` times as strong as the one before.

    Args:
        compound: Compound key.
        lowest: Multiple of the working threshold in the first step.
        ratio: Above 1; 2 or 3 are common, as in ASTM E679 (from memory).
        steps: 2 to 12.
        method: One of `wish.SETS`.
        ceiling: Highest level at which the compound is served; None for no ceiling of its own.

    Raises:
        PlanRefused: with every fault at once.

    Source:
        ASTM E679 and ISO 13301 serve sets of three in ascending concentration; from memory.
    """
    found = tuple(_faults(lowest, ratio, steps, method))
    if found:
        raise PlanRefused(found)
    levels = [(lowest * ratio**step).quantize(_KEPT).normalize() for step in range(steps)]
    top = HIGHEST_LEVEL if ceiling is None else min(ceiling, HIGHEST_LEVEL)
    if levels[-1] > top:
        raise PlanRefused([_too_strong(levels, top)])
    return tuple(WantedSample(compound, level, method=method) for level in levels)


def _faults(lowest: Decimal, ratio: Decimal, steps: int, method: str) -> Iterator[str]:
    if not (lowest.is_finite() and LOWEST_LEVEL <= lowest <= HIGHEST_LEVEL):
        yield (
            f"The series starts at {times(lowest)}: choose {plain(LOWEST_LEVEL)} to "
            f"{plain(HIGHEST_LEVEL)} times the working threshold."
        )
    if not (ratio.is_finite() and 1 < ratio <= HIGHEST_LEVEL / LOWEST_LEVEL):
        yield (
            f"Each step of the series is {plain(ratio)} times as strong as the one before: choose "
            "more than 1, such as 2 or 3."
        )
    if not FEWEST_STEPS <= steps <= MOST_STEPS:
        yield f"The series has {steps} steps: choose {FEWEST_STEPS} to {MOST_STEPS}."
    if method not in SETS:
        yield f"A series is tasted in sets, not as “{method}”: choose {', '.join(SETS)}."


def _too_strong(levels: Sequence[Decimal], top: Decimal) -> str:
    fitting = sum(level <= top for level in levels)
    less = f", or {fitting} steps" if fitting >= FEWEST_STEPS else ""
    return (
        f"The series ends at {times(levels[-1])}, above the ceiling of {times(top)}: start lower, "
        f"choose a smaller ratio{less}."
    )


def series_marks(samples: Sequence[PlannedSample]) -> dict[str, tuple[str, ...]]:
    """Letters of the sets of each compound, weakest first, a letter once for each set of it.

    Args:
        samples: Those of a plan that has no fault.
    """
    asked = [s for s in samples if s.method in SETS]
    climbing = sorted(asked, key=lambda sample: sample.level or Decimal(0))
    found: dict[str, tuple[str, ...]] = {s.compound or "": () for s in asked}
    for sample in climbing:
        found[sample.compound or ""] += (sample.mark,) * sample.glasses
    return found
