"""The ballots: one sheet a person to answer on. Nothing on it tells what is in a glass."""

from collections.abc import Sequence
from math import ceil
from types import MappingProxyType
from typing import Final

from seatworthy.paper.ballot_questions import (
    LEAD_OF_RATINGS,
    LEAD_OF_YES_NO,
    NO_HINT,
    NO_HINT_OF_A_BEER,
    draw_question,
)
from seatworthy.paper.lettering import ANSWER, BODY, COLUMN, HEAD, NOTE, PLAIN, STRONG, Lettering
from seatworthy.paper.sheet import BLACK, HAIRLINE, MARGIN, WRITING, Sheet
from seatworthy.paper.wording import counted, of_brewery, running_of, where_of, whole_day
from seatworthy.sessions.wish import INTENSITY, NAMING, YES_NO
from seatworthy.steps.paper_views import PaperGlass, PaperOrder, PaperSitting, PaperView

_LEAD: Final = "Taste from the top down."
_LEAD_OF_NAMES: Final = "For each glass tick one box, or write what you find: a name from the list below, or your own words."
_LEAD_OF_LINES: Final = (
    "Where there is a line to write on, tick one box, or write what you find: a name from the list "
    "below, or your own words."
)
_LEAD_OF_SETS: Final = (
    "Taste each row of codes from left to right and circle one of them, even if you have to guess."
)
_ASKS: Final = MappingProxyType(
    {
        "triangle": "Circle the one that differs from the other two.",
        "3afc": "Circle the one that has something in it.",
        "2afc": "Circle the one that has something in it.",
    }
)
_LEAD_OF_BEERS: Final = (
    "Say of each glass whether the beer is as it should be. If not, tick the second box, or write what "
    "it has: a name from the list below, or your own words."
)
_NAMED: Final = ("nothing noticed", "something, but no name for it", "name or own words")
_JUDGED: Final = (
    "as it should be",
    "not as it should be, no name",
    "not as it should be: name, own words",
)
_CONTROL: Final = "First the control: the beer as it is, nothing added. No answer needed."
_CARE: Final = (
    "Use the spit cup. Tasting is for people of age and by choice; no driving or machine work "
    "afterwards. Tell the leader quietly if a glass is spilled or short, or if you have a cold."
)
_TALLEST, _LOWEST = 20.0, 10.6  # height of a glass's row
_CODE_SIZE: Final = 25.0
_NUMBER, _CODE, _NOTHING, _NO_NAME = 7.0, 29.0, 35.0, 54.0
_SIDE: Final = 4.5
_NAME_LINE: Final = 4.3
_SPARE: Final = 0.5  # so that rounding turns no page


_Boxes = tuple[str, str, str]  # beside the two boxes, and under the line


def ballots_pdf(view: PaperView, size: str) -> bytes:
    """One part for each person at each sitting, spare orders too."""
    sheet = Sheet(
        size, f"Ballots, {view.label}, {whole_day(view.session_on)}", view.printed_at, view.record
    )
    samples = "Samples" if view.is_release else "Training samples"
    foot = of_brewery(
        view.brewery, f"{samples}, not for sale. Hand this sheet to the panel leader."
    )
    for sitting in view.sittings:
        for order in sitting.orders:
            sheet.begin(foot, f"{order.name}, {running_of(view, sitting)}")
            _draw_ballot(sheet, view, sitting, order)
    return sheet.finished()


def _draw_ballot(sheet: Sheet, view: PaperView, sitting: PaperSitting, order: PaperOrder) -> None:
    sheet.opening(where_of(view, sitting), order.name + (", name:" if order.is_spare else ""))
    if order.is_spare:
        _draw_name_line(sheet, order)
    lead = f"{_LEAD} {_LEAD_OF_BEERS}" if view.is_release else _lead(order)
    sheet.paragraph(f"{_your_glasses(order)} {lead}", BODY)
    sheet.ln(2.5)
    if view.control_ml:
        sheet.paragraph(_CONTROL, STRONG)
        sheet.ln(1.5)
    names = view.names_offered if _names_any(order) else ()
    tail = _tail_height(sheet, names)
    height = _row_height(sheet, len(order.glasses), tail)
    sheet.rule(sheet.y, 0.5, BLACK)
    for glass in sorted(order.glasses, key=lambda glass: glass.position):
        _draw_glass(sheet, glass, height, _JUDGED if view.is_release else _NAMED)
    sheet.room(tail)
    sheet.ln(4)
    _draw_names(sheet, names)
    sheet.paragraph(_CARE, NOTE)


