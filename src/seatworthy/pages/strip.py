"""One row's chance as a strip of ink: the darker, the surer; equal ink for equal doubt."""

from collections.abc import Sequence
from typing import Final

from seatworthy.pages.figures import percent
from seatworthy.pages.markup import tag
from seatworthy.steps.views import RecordRow

STOPS: Final = 41
_FULL_INK: Final = 92  # percent of the standing's colour
_DENSEST: Final = 9.0  # density per unit of chance that is drawn in full ink
_CURVE: Final = 0.8  # below 1: lets thin tails be seen
_BRUSH: Final = (1, 2, 3, 4, 3, 2, 1)  # weights over neighbouring bins


def strip(row: RecordRow, needed: float) -> str:
    """The strip of one compound, or nothing where no glass was poured.

    Args:
        row: Its density, best guess and range.
        needed: Where the dashed line stands, 0 to 1.
    """
    if not row.density or row.chance_right is None or row.low is None or row.high is None:
        return ""
    ink = tag(
        "span", class_="ink", style=f"background:linear-gradient(90deg,{_stops(row.density)})"
    )
    place = f"left:{100 * row.low:.1f}%;width:{100 * (row.high - row.low):.1f}%"
    reach = tag("span", class_="reach", style=place)
    best = tag("span", class_="best", style=f"left:{100 * row.chance_right:.1f}%")
    words = f"{percent(row.chance_right)}, {percent(needed)} needed"
    return tag(
        "div",
        ink + reach + best,
        class_=f"strip hue-{row.cell.standing}",
        role="img",
        aria_label=words,
    )


def inks(density: Sequence[float]) -> list[int]:
    """How dark each stop is drawn, in percent of the colour.

    Args:
        density: Shares of equally wide bins from 0 to 1, which sum to 1.

    Returns:
        ``STOPS`` whole numbers, from chance 0 to chance 1.
    """
    bins = len(density)
    smooth = [_around(density, place) for place in range(bins)]
    darkness = []
    for stop in range(STOPS):
        right = round(stop / (STOPS - 1) * bins)
        left, right = max(0, right - 1), min(bins - 1, right)
        height = (smooth[left] + smooth[right]) / 2 * bins
        darkness.append(round(min(_FULL_INK, 100 * (height / _DENSEST) ** _CURVE)))
    return darkness


def _around(density: Sequence[float], place: int) -> float:
    # The answer comes from a grid of thresholds, which leaves ripples that mean nothing; bins beyond
    # either end are taken as its mirror image, so that nothing fades towards 0 or 1.
    last = len(density) - 1
    total = 0.0
    for away, weight in enumerate(_BRUSH, start=-(len(_BRUSH) // 2)):
        mirrored = abs(place + away)
        total += weight * density[min(mirrored, 2 * last - mirrored)]
    return total / sum(_BRUSH)


def _stops(density: Sequence[float]) -> str:
    return ",".join(
        f"color-mix(in srgb,currentColor {ink}%,transparent) {100 * stop / (STOPS - 1):.1f}%"
        for stop, ink in enumerate(inks(density))
    )
