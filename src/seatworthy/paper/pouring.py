"""The pouring sheet: which vessel goes into which glass of whom; sealed, it is the key as well."""

from collections.abc import Collection
from typing import Final

from seatworthy.paper.ledger import Column, Ledger
from seatworthy.paper.lettering import BODY, CODE, LETTER, PLAIN, Lettering
from seatworthy.paper.sheet import BLACK, MARGIN, WRITING, Sheet
from seatworthy.paper.wording import millilitres, of_brewery, running_of, where_of, whole_day
from seatworthy.steps.paper_views import PaperGlass, PaperOrder, PaperSitting, PaperView

_SENTENCE: Final = "Pouring sheet. Not for the preparer, and not for the tasting room."
_SETS: Final = (
    "A set is one column: its topmost glass stands leftmost before the person, and its glasses are "
    "served together."
)
_ROW: Final = 9.2
_IN_SET: Final = 7.0  # of one glass of a set
_BOX, _NAME = 7.0, 38.0
_ROOMY: Final = 15.5  # a column this wide holds code and letter in their full size


def pouring_pdf(view: PaperView, size: str) -> bytes:
    """One part a sitting: one row a person, one column a glass; spares under a rule of their own."""
    title = f"Pouring sheet, {view.label}, {whole_day(view.session_on)}"
    sheet = Sheet(size, title, view.printed_at, view.record)
    foot = of_brewery(
        view.brewery,
        "Training samples, not for sale. This sheet holds the key: not for the preparer, and not for "
        "the tasting room.",
    )
    for sitting in view.sittings:
        sheet.begin(foot, f"Pouring sheet, {running_of(view, sitting)}")
        lead = [_lead(view), *_about_sets(sitting), *view.rests, *view.not_served]
        sheet.opening(where_of(view, sitting), _SENTENCE, " ".join(lead))
        _draw_orders(sheet, sitting)
        _draw_lines(sheet)
    return sheet.finished()


def _lead(view: PaperView) -> str:
    control = (
        f" Everybody's first glass is the control, {millilitres(view.control_ml)} of the beer as it "
        "is, and has no code."
        if view.control_ml
        else ""
    )
    return (
        "Put each code on the side of its glass, with the line under the digits. Then pour "
        f"{millilitres(view.volume_ml)} from the vessel with that letter, left to right.{control}"
    )


def _about_sets(sitting: PaperSitting) -> list[str]:
    """How a set is read; nothing where there is none."""
    return [_SETS] if _set_places(sitting) else []


def _set_places(sitting: PaperSitting) -> frozenset[int]:
    """Positions at which somebody has a set."""
    return frozenset(
        glass.position for order in sitting.orders for glass in order.glasses if glass.glasses
    )


def _draw_orders(sheet: Sheet, sitting: PaperSitting) -> None:
    across = max((glass.position for order in sitting.orders for glass in order.glasses), default=1)
    ledger, each = _columns(sheet, across, _set_places(sitting))
    ledger.start(_ROW)
    was_spare = False
    for order in sitting.orders:
        ledger.open_row(_height(order))
        if order.is_spare and not was_spare:
            sheet.rule(ledger.row[0], 0.5, BLACK)
        was_spare = order.is_spare
        _draw_order(sheet, ledger, order, each)


def _height(order: PaperOrder) -> float:
    most = max(len(glass.poured) for glass in order.glasses)
    return _ROW if most == 1 else most * _IN_SET + _ROW - _IN_SET


def _columns(sheet: Sheet, across: int, sets: Collection[int]) -> tuple[Ledger, float]:
    """The table for so many glasses, and the width of one of its glass columns."""
    name = _NAME if across <= 8 else _NAME - 6
    each = min(24.0, (sheet.width - _BOX - name) / across)
    words = [
        ("set " if n in sets else "glass ") if each >= _ROOMY else "" for n in range(across + 1)
    ]
    glasses = [Column(str(n), f"{words[n]}{n}", each) for n in range(1, across + 1)]
    columns = [Column("box", "", _BOX), Column("name", "who", sheet.width - _BOX - across * each)]
    return Ledger(sheet, [*columns, *glasses]), each


def _draw_order(sheet: Sheet, ledger: Ledger, order: PaperOrder, each: float) -> None:
    ledger.put_box("box")
    ledger.put("name", order.name, BODY)
    for glass in order.glasses:
        _draw_glass(sheet, ledger, glass, each)


def _draw_glass(sheet: Sheet, ledger: Ledger, glass: PaperGlass, each: float) -> None:
    code = _shrunk(CODE, each, 9)
    letter = _shrunk(LETTER.at(12), each, 8.5)
    x, _ = ledger.cell(str(glass.position))
    start, height = ledger.row
    each_height = _IN_SET if glass.glasses else height
    start += (height - len(glass.poured) * each_height) / 2
    for number, one in enumerate(glass.poured):
        top = start + number * each_height
        sheet.code(one.code, x, top, each_height, code)
        after = x + sheet.text_width(one.code, code) + each * 0.11
        sheet.put(one.mark, (after, top, x + each - after, each_height), letter)


def _shrunk(lettering: Lettering, each: float, least: float) -> Lettering:
    return lettering.at(max(least, lettering.size * min(1, each / _ROOMY)))


def _draw_lines(sheet: Sheet) -> None:
    """Room for what happens on the way, and for who put the codes on."""
    sheet.room(34)
    sheet.ln(4)
    sheet.paragraph("Spilled, short or exchanged: write the codes here.", PLAIN)
    sheet.ln(8)
    sheet.rule(sheet.y, 0.2, WRITING)
    sheet.ln(7)
    sheet.write_in("Codes put on by", MARGIN, MARGIN + 92)
    sheet.write_in("Time", MARGIN + 102, MARGIN + 140)
    sheet.ln(6)