def _your_glasses(order: PaperOrder) -> str:
    glasses = counted(sum(len(glass.poured) for glass in order.glasses), "glass", "glasses")
    return f"{glasses[:1].upper()}{glasses[1:]}."


def _names_any(order: PaperOrder) -> bool:
    return any(glass.method == NAMING for glass in order.glasses)


def _lead(order: PaperOrder) -> str:
    methods = {glass.method for glass in order.glasses}
    asks = bool(methods & {INTENSITY, YES_NO})
    is_said = {
        _LEAD: True,
        _LEAD_OF_LINES if asks else _LEAD_OF_NAMES: NAMING in methods,
        LEAD_OF_RATINGS: INTENSITY in methods,
        LEAD_OF_YES_NO: YES_NO in methods,
        NO_HINT: any(glass.asks for glass in order.glasses),
        NO_HINT_OF_A_BEER: any(glass.asks_beer for glass in order.glasses),
        _LEAD_OF_SETS: any(glass.glasses for glass in order.glasses),
    }
    return " ".join(words for words, is_so in is_said.items() if is_so)


def _draw_name_line(sheet: Sheet, order: PaperOrder) -> None:
    start = MARGIN + sheet.text_width(f"{order.name}, name:", ANSWER) + 3
    sheet.rule(sheet.y - 4.5, 0.2, WRITING, (min(start, sheet.right - 60), sheet.right))


def _row_height(sheet: Sheet, glasses: int, tail: float) -> float:
    """High enough to write in; all on one page if that can be."""
    shared = (sheet.bottom - sheet.y - tail - _SPARE) / max(1, glasses)
    return min(_TALLEST, shared) if shared >= _LOWEST else (_TALLEST + _LOWEST) / 2


def _draw_glass(sheet: Sheet, glass: PaperGlass, height: float, words: _Boxes) -> None:
    if sheet.room(height):
        sheet.rule(sheet.y, 0.5, BLACK)
    y, x = sheet.y, MARGIN
    sheet.put(str(glass.position), (x, y, _NUMBER - 1, height), NOTE)
    x += _NUMBER
    for one in glass.poured:
        code = Lettering("besley", min(_CODE_SIZE, height * 1.75))
        sheet.code(one.code, x, y, height - 0.6, code)
        x += _CODE
    if glass.glasses:
        sheet.put(_ASKS[glass.method], (x, y, sheet.right - x, height), PLAIN)
    elif glass.asks or glass.asks_beer:
        draw_question(sheet, glass, x, y, height)
    else:
        _draw_answer(sheet, x, y, height, words)
    sheet.rule(y + height, 0.2, HAIRLINE)
    sheet.set_xy(MARGIN, y + height)


def _draw_answer(sheet: Sheet, x: float, y: float, height: float, words: _Boxes) -> None:
    """Two boxes and a line, for a glass that is to be named, or a beer that is judged."""
    nothing, no_name, own = words
    for text, width in ((nothing, _NOTHING), (no_name, _NO_NAME)):
        sheet.tick_box(x, y + (height - _SIDE) / 2, _SIDE)
        sheet.put(text, (x + _SIDE + 1.5, y, width - _SIDE - 4, height), NOTE)
        x += width
    line = y + height - 4.4
    sheet.rule(line, 0.25, WRITING, (x, sheet.right))
    sheet.put(own, (x, line + 0.3, sheet.right - x, 3.6), COLUMN.at(8))


def _tail_height(sheet: Sheet, names: Sequence[str]) -> float:
    """What the names and the words of care need under the glasses."""
    down = ceil(len(names) / _across(sheet, names))
    offered = HEAD.line + 1 + down * _NAME_LINE + 2.5 if names else 0
    return 4 + offered + sheet.paragraph_height(_CARE, NOTE)


def _across(sheet: Sheet, names: Sequence[str]) -> int:
    """How many columns of names fit beside each other."""
    widest = max((sheet.text_width(name, NOTE) for name in names), default=0)
    return max(2, min(5, int(sheet.width // (widest + 4))))


def _draw_names(sheet: Sheet, names: Sequence[str]) -> None:
    """The list of names, down the columns; the same on every ballot, whatever is poured."""
    if not names:
        return
    sheet.paragraph("Names to choose from; own words are welcome", HEAD)
    sheet.ln(1)
    across = _across(sheet, names)
    down = ceil(len(names) / across)
    top, width = sheet.y, sheet.width / across
    for number, name in enumerate(names):
        column, row = divmod(number, down)
        box = (MARGIN + column * width, top + row * _NAME_LINE, width - 3, _NAME_LINE)
        sheet.put(name, box, NOTE)
    sheet.set_xy(MARGIN, top + down * _NAME_LINE + 2.5)
