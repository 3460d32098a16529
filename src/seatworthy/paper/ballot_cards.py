"""Cards to cut out and hand round, eight a page: whose ballot is where. Nothing on one tells of another."""

from collections.abc import Sequence
from datetime import datetime
from typing import Final

import segno

from seatworthy.paper.ballot_card_words import CARD_WORDS, BallotCard, CardWords
from seatworthy.paper.lettering import HEAD, NOTE, STRONG, Lettering
from seatworthy.paper.sheet import BLACK, HAIRLINE, Sheet

_COLUMNS, _ROWS = 2, 4
_EDGE: Final = 10.0  # mm that printers leave free; common practice, no source
_INSET: Final = 4.0
_CODE: Final = 40.0  # side of the picture with its quiet zone, mm
_QUIET_ZONE: Final = 4  # modules of white, as ISO/IEC 18004 asks
_OVERLAP: Final = 0.01  # mm by which dark modules reach into the next one, so that no seam shows
_ADDRESS: Final = Lettering("asap", 9)
_DASH, _GAP = 2.0, 2.0


def ballot_cards_pdf(cards: Sequence[BallotCard], size: str, made_at: datetime) -> bytes:
    """The cards in their order, row by row, with lines to cut along.

    Args:
        cards: At least one.
        size: "A4" or "Letter".
        made_at: Local moment; the same one gives the same bytes.
    """
    sheet = Sheet(size, "Links to ballots, one card a person", made_at)
    width = (sheet.w - 2 * _EDGE) / _COLUMNS
    height = (sheet.h - 2 * _EDGE) / _ROWS
    for number, card in enumerate(cards):
        place = number % (_COLUMNS * _ROWS)
        if place == 0:
            sheet.add_page()
            _draw_cuts(sheet)
        row, column = divmod(place, _COLUMNS)
        box = (_EDGE + column * width, _EDGE + row * height, width, height)
        _draw_card(sheet, card, box)
    return sheet.finished()


def _draw_cuts(sheet: Sheet) -> None:
    sheet.set_line_width(0.2)
    sheet.set_draw_color(HAIRLINE)
    sheet.set_dash_pattern(_DASH, _GAP)
    for column in range(_COLUMNS + 1):
        x = _EDGE + column * (sheet.w - 2 * _EDGE) / _COLUMNS
        sheet.line(x, _EDGE, x, sheet.h - _EDGE)
    for row in range(_ROWS + 1):
        y = _EDGE + row * (sheet.h - 2 * _EDGE) / _ROWS
        sheet.line(_EDGE, y, sheet.w - _EDGE, y)
    sheet.set_dash_pattern()


def _draw_card(sheet: Sheet, card: BallotCard, box: tuple[float, float, float, float]) -> None:
    """The picture on the left with the words beside it, the address under both."""
    left, top, width, height = box
    left, top, width, height = left + _INSET, top + _INSET, width - 2 * _INSET, height - 2 * _INSET
    words = CARD_WORDS[card.language]
    _draw_code(sheet, card.address, left, top)
    x, beside = left + _CODE + 2, width - _CODE - 2
    sheet.put(card.name, (x, top, beside, 12), HEAD)
    sheet.put(_when(card, words), (x, top + 13, beside, 9), NOTE)
    sheet.put(words.what_to_do, (x, top + 23, beside, 16), STRONG)
    y = top + _CODE + 1
    left_over = height - _CODE - 1
    sheet.put(card.address, (left, y, width, 6), _ADDRESS)
    last = f"{words.last_day(card.expires_on)} {words.care}"
    sheet.put(last, (left, y + 6.5, width, left_over - 6.5), NOTE)


def _when(card: BallotCard, words: CardWords) -> str:
    time = f", {card.starts_at:%H:%M}" if card.starts_at else ""
    return words.whole_day(card.session_on) + time


def _draw_code(sheet: Sheet, address: str, left: float, top: float) -> None:
    """Dark modules on the white of the paper, those beside each other in one stroke."""
    code = segno.make(address, error="m", micro=False)
    rows = [list(row) for row in code.matrix_iter(border=_QUIET_ZONE)]
    side = _CODE / len(rows)
    sheet.set_fill_color(BLACK)
    for number, row in enumerate(rows):
        for start, length in _runs(row):
            x, y = left + start * side, top + number * side
            sheet.rect(x, y, length * side + _OVERLAP, side + _OVERLAP, style="F")


def _runs(row: Sequence[int]) -> list[tuple[int, int]]:
    """Where dark modules start in a row, and how many follow each other."""
    found: list[tuple[int, int]] = []
    for place, is_dark in enumerate(row):
        if not is_dark:
            continue
        if found and sum(found[-1]) == place:
            found[-1] = (found[-1][0], found[-1][1] + 1)
        else:
            found.append((place, 1))
    return found
