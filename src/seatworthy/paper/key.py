"""The key: what was in each glass, by code."""

from typing import Final

from seatworthy.paper.lettering import COLUMN, HEAD, PLAIN, STRONG
from seatworthy.paper.sheet import BLACK, MARGIN, Sheet
from seatworthy.paper.wording import of_brewery, running_of, where_of, whole_day
from seatworthy.phrases import multiple
from seatworthy.steps.paper_views import (
    PaperGlass,
    PaperSample,
    PaperSetGlass,
    PaperSitting,
    PaperView,
)

_ROW: Final = 5.8
_TALL_ROW: Final = 9.6
_BETWEEN: Final = 8.0  # the two halves of the page
_CODE, _MARK = 11.0, 7.0
_WHO: Final = 0.47  # of the width that the two texts share
_TEXT: Final = PLAIN.at(9.5)
_HEADS: Final = 6.0


def key_pdf(view: PaperView, size: str) -> bytes:
    """One part a sitting, in two halves a page: code, who, letter, compound and level."""
    title = f"Key, {view.label}, {whole_day(view.session_on)}"
    sheet = Sheet(size, title, view.printed_at, view.record)
    foot = of_brewery(
        view.brewery, "The key: keep it away from the tasting room until the session is closed."
    )
    for sitting in view.sittings:
        sheet.begin(foot, f"Key, {running_of(view, sitting)}")
        sheet.opening(where_of(view, sitting), "The key: what was in which glass, by code.")
        _Halves(sheet).draw(sitting)
    return sheet.finished()


class _Halves:
    """Rows that run down the left half of a page, then the right one, then the next page."""

    def __init__(self, sheet: Sheet) -> None:
        self._sheet = sheet
        self._width = (sheet.width - _BETWEEN) / 2
        self._x = MARGIN
        self._top = sheet.y
        self._y = sheet.y

    def draw(self, sitting: PaperSitting) -> None:
        """All glasses of one sitting."""
        samples = {sample.mark: sample for sample in sitting.samples}
        glasses = [
            (one, order.name, f"{_what(samples.get(one.mark))}{_in_set(glass, one)}")
            for order in sitting.orders
            for glass in order.glasses
            for one in glass.poured
        ]
        self._draw_heads()
        for one, name, what in sorted(glasses, key=lambda row: row[0].code):
            self._draw_row(one, name, what)

    def _draw_row(self, glass: PaperGlass | PaperSetGlass, name: str, what: str) -> None:
        sheet = self._sheet
        who_width, what_width = self._widths()
        is_tall = (
            sheet.text_width(name, _TEXT) > who_width or sheet.text_width(what, _TEXT) > what_width
        )
        height = _TALL_ROW if is_tall else _ROW
        self._make_room(height)
        x, y = self._x, self._y
        sheet.code(glass.code, x, y, height - 0.6, STRONG)
        sheet.put(name, (x + _CODE, y + 0.2, who_width, height - 0.4), _TEXT)
        mark_x = x + self._width - what_width - _MARK
        sheet.put(glass.mark, (mark_x, y, _MARK, height), HEAD.at(11))
        sheet.put(what, (mark_x + _MARK, y + 0.2, what_width, height - 0.4), _TEXT)
        self._y += height
        sheet.rule(self._y, ends=(x, x + self._width))

    def _widths(self) -> tuple[float, float]:
        """How wide a name and what was in the glass may be."""
        shared = self._width - _CODE - _MARK
        return shared * _WHO - 2, shared * (1 - _WHO)

    def _make_room(self, height: float) -> None:
        if self._y + height <= self._sheet.bottom:
            return
        if self._x == MARGIN:
            self._x = MARGIN + self._width + _BETWEEN
        else:
            self._sheet.set_y(self._sheet.bottom)
            self._sheet.room(height)
            self._x, self._top = MARGIN, self._sheet.y
        self._y = self._top
        self._draw_heads()

    def _draw_heads(self) -> None:
        what = self._width - self._widths()[1] - _MARK
        for away, words in ((0, "code"), (_CODE, "who"), (what, "what was in it")):
            self._sheet.put(words, (self._x + away, self._y, 30, _HEADS - 1), COLUMN)
        self._y += _HEADS - 1
        self._sheet.rule(self._y, 0.5, BLACK, (self._x, self._x + self._width))


def _in_set(glass: PaperGlass, one: PaperGlass | PaperSetGlass) -> str:
    """In which set it stood, and whether it was the odd one; "" for a single glass."""
    if not isinstance(one, PaperSetGlass):
        return ""
    return f"; {'the odd one of' if one.is_odd else 'in'} set {glass.position}"


def _what(sample: PaperSample | None) -> str:
    if sample is None:
        return ""
    level = "" if sample.level is None else f", {multiple(float(sample.level))}"
    return f"{sample.label}{level}"
