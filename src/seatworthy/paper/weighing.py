"""A weighed call on paper: the sentence, the chances, the next step, who moved it, what is assumed."""

from typing import Final, NamedTuple

from seatworthy.paper.ledger import Column, Ledger
from seatworthy.paper.lettering import BODY, HEAD, NOTE, PLAIN, STRONG
from seatworthy.paper.sheet import BLACK, HAIRLINE, MARGIN, WRITING, Sheet
from seatworthy.paper.wording import of_brewery, whole_day
from seatworthy.phrases import SUPPORTS, weighed_percent, weighed_range
from seatworthy.steps.weigh_papers import WeighingPaper
from seatworthy.steps.weigh_views import OutcomeLine, Possibility, RungLine, WeighedView
from seatworthy.steps.weigh_words import NEVER_RELEASES

_SQUARES: Final = 20
_SQUARE: Final = 2.6  # mm
_APART: Final = 3.4
_RUNG: Final = 10.5
_LEAST_TEXT: Final = 62.0  # mm for the words of the ladder
_SIGNED: Final = "Decided by"


class _Placed(NamedTuple):
    """Where the mark of a rung stands, mm, and which it is."""

    x: float
    y: float
    mark: str


def weighing_pdf(paper: WeighingPaper, size: str) -> bytes:
    """One part; the moment of printing dates the file."""
    view = paper.view
    sheet = Sheet(size, f"How sure are we? {view.question.label}", paper.printed_at, paper.record)
    foot = of_brewery(paper.brewery, "For the brewer and the panel leader.", SUPPORTS)
    sheet.begin(foot, view.question.label)
    sheet.opening((*view.where, whole_day(paper.printed_at.date())), _sentence(view), view.lead)
    if not view.refusal:
        _draw_chances(sheet, view)
        _draw_next(sheet, view)
        _draw_ladder(sheet, view)
    _draw_small_print(sheet, view)
    _draw_signing(sheet)
    return sheet.finished()


def _sentence(view: WeighedView) -> str:
    return f"{view.answer}; {view.catch.rstrip('.')}." if view.catch else f"{view.answer}."


def _draw_chances(sheet: Sheet, view: WeighedView) -> None:
    sheet.heading("What is in the glass?", 40)
    sheet.paragraph(
        "A square is five chances in a hundred; in brackets the range that holds eight chances in ten.",
        NOTE,
    )
    sheet.ln(1)
    for one in view.possibilities:
        _draw_chance(sheet, one)
    sheet.ln(4)


def _draw_chance(sheet: Sheet, one: Possibility) -> None:
    sheet.room(8)
    y = sheet.y
    sheet.put(weighed_percent(one.chance), (MARGIN, y, 14, 7), HEAD, "R")
    left = MARGIN + 18
    for number in range(_SQUARES):
        _draw_square(sheet, left + number * _APART, y + 2.2, one.chance * _SQUARES - number)
    words = f"{one.label} ({weighed_range(one.limits)})"
    start = left + _SQUARES * _APART + 3
    sheet.put(words, (start, y, sheet.right - start, 7), STRONG if one.is_leading else BODY)
    sheet.set_xy(MARGIN, y + 7.6)


def _draw_square(sheet: Sheet, x: float, y: float, filled: float) -> None:
    sheet.set_line_width(0.15)
    sheet.set_draw_color(WRITING)
    sheet.rect(x, y, _SQUARE, _SQUARE)
    part = min(max(filled, 0.0), 1.0)
    if part > 0.02:
        sheet.set_fill_color(BLACK)
        sheet.rect(x, y, _SQUARE * part, _SQUARE, style="F")


def _draw_next(sheet: Sheet, view: WeighedView) -> None:
    step = view.step
    if step is None:
        return
    sheet.heading("The next step", 30)
    sheet.paragraph(step.sentence, BODY)
    sheet.ln(1)
    if step.lines:
        columns = (
            Column("head", "what may come", 0),
            Column("chance", "happens", 22, "R"),
            Column("after", "chance then", 24, "R"),
            Column("action", "", 56),
        )
        ledger = Ledger(sheet, columns)
        ledger.start(7)
        for line in step.lines:
            _draw_outcome(ledger, line)
    sheet.ln(4)


