"""The marks as polygons: a standing as a glass from the side, an answer as a glass from above."""

from collections.abc import Sequence
from typing import Final

from seatworthy.paper.sheet import BLACK, Sheet

_BOX: Final = 14  # the drawings' own unit, as on screen
_FULL: Final = ((1.5, 0.8), (12.5, 0.8), (10.5, 13.2), (3.5, 13.2))
_EMPTY: Final = ((2.2, 1.5), (11.8, 1.5), (10.05, 12.5), (3.95, 12.5))
_TURNED_OVER: Final = ((3.6, 0), (10.4, 0), (12.4, 10.4), (1.6, 10.4))
_ITS_LINE: Final = ((0, 11.6), (14, 11.6), (14, 13.5), (0, 13.5))
_COASTER: Final = ((0, 11.4), (14, 11.4), (14, 13.5), (0, 13.5))

_STANDINGS: Final = {
    "met": ((_FULL, "F"),),
    "too_little": ((_EMPTY, "D"),),
    "not_met": ((_TURNED_OVER, "F"), (_ITS_LINE, "F")),
    "insensitive": ((_COASTER, "F"),),
}


def draw_standing(sheet: Sheet, standing: str, x: float, y: float, side: float = 3.6) -> None:
    """A glass from the side; nothing for a standing without a mark, which has no glasses.

    Args:
        sheet: Where it stands.
        standing: "met", "too_little", "not_met", "insensitive", or another.
        x: Left edge of its square, mm.
        y: Upper edge, mm.
        side: Of the square, mm.
    """
    _black(sheet, 0.35 * side / 3.6)
    for shape, style in _STANDINGS.get(standing, ()):
        sheet.polygon(_placed(shape, x, y, side), style=style)


def draw_outcome(sheet: Sheet, outcome: str, x: float, y: float, side: float = 3.6) -> None:
    """A glass from above.

    Disc: named right; right half filled: another name; dot in a ring: noticed, no name; ring: not
    noticed. Nothing for any other word.
    """
    if outcome not in ("right", "wrong", "open", "missed"):
        return
    _black(sheet, 0.3 * side / 3.6)
    radius, across, down = side * 0.42, x + side / 2, y + side / 2
    sheet.circle(across, down, radius, style="DF" if outcome == "right" else "D")
    if outcome == "wrong":
        sheet.solid_arc(
            across - radius, down - radius, 2 * radius, -90, 90, clockwise=False, style="F"
        )
    if outcome == "open":
        sheet.circle(across, down, radius * 0.36, style="F")


def _black(sheet: Sheet, weight: float) -> None:
    sheet.set_line_width(weight)
    sheet.set_draw_color(BLACK)
    sheet.set_fill_color(BLACK)


def _placed(
    shape: Sequence[tuple[float, float]], x: float, y: float, side: float
) -> list[tuple[float, float]]:
    return [(x + across * side / _BOX, y + down * side / _BOX) for across, down in shape]
