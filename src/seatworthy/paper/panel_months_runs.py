"""Small runs of months on paper, five abreast, one a compound."""

from datetime import date
from typing import Final

from seatworthy.paper.lettering import COLUMN, STRONG
from seatworthy.paper.sheet import BLACK, HAIRLINE, MARGIN, WRITING, Sheet
from seatworthy.steps.month_views import CompoundMonths, MonthsView

_ABREAST: Final = 5
_APART: Final = 6.0
_WORDS: Final = 10.0  # two lines over a run
_HIGH: Final = 14.0
_BELOW: Final = 7.0  # the names of the first and the last month, and a gap
_DISC: Final = 1.9
_FEW: Final = 4
_PALE: Final = 236
_ENDS: Final = 0.08  # of the height kept free below and above


def draw_runs(sheet: Sheet, view: MonthsView) -> None:
    """All compounds of the view, what slips first."""
    months = [row.month_on for row in view.months]
    width = (sheet.width - (_ABREAST - 1) * _APART) / _ABREAST
    for start in range(0, len(view.compounds), _ABREAST):
        sheet.room(_WORDS + _HIGH + _BELOW)
        top = sheet.y + 1
        for place, one in enumerate(view.compounds[start : start + _ABREAST]):
            left = MARGIN + place * (width + _APART)
            _shade_lately(sheet, len(months), view.window, (left, top + _WORDS, width))
            _draw(sheet, one, months, (left, top, width))
        sheet.set_xy(MARGIN, top + _WORDS + _HIGH + _BELOW)


def _shade_lately(
    sheet: Sheet, months: int, window: int, place: tuple[float, float, float]
) -> None:
    left, top, width = place
    part = width * window / months
    sheet.set_fill_color(_PALE)
    sheet.rect(left + width - part, top, part, _HIGH, style="F")


def _draw(
    sheet: Sheet, one: CompoundMonths, months: list[date], place: tuple[float, float, float]
) -> None:
    left, top, width = place
    sheet.put(one.label, (left, top, width, 5), STRONG)
    sheet.put(_lately(one), (left, top + 4.6, width, 4.4), COLUMN)
    foot = top + _WORDS + _HIGH
    sheet.rule(top + _WORDS, 0.15, HAIRLINE, (left, left + width))
    sheet.rule(foot, 0.3, BLACK, (left, left + width))
    step = width / len(months)
    at = {month: left + (number + 0.5) * step for number, month in enumerate(months)}
    for row in one.months:
        if row.usual is not None:
            ends = (at[row.month_on] - 0.4 * step, at[row.month_on] + 0.4 * step)
            sheet.rule(_y(foot, row.usual), 0.45, WRITING, ends)
    for row in one.months:
        _disc(sheet, at[row.month_on], _y(foot, row.right / row.glasses), row.glasses < _FEW)
    sheet.put(_name(months[0]), (left, foot + 0.4, width / 2, 4), COLUMN.at(7.5))
    sheet.put(_name(months[-1]), (left + width / 2, foot + 0.4, width / 2, 4), COLUMN.at(7.5), "R")


def _lately(one: CompoundMonths) -> str:
    if not one.glasses:
        return "too little before to compare" if one.poured else "not poured lately"
    return f"{one.right} of {one.glasses} lately, {one.foretold:.0f} usual"


def _y(foot: float, share: float) -> float:
    return foot - _HIGH * (_ENDS + (1 - 2 * _ENDS) * share)


def _disc(sheet: Sheet, x: float, y: float, is_hollow: bool) -> None:
    sheet.set_line_width(0.25)
    sheet.set_draw_color(BLACK)
    sheet.set_fill_color(255 if is_hollow else BLACK)
    sheet.ellipse(x - _DISC / 2, y - _DISC / 2, _DISC, _DISC, style="DF")


def _name(month: date) -> str:
    return f"{month:%b} {month.year}"