def _draw_outcome(ledger: Ledger, line: OutcomeLine) -> None:
    ledger.open_row(7)
    ledger.put("head", line.head)
    if line.chance is not None:
        ledger.put("chance", weighed_percent(line.chance), PLAIN)
    if line.after is not None:
        ledger.put("after", weighed_percent(line.after), STRONG)
    ledger.put("action", line.action, PLAIN)


def _draw_ladder(sheet: Sheet, view: WeighedView) -> None:
    sheet.heading("Who moved it, and how far", 34)
    sheet.paragraph(
        "Read down: each taster moves the chance to the right or to the left. Disc: called it; half: "
        "another word; ring: said nothing; bar: a word that moves it nowhere.",
        NOTE,
    )
    sheet.ln(1)
    _draw_axis(sheet)
    before: _Placed | None = None
    for rung in view.rungs:
        if sheet.room(_RUNG):
            before = None
        before = _draw_rung(sheet, rung, before)
    sheet.ln(4)


def _across(sheet: Sheet) -> tuple[float, float]:
    """Where 0 and 100 % stand."""
    return MARGIN + _LEAST_TEXT + 4, sheet.right - 14


def _draw_axis(sheet: Sheet) -> None:
    left, right = _across(sheet)
    for place, words in ((left, "0%"), ((left + right) / 2, "50%"), (right, "100%")):
        sheet.put(words, (place - 8, sheet.y, 16, 4), NOTE, "C")
    sheet.ln(4.4)


def _draw_rung(sheet: Sheet, rung: RungLine, before: _Placed | None) -> _Placed:
    y = sheet.y
    left, right = _across(sheet)
    sheet.put(rung.head, (MARGIN, y + 0.5, _LEAST_TEXT, 4.6), STRONG)
    sheet.put(" ".join(rung.notes), (MARGIN, y + 5, _LEAST_TEXT, 4.4), NOTE)
    x, middle = left + rung.chance * (right - left), y + _RUNG / 2
    sheet.rule(y + _RUNG)
    sheet.set_draw_color(HAIRLINE)
    sheet.set_line_width(0.2)
    for place in (left, (left + right) / 2, right):
        sheet.line(place, y, place, y + _RUNG)
    if before is not None:
        sheet.set_draw_color(BLACK)
        sheet.set_line_width(0.4)
        if rung.mark == "nowhere":
            sheet.set_dash_pattern(dash=1, gap=0.8)
        sheet.line(before.x, before.y, x, middle)
        sheet.set_dash_pattern()
        _draw_mark(sheet, before.mark, before.x, before.y)  # over the line that leaves it
    _draw_mark(sheet, rung.mark, x, middle)
    sheet.put(weighed_percent(rung.chance), (right + 1.5, y, 12.5, _RUNG), STRONG, "R")
    sheet.set_xy(MARGIN, y + _RUNG)
    return _Placed(x, middle, rung.mark)


def _draw_mark(sheet: Sheet, mark: str, x: float, y: float) -> None:
    sheet.set_draw_color(BLACK)
    sheet.set_line_width(0.3)
    if mark == "nowhere":
        sheet.rule(y, 0.7, BLACK, (x - 1.6, x + 1.6))
        return
    if mark == "start":
        sheet.set_fill_color(BLACK)
        sheet.rect(x - 1.3, y - 1.3, 2.6, 2.6, style="F")
        return
    sheet.set_fill_color(0 if mark == "called" else 255)
    sheet.circle(x, y, 1.5, style="DF")
    if mark == "other":
        sheet.set_fill_color(BLACK)
        sheet.solid_arc(x - 1.5, y - 1.5, 3, -90, 90, clockwise=False, style="F")


def _draw_small_print(sheet: Sheet, view: WeighedView) -> None:
    lines = [line for line in (view.if_talked, *view.assumptions) if line]
    lines = [line for line in lines if line != NEVER_RELEASES]  # the foot says it
    if not lines:
        return
    sheet.heading("What is assumed", 20)
    sheet.paragraph(" ".join(lines), NOTE)


def _draw_signing(sheet: Sheet) -> None:
    sheet.room(12)
    sheet.ln(4)
    middle = MARGIN + sheet.width / 2
    sheet.write_in(_SIGNED, MARGIN, middle - 6)
    sheet.write_in("What was decided", middle, sheet.right)
    sheet.ln(BODY.line)
