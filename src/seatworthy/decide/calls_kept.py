"""Whether weighed calls keep their word: of calls given about so much, how many were confirmed."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from seatworthy.decide.noses import Floats
from seatworthy.stats.proportions import jeffreys_interval

BANDS: Final = (0.0, 0.2, 0.4, 0.6, 0.8, 1.0)
LEAST_CALLS: Final = 5  # fewer make no percentage


@dataclass(frozen=True)
class Band:
    """Calls given about the same chance.

    Attributes:
        low: Lower end of the band.
        high: Its upper end.
        calls: How many calls whose truth is known.
        given: Their mean chance, nan without any.
        confirmed: How many had what the call was about.
        limits: 90 % limits of the share confirmed; None for fewer than a handful.
    """

    low: float
    high: float
    calls: int
    given: float
    confirmed: int
    limits: tuple[float, float] | None


def bands_of(chances: Floats, is_confirmed: NDArray[np.bool_]) -> tuple[Band, ...]:
    """Five bands, the lowest first.

    Args:
        chances: What each call was given; shape (N,).
        is_confirmed: Whether the beer had it; shape (N,).
    """
    place = np.clip(np.searchsorted(BANDS, chances, side="right") - 1, 0, len(BANDS) - 2)
    return tuple(
        _band(BANDS[b], BANDS[b + 1], chances[place == b], is_confirmed[place == b])
        for b in range(len(BANDS) - 1)
    )


def _band(low: float, high: float, chances: Floats, is_confirmed: NDArray[np.bool_]) -> Band:
    calls, confirmed = len(chances), int(is_confirmed.sum())
    given = float(chances.mean()) if calls else float("nan")
    if calls < LEAST_CALLS:
        return Band(low, high, calls, given, confirmed, None)
    limits = jeffreys_interval(confirmed, calls, 0.90)
    return Band(low, high, calls, given, confirmed, (float(limits.low), float(limits.high)))
