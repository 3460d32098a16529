"""Where somebody stands, compound by compound: a bar from low to high on one scale for all rows."""

from collections.abc import Sequence
from typing import Final

from seatworthy.paper.glass_marks import draw_standing
from seatworthy.paper.ledger import Column, Ledger
from seatworthy.paper.lettering import BODY, COLUMN, NOTE, PLAIN, STRONG
from seatworthy.paper.sheet import BLACK, MARGIN, WRITING, Sheet
from seatworthy.phrases import STANDING_WORDS
from seatworthy.steps.reveal_views import FeedbackView, ProgressRow

_INSET: Final = (3.0, 6.0)  # left and right of the scale in its column
_BAR: Final = 2.2
_TOO_NEAR: Final = 0.12  # two numbers on the axis run into each other
_FILL: Final = {"met": BLACK, "not_met": 255, "insensitive": 205}
_UNKNOWN: Final = 150


def draw_strips(sheet: Sheet, view: FeedbackView, row: float) -> None:
    """The table and the key to its marks.

    Args:
        sheet: Where it stands.
        view: Whose.
        row: Height of a row with one line of words.
    """
    ledger = Ledger(
        sheet,
        (
            Column("mark", "", 6),
            Column("label", "", 33),
            Column("strip", "", 0),
            Column("now", "this time", 16, "R"),
            Column("before", "before", 17, "R"),
            Column("gap", "", 3),
            Column("words", "", 54),
        ),
    )
    sheet.room(row * min(3, len(view.progress)) + 12)
    _draw_axis(sheet, ledger, view.needed)
    ledger.start(row)
    for progress in view.progress:
        _draw_row(sheet, ledger, progress, view.needed, row)
    _draw_key(sheet, view.progress)


def _scale(ledger: Ledger) -> tuple[float, float]:
    """Where chance 0 stands, and the length from 0 to 1."""
    x, width = ledger.cell("strip")
    return x + _INSET[0], width - sum(_INSET)


def _draw_axis(sheet: Sheet, ledger: Ledger, needed: float) -> None:
    zero, length = _scale(ledger)
    ticks = [(needed, f"{100 * needed:.0f}")]
    ticks += [
        (share, words)
        for share, words in ((0.0, "0"), (0.5, "50"), (1.0, "100%"))
        if abs(share - needed) >= _TOO_NEAR
    ]
    for share, words in ticks:
        sheet.put(words, (zero + share * length - 7, sheet.y + 0.6, 14, 4.4), COLUMN, "C")


def _draw_row(
    sheet: Sheet, ledger: Ledger, progress: ProgressRow, needed: float, row: float
) -> None:
    texts = {"label": (progress.label, BODY), "words": (progress.words, NOTE)}
    ledger.open_row(ledger.height_for(texts, row) if progress.words else row)
    top, height = ledger.row
    draw_standing(sheet, progress.standing, MARGIN, top + (height - 3.6) / 2)
    for key, (text, lettering) in texts.items():
        ledger.put(key, text, lettering)
    _draw_needed(sheet, ledger, needed)
    _draw_bar(sheet, ledger, progress)
    ledger.put("now", _of(progress.now_right, progress.now_glasses), STRONG)
    ledger.put("before", _of(progress.before_right, progress.before_glasses), PLAIN)


def _draw_needed(sheet: Sheet, ledger: Ledger, needed: float) -> None:
    zero, length = _scale(ledger)
    top, height = ledger.row
    sheet.set_draw_color(80)
    sheet.set_line_width(0.25)
    sheet.set_dash_pattern(1, 1)
    sheet.line(zero + needed * length, top, zero + needed * length, top + height)
    sheet.set_dash_pattern()


def _draw_bar(sheet: Sheet, ledger: Ledger, progress: ProgressRow) -> None:
    if progress.chance is None or progress.low is None or progress.high is None:
        return
    zero, length = _scale(ledger)
    top, height = ledger.row
    middle = top + height / 2
    left, right = zero + progress.low * length, zero + progress.high * length
    best = zero + progress.chance * length
    sheet.set_fill_color(_FILL.get(progress.standing, _UNKNOWN))
    sheet.set_draw_color(BLACK)
    sheet.set_line_width(0.3)
    style = "DF" if progress.standing in ("not_met", "insensitive") else "F"
    sheet.rect(left, middle - _BAR / 2, right - left, _BAR, style=style)
    for grey, weight, reach in ((255, 1.5, 2.4), (BLACK, 0.7, 2.3)):
        sheet.set_draw_color(grey)
        sheet.set_line_width(weight)
        sheet.line(best, middle - reach, best, middle + reach)


def _of(right: int, glasses: int) -> str:
    return f"{right} of {glasses}" if glasses else ""


def _draw_key(sheet: Sheet, rows: Sequence[ProgressRow]) -> None:
    """The marks that occur, each with its word."""
    sheet.room(8)
    y, x = sheet.y + 1.8, MARGIN
    for standing, words in STANDING_WORDS.items():
        if standing == "no_glasses" or all(row.standing != standing for row in rows):
            continue
        shown = f"{words}: not a fail, only not known" if standing == "too_little" else words
        draw_standing(sheet, standing, x, y + 0.4, 3.2)
        width = sheet.text_width(shown, NOTE)
        sheet.put(shown, (x + 4.8, y, width + 0.1, 4), NOTE)
        x += width + 13
    sheet.set_draw_color(WRITING)
    sheet.set_xy(MARGIN, y + 4)
