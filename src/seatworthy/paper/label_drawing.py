"""Draws one label within its edges: of a glass, of a cap, of a bottle on the preparation side."""

from typing import Final

from seatworthy.paper.label_lines import POINT, largest, last_words, put_line, write_in
from seatworthy.paper.label_sheets import Place
from seatworthy.paper.label_words import GlassLabel, VesselLabel
from seatworthy.paper.lettering import BODY, CODE, LETTER, NOTE, STRONG, Lettering
from seatworthy.paper.sheet import LEAST_SIZE, Sheet

_INSET: Final = 1.5  # printers shift the paper by about this, mm; common practice, no source
_MOST: Final = 40.0  # points; of a code or a vessel's name
_MOST_COMPOUND: Final = 16.0
_MOST_NOTE: Final = 11.0
_READABLE: Final = 8.0  # points; a line to write on grows only beside text of this size
_SMALL: Final = 0.28  # part of a label's height for the small line
_BESIDE: Final = 0.25  # part of a long label's width for the place
_HEAD: Final = 0.26  # part of a bottle's label for its head
_WRITTEN: Final = 1.5  # how much higher a line to write on is than a printed one, where it can be
_MOST_PRINTED, _MOST_WRITTEN = 3, 2
_NOT_FOR_SALE: Final = "Training sample, not for sale"


def draw_glass(sheet: Sheet, label: GlassLabel, place: Place) -> None:
    """The code, large and underlined; the place, small, under it, or beside it on a long label."""
    left, top, width, height = _inside(place)
    if width >= 2.2 * height:
        aside = width * _BESIDE
        _draw_code(sheet, label.code, (left, top, width - aside, height))
        below = (left + width - aside, top, aside, height)
        put_line(sheet, label.place, below, BODY.at(12), "C")
    else:
        small = height * _SMALL
        _draw_code(sheet, label.code, (left, top, width, height - small))
        put_line(sheet, label.place, (left, top + height - small, width, small), NOTE, "C")


def _draw_code(sheet: Sheet, code: str, place: Place) -> None:
    left, top, width, height = place
    lettering = largest(sheet, code, (width, height), _MOST, CODE)
    across = sheet.text_width(code, lettering)
    sheet.code(code, left + (width - across) / 2, top, height, lettering)


def draw_cap(sheet: Sheet, label: VesselLabel, place: Place) -> None:
    """The vessel's name, large, and the day, small, under it."""
    left, top, width, height = _inside(place)
    small = height * _SMALL
    put_line(sheet, label.name, (left, top, width, height - small), LETTER.at(_MOST), "C")
    put_line(sheet, label.when, (left, top + height - small, width, small), NOTE, "C")


def draw_bottle(sheet: Sheet, label: VesselLabel, place: Place) -> None:
    """Name, compound and level on top; stock, beer, and what is written by hand below."""
    left, top, width, height = _inside(place)
    head = height * _HEAD
    _draw_head(sheet, label, (left, top, width, head))
    printed, written = _line_heights(
        2 + bool(label.stock), 1 + bool(label.use_within), height - head
    )
    of_all, _ = _line_heights(_MOST_PRINTED, _MOST_WRITTEN, height - head)  # all labels alike
    lettering = NOTE.at(max(LEAST_SIZE, min(_MOST_NOTE, of_all / POINT)))
    y = top + head
    if label.stock:
        start, end = last_words(sheet, label.stock, width / 2, lettering)
        put_line(sheet, start, (left, y, width, printed), lettering, ending=end)
        y += printed
    beer = f"{label.beer}," if label.beer else ""
    put_line(sheet, beer, (left, y, width, printed), lettering, ending=label.when)
    y = _draw_lines_to_write(sheet, label, (left, y + printed, width, written), lettering)
    strong = STRONG.at(lettering.size)
    put_line(sheet, _NOT_FOR_SALE, (left, y, width, top + height - y), strong)


def _line_heights(printed: int, written: int, height: float) -> tuple[float, float]:
    """Heights of a printed line and of one to write on, mm, for so many of each."""
    roomy = height / (printed + written * _WRITTEN)
    if roomy >= _READABLE * POINT:
        return roomy, roomy * _WRITTEN
    even = height / (printed + written)
    return even, even


def _draw_head(sheet: Sheet, label: VesselLabel, place: Place) -> None:
    left, top, width, height = place
    name = largest(sheet, label.name, (width * 0.3, height), _MOST, LETTER)
    across = min(sheet.text_width(label.name, name) + 0.1, width * 0.3)
    put_line(sheet, label.name, (left, top, across, height), name)
    after = left + across + 2
    beside = (after, top, left + width - after, height)
    put_line(sheet, label.what, beside, STRONG.at(_MOST_COMPOUND), ending=label.level)


def _draw_lines_to_write(
    sheet: Sheet, label: VesselLabel, place: Place, lettering: Lettering
) -> float:
    """When it was made, by whom, and until when it keeps; where they end, mm from the top."""
    left, top, width, height = place
    half = width * 0.58
    write_in(sheet, "made", (left, top, half - 1, height), lettering)
    write_in(sheet, "by", (left + half, top, width - half, height), lettering)
    if not label.use_within:
        return top + height
    until = f"{label.use_within}, until"
    write_in(sheet, until, (left, top + height, width, height), lettering)
    return top + 2 * height


def _inside(place: Place) -> Place:
    left, top, width, height = place
    return left + _INSET, top + _INSET, width - 2 * _INSET, height - 2 * _INSET
