"""What stands beside a glass that asks about one compound: boxes from 0 to 10, or yes and no."""

from typing import Final

from seatworthy.paper.lettering import COLUMN, NOTE, PLAIN
from seatworthy.paper.sheet import Sheet
from seatworthy.sessions.wish import INTENSITY, SCALE_TOP, YES_NO
from seatworthy.steps.paper_views import PaperGlass

LEAD_OF_RATINGS: Final = (
    f"Where a strength is asked for, tick one number: 0 is not there, {SCALE_TOP} is very strong."
)
LEAD_OF_YES_NO: Final = "Where yes or no is asked for, tick one, even if you have to guess."
NO_HINT: Final = "A question doesn't mean that anything is there."
NO_HINT_OF_A_BEER: Final = "It may be that beer, or something like it."
_LOWEST, _HIGHEST = "not there", "very strong"
_SIDE: Final = 4.5
_NUMBER: Final = 3.4  # height of a number over its box
_EACH: Final = 6.6  # from one box of the scale to the next
_LOW_END, _HIGH_END = 13.5, 17.0
_YES: Final = 24.0


def question_of(glass: PaperGlass) -> str:
    """The question on the ballot; "" for a glass that asks none about one compound or beer."""
    if glass.method == INTENSITY:
        return f"How strong is {glass.asks}?"
    if glass.method != YES_NO:
        return ""
    return f"Is this {glass.asks_beer}?" if glass.asks_beer else f"Is {glass.asks} in it?"


def draw_question(sheet: Sheet, glass: PaperGlass, x: float, y: float, height: float) -> None:
    """The question and its boxes.

    Args:
        sheet: Where it stands.
        glass: One that asks about a compound.
        x: Left edge, mm.
        y: Upper edge of its row, mm.
        height: Of its row, mm.
    """
    is_rated = glass.method == INTENSITY
    needed = _LOW_END + (SCALE_TOP + 1) * _EACH + _HIGH_END if is_rated else 2 * _YES
    start = sheet.right - needed if is_rated else x + (sheet.right - x) / 2
    sheet.put(question_of(glass), (x, y, start - x - 3, height), PLAIN)
    if is_rated:
        _draw_scale(sheet, start, y, height)
    else:
        _draw_yes_no(sheet, start, y, height)


def _draw_scale(sheet: Sheet, x: float, y: float, height: float) -> None:
    top = y + (height - _NUMBER - _SIDE) / 2
    boxes, middle = top + _NUMBER, _SIDE + 0.4
    sheet.put(_LOWEST, (x, boxes, _LOW_END - 1, middle), NOTE.at(8.5), "R")
    x += _LOW_END
    for number in range(SCALE_TOP + 1):
        sheet.put(str(number), (x - 1, top, _SIDE + 2, _NUMBER), COLUMN, "C")
        sheet.tick_box(x, boxes, _SIDE)
        x += _EACH
    sheet.put(_HIGHEST, (x, boxes, _HIGH_END, middle), NOTE.at(8.5))


def _draw_yes_no(sheet: Sheet, x: float, y: float, height: float) -> None:
    for words in ("yes", "no"):
        sheet.tick_box(x, y + (height - _SIDE) / 2, _SIDE)
        sheet.put(words, (x + _SIDE + 1.5, y, _YES - _SIDE - 3, height), NOTE)
        x += _YES
