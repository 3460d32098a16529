"""Somebody's own page about a closed session: progress first, nobody else's name."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, time
from typing import Final

from seatworthy.paper.glass_marks import draw_outcome
from seatworthy.paper.ledger import Column, Ledger
from seatworthy.paper.lettering import BODY, CODE, NOTE, PLAIN, STRONG
from seatworthy.paper.sheet import MARGIN, WRITING, Sheet
from seatworthy.paper.standing_strips import draw_strips
from seatworthy.paper.wording import counted, of_brewery, whole_day
from seatworthy.phrases import multiple, words_of_marks
from seatworthy.steps.reveal_views import FeedbackGlass, FeedbackView
from seatworthy.steps.sentences import the_beers

_WRONG: Final = "Something looks wrong? Tell the panel leader, or write it here."


@dataclass(frozen=True)
class _Spacing:
    """Millimetres: a glass's row, a compound's row, the gap after a section, a written line."""

    glass: float
    compound: float
    gap: float
    remark: float


_ROOMY: Final = _Spacing(9.3, 8.6, 5, 8.5)
_TIGHT: Final = _Spacing(7.2, 6.8, 2.6, 7.4)
_CODE_IN_SET: Final = 8.4  # from one code of a set to the next
_OTHER_HEIGHT: Final = 175  # mm of a page that are not rows, with a sentence of three lines


def feedback_pdf(views: Sequence[FeedbackView], size: str) -> bytes:
    """One part a person; the day of the first view dates the file.

    Raises:
        ValueError: if there is no view.
    """
    if not views:
        message = "feedback needs at least one person"
        raise ValueError(message)
    first = views[0]
    title = f"Feedback, {first.session_label}, {whole_day(first.session_on)}"
    sheet = Sheet(size, title, datetime.combine(first.session_on, time()), first.record)
    for view in views:
        _draw_page(sheet, view)
    return sheet.finished()


def _draw_page(sheet: Sheet, view: FeedbackView) -> None:
    foot = of_brewery(view.brewery, f"For {view.name} only; the panel leader can see it too.")
    where = (view.name, f"{view.session_label}, {whole_day(view.session_on)}", view.family)
    rows = len(view.glasses) + len(view.progress)
    is_roomy = _OTHER_HEIGHT + rows * _ROOMY.glass <= sheet.bottom
    spacing = _ROOMY if is_roomy else _TIGHT
    sheet.begin(foot, f"{view.name}, {whole_day(view.session_on)}")
    sheet.opening(where, view.answer)
    _draw_glasses(sheet, view.glasses, spacing)
    for head, words in (
        ("How this compares with your last months", view.compared),
        ("One thing to smell next", view.smell_next),
    ):
        if words:
            sheet.heading(head)
            sheet.paragraph(words, BODY)
            sheet.ln(spacing.gap)
    if view.progress:
        _draw_progress(sheet, view, spacing)
    _draw_remark(sheet, spacing.remark)


def _draw_glasses(sheet: Sheet, glasses: Sequence[FeedbackGlass], spacing: _Spacing) -> None:
    sheet.heading(f"Your {counted(len(glasses), 'glass', 'glasses')}", 30)
    has_sets = any(glass.codes for glass in glasses)
    has_others = any(glass.others is not None for glass in glasses)
    has_rated = any(glass.others_rated is not None for glass in glasses)
    others = "named right by" if has_others else ""
    ledger = Ledger(
        sheet,
        (
            Column("mark", "", 7),
            Column("code", "code", 27 if has_sets else 17),
            Column("was", "what was in it", 45),
            Column("said", "you said", 0),
            Column("others", "the others" if has_rated else others, 27),
            Column("note", "", 35),
        ),
    )
    ledger.start(spacing.glass)
    for glass in glasses:
        _draw_glass(sheet, ledger, glass, spacing, has_rated=has_rated)
    _draw_key(sheet, words_of_marks({glass.method for glass in glasses}, has_sets=has_sets))
    sheet.ln(spacing.gap)


def _draw_glass(
    sheet: Sheet, ledger: Ledger, glass: FeedbackGlass, spacing: _Spacing, *, has_rated: bool
) -> None:
    ledger.open_row(spacing.glass)
    top, height = ledger.row
    draw_outcome(sheet, glass.outcome, MARGIN, top + (height - 3.8) / 2, 3.8)
    if glass.codes:
        x, _ = ledger.cell("code")
        for number, code in enumerate(glass.codes):
            sheet.code(code, x + number * _CODE_IN_SET, top, height, CODE.at(10))
    else:
        ledger.put_code("code", glass.code, CODE.at(12))
    ledger.put("was", glass.was)
    ledger.put("said", glass.said, STRONG if glass.outcome == "wrong" else BODY)
    if glass.others is not None and glass.others_right is not None:
        ending = "right" if has_rated else "others"
        ledger.put("others", f"{glass.others_right} of {glass.others} {ending}", PLAIN)
    if glass.others_rated is not None:
        ledger.put("others", glass.others_rated.words, PLAIN)
    ledger.put("note", glass.note, NOTE)


def _draw_key(sheet: Sheet, words_of: Mapping[str, str]) -> None:
    sheet.room(7)
    y, x = sheet.y + 1.8, MARGIN
    for outcome, words in words_of.items():
        draw_outcome(sheet, outcome, x, y + 0.4, 3.2)
        width = sheet.text_width(words, NOTE)
        sheet.put(words, (x + 4.8, y, width + 0.1, 4), NOTE)
        x += width + 12
    sheet.set_xy(MARGIN, y + 4)


def _draw_progress(sheet: Sheet, view: FeedbackView, spacing: _Spacing) -> None:
    beers = f" for {the_beers(view.family)}" if view.family else ""
    sheet.heading(f"Where you stand{beers}", 40)
    sheet.paragraph(
        f"Chance that you name it right at {multiple(view.reference_level)}. The tick is the best "
        "guess, the bar holds eight chances in ten. A bar wholly right of the dashes is met, once "
        "glasses and days suffice; a bar across them is not known yet. Before: your counted glasses "
        "of the 12 months before.",
        NOTE,
    )
    sheet.ln(1)
    draw_strips(sheet, view, spacing.compound)
    sheet.ln(spacing.gap)


def _draw_remark(sheet: Sheet, apart: float) -> None:
    sheet.room(PLAIN.line + 2 * apart)
    sheet.paragraph(_WRONG, PLAIN)
    for _ in range(2):
        sheet.ln(apart)
        sheet.rule(sheet.y, 0.2, WRITING)
