"""The panel over the months on paper: the sentence, what slips, the months, the cover, who came."""

from collections.abc import Sequence
from datetime import datetime, time
from typing import Final

from seatworthy.paper.ledger import Column, Ledger
from seatworthy.paper.lettering import COLUMN, NOTE, PLAIN, STRONG, Lettering
from seatworthy.paper.panel_months_runs import draw_runs
from seatworthy.paper.sheet import Sheet
from seatworthy.paper.wording import of_brewery, whole_day
from seatworthy.phrases import HOW_TO_READ_COVER, HOW_TO_READ_MONTHS, HOW_TO_READ_RUNS
from seatworthy.steps.month_views import MonthRow, MonthsView
from seatworthy.steps.sentences import in_sentence, sentence_start

TITLE: Final = "The panel over the months"
FOOT: Final = "For the panel's meeting; nothing here ranks anybody, and no seat follows from it."
_ROW: Final = 5.6
_KEPT: Final = 30.0
_LABEL: Final = 38.0
_ALL: Final = 20.0


def months_pdf(view: MonthsView, size: str) -> bytes:
    """The whole paper.

    Args:
        view: What it shows.
        size: "A4" or "Letter".
    """
    title = f"{TITLE}, {whole_day(view.as_of)}"
    sheet = Sheet(size, title, datetime.combine(view.as_of, time()))
    sheet.begin(of_brewery(view.brewery, FOOT), title)
    sentence = f"{view.answer}."
    if view.catch:
        sentence += f" {sentence_start(view.catch.rstrip('.'))}."
    sheet.opening((TITLE, whole_day(view.as_of)), sentence, view.lead)
    _draw_compounds(sheet, view)
    _draw_months(sheet, view)
    _draw_cover(sheet, view)
    _draw_attendance(sheet, view)
    return sheet.finished()


def _draw_compounds(sheet: Sheet, view: MonthsView) -> None:
    if not view.compounds:
        return
    sheet.heading("Compound by compound", _KEPT)
    for one in view.compounds:
        if one.finding:
            sheet.paragraph(one.sentence, PLAIN)
            sheet.ln(1)
    draw_runs(sheet, view)
    _note(sheet, HOW_TO_READ_RUNS.replace("Amber only", "Words only"))


def _draw_months(sheet: Sheet, view: MonthsView) -> None:
    sheet.heading("The whole panel, month by month", _KEPT)
    columns = (
        Column("month", "month", _LABEL), Column("right", "named right", 26, "R"),
        Column("share", "share (95%)", 32, "R"), Column("usual", "usual", 18, "R"),
        Column("rate", "model's mean", 24, "R"), Column("calls", "calls in blanks", 0, "R"),
    )  # fmt: skip
    ledger = Ledger(sheet, columns)
    ledger.start(_ROW)
    for row in reversed(view.months):
        ledger.open_row(_ROW)
        for key, text in _month(row).items():
            ledger.put(key, text, STRONG if key == "right" else PLAIN)
    _note(sheet, HOW_TO_READ_MONTHS)


def _month(row: MonthRow) -> dict[str, str]:
    share = f"{_percent(row.right / row.glasses)} {_reach(row.reach)}" if row.glasses else ""
    return {
        "month": f"{row.month_on:%B} {row.month_on.year}" + ("" if row.is_whole else ", so far"),
        "right": f"{row.right} of {row.glasses}" if row.glasses else "",
        "share": share,
        "usual": "" if row.usual is None else _percent(row.usual),
        "rate": "" if row.rate is None else _percent(row.rate),
        "calls": f"{row.false_calls} of {row.blanks}" if row.blanks else "",
    }


def _draw_cover(sheet: Sheet, view: MonthsView) -> None:
    if not view.cover:
        return
    sheet.heading(f"Cover by shift, for {in_sentence(view.family_label)}", _KEPT)
    heads = (*view.shifts, "whole panel")
    width = (sheet.width - 2 * _LABEL) / len(heads)
    columns = [Column("label", "critical compound", 2 * _LABEL)]
    columns += [Column(str(place), head, width) for place, head in enumerate(heads)]
    ledger = Ledger(sheet, columns)
    ledger.start(_ROW)
    for row in view.cover:
        ledger.open_row(_ROW)
        ledger.put("label", row.label, PLAIN)
        for place, number in enumerate((*row.noses, row.all_shifts)):
            is_thin = number < view.people_asked
            words = f"{_noses(number)}{': too few' * is_thin}"
            ledger.put(str(place), words, STRONG if is_thin else PLAIN)
    _note(sheet, HOW_TO_READ_COVER.replace("Amber:", "Too few:"))


def _draw_attendance(sheet: Sheet, view: MonthsView) -> None:
    sheet.heading("Who came", _KEPT)
    months = [row.month_on for row in view.months]
    width = (sheet.width - _LABEL - _ALL) / max(len(months), 1)
    columns = [Column("name", "", _LABEL)]
    columns += [Column(f"{month}", f"{month:%b}", width) for month in months]
    ledger = Ledger(sheet, [*columns, Column("all", "in all", _ALL, "R")])
    ledger.start(_ROW)
    for row in view.attendance:
        ledger.open_row(_ROW)
        ledger.put("name", row.name, PLAIN)
        for month, counts in zip(months, row.months, strict=True):
            if counts is not None:
                ledger.put(f"{month}", f"{counts[0]}/{counts[1]}", NOTE)
        ledger.put("all", f"{row.attended} of {row.held}", PLAIN)
    sheet.ln(4)


def _note(sheet: Sheet, words: str, lettering: Lettering = COLUMN) -> None:
    sheet.ln(1.5)
    sheet.paragraph(words, lettering)
    sheet.ln(5)


def _noses(number: int) -> str:
    return "nobody" if not number else "1 nose" if number == 1 else f"{number} noses"


def _percent(share: float) -> str:
    return f"{100 * share:.0f}%"


def _reach(limits: Sequence[float] | None) -> str:
    return "" if limits is None else f"({100 * limits[0]:.0f} to {100 * limits[1]:.0f})"
