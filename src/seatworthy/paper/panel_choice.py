"""A panel on paper: the sentence, who sits, what slips past them, and lines to sign on."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Final

from seatworthy.paper.ledger import Column, Ledger
from seatworthy.paper.lettering import BODY, NOTE, PLAIN, STRONG
from seatworthy.paper.sheet import BLACK, HAIRLINE, MARGIN, Sheet
from seatworthy.paper.wording import whole_day
from seatworthy.phrases import CARE, MISS_CARE, MISS_NOTE, SUPPORTS, multiple
from seatworthy.steps.chain_head import grouped
from seatworthy.steps.miss_sentences import ends_of_hundred, hundredths
from seatworthy.steps.miss_views import Chance, KeptPanel, MissRow, MissView, PanelFigures, Told

_ROW: Final = 9.8
_NAMES: Final = 50.0
_APART: Final = 3.0  # more than the usual gap, between names and numbers
_PERSON: Final = 6.8
_BAR: Final = 2.2
_SIGN_LINE: Final = 9.0
_SIGN_BLOCK: Final = 26.0  # the heading, both lines to sign on and what lies between
_BETWEEN: Final = 6.0
_SIGN_OFF: Final = ("Panel leader, name and date", "Brewer, seen, name and date")
_FOOT: Final = (
    "Names people: for the panel leader, the brewer and an auditor. It never releases beer."
)


@dataclass(frozen=True)
class _Paper:
    """What both papers have in common."""

    where: tuple[str, ...]
    title: str
    told: Told
    people: tuple[tuple[str, str], ...]
    sentences: tuple[str, ...]
    figures: PanelFigures
    rows: tuple[MissRow, ...]
    mending: tuple[str, ...]
    clean: str
    end: str


def panel_choice_pdf(view: MissView, made_at: datetime, size: str) -> bytes:
    """The panel of today.

    Args:
        view: The page.
        made_at: The moment of printing, by the brewery's clock.
        size: "A4" or "Letter".
    """
    about = view.batch.label if view.batch else view.family.label
    beer = view.batch.beer_label if view.batch else ""
    sits = [line for line in view.people if line.sits]
    paper = _Paper(
        where=(about, beer, whole_day(view.as_of)),
        title=_title(about, view.as_of),
        told=view.told,
        people=tuple((line.name, ", ".join(line.notes)) for line in sits),
        sentences=(*view.rule_sentences, *view.warnings),
        figures=view.figures,
        rows=view.rows,
        mending=view.menders[1:],  # the lead says the first
        clean=view.clean,
        end=f"Printed at {made_at:%H:%M} on {whole_day(made_at.date())}; printing keeps nothing.",
    )
    return _drawn(paper, made_at, size)


def kept_panel_pdf(kept: KeptPanel, size: str) -> bytes:
    """A panel that was kept.

    Args:
        kept: The panel.
        size: "A4" or "Letter".
    """
    about = kept.batch_label or kept.family_label
    by = f" by {kept.kept_by}" if kept.kept_by else ""
    paper = _Paper(
        where=(about, kept.family_label if kept.batch_label else "", whole_day(kept.chosen_on)),
        title=_title(about, kept.chosen_on),
        told=kept.told,
        people=tuple((name, "") for name in kept.names),
        sentences=kept.rule_sentences,
        figures=kept.figures,
        rows=kept.rows,
        mending=(),
        clean=kept.clean,
        end=(
            f"Kept{by} at {kept.moment:%H:%M} on {whole_day(kept.moment.date())}. "
            f"Digest of what was kept: {grouped(kept.digest)}."
        ),
    )
    return _drawn(paper, kept.moment, size)


def _title(about: str, day: date) -> str:
    return f"Release panel, {about}, {whole_day(day)}"


def _drawn(paper: _Paper, made_at: datetime, size: str) -> bytes:
    sheet = Sheet(size, paper.title, made_at.replace(tzinfo=None))
    sheet.begin(_FOOT, paper.title)
    rule = _rule_words(paper.figures)
    sheet.opening((*paper.where, rule), paper.told.whole, paper.told.lead)
    _draw_people(sheet, paper.people)
    for sentence in paper.sentences:
        sheet.paragraph(sentence, PLAIN)
        sheet.ln(0.6)
    sheet.ln(4)
    _draw_misses(sheet, paper.figures, paper.rows)
    for sentence in (*paper.mending, paper.clean):
        if sentence:
            sheet.paragraph(sentence, PLAIN)
            sheet.ln(0.6)
    _draw_end(sheet, paper)
    return sheet.finished()


def _rule_words(figures: PanelFigures) -> str:
    callers = "1 caller makes" if figures.callers == 1 else f"{figures.callers} callers make"
    return f"{callers} a fault call"


def _draw_people(sheet: Sheet, people: Sequence[tuple[str, str]]) -> None:
    sheet.heading("Who sits")
    ledger = Ledger(
        sheet,
        [Column("name", "Name", 60), Column("notes", "To be known", 0), Column("came", "Came", 22)],
    )
    ledger.start(_PERSON)
    for name, notes in people:
        ledger.open_row(ledger.height_for({"name": (name, BODY), "notes": (notes, NOTE)}, _PERSON))
        ledger.put("name", name, BODY)
        ledger.put("notes", notes, NOTE)
        ledger.put_box("came")
    sheet.ln(3)


def _draw_misses(sheet: Sheet, figures: PanelFigures, rows: Sequence[MissRow]) -> None:
    sheet.heading("Would slip past, in 100 such tanks", 40)
    count = len(figures.levels) + 1
    wide = (sheet.width - _NAMES) / count
    columns = [Column("name", "", _NAMES)]
    columns += [Column(f"{level:g}", multiple(level), wide) for level in figures.levels]
    columns.append(Column("away", f"{multiple(figures.level)} without", wide))
    ledger = Ledger(sheet, columns)
    ledger.start(_ROW)
    for row in rows:
        if row.figures.is_critical:
            _draw_row(sheet, ledger, figures, row)
    sheet.ln(1.5)
    limit = f"{float(100 * figures.limit):g}"
    sheet.paragraph(
        f"Critical compounds. Small numbers: eight chances in ten lie between. Bold and black: more than "
        f"{limit} in 100 at {multiple(figures.level)} or stronger, the limit chosen. Last column: without "
        "the one named, whose absence costs most.",
        NOTE,
    )
    sheet.ln(3)


def _draw_row(sheet: Sheet, ledger: Ledger, figures: PanelFigures, row: MissRow) -> None:
    item = row.figures
    label = row.label
    lettering = STRONG if row.is_weak else BODY
    x, width = ledger.cell("name")[0], ledger.cell("name")[1] - _APART
    lines = len(sheet.lines(label, width, lettering)) * lettering.line
    notes = len(sheet.lines(row.note, width, NOTE)) * NOTE.line if row.note else 0
    height = max(_ROW, lines + notes + 2.4)
    ledger.open_row(height)
    top, _ = ledger.row
    sheet.put(label, (x, top + 1, width, lines), lettering)
    if row.note:
        sheet.put(row.note, (x, top + 1 + lines, width, notes + 0.2), NOTE)
    for level, chance in zip(figures.levels, item.slips, strict=False):
        is_over = item.is_critical and level >= figures.level and figures.is_over(chance.mean)
        _draw_chance(sheet, ledger, f"{level:g}", chance, is_over=is_over)
    if item.without is not None:
        is_over = item.is_critical and figures.is_over(item.without)
        _draw_bar(sheet, ledger, "away", item.without, row.away, is_over=is_over)


def _draw_chance(sheet: Sheet, ledger: Ledger, key: str, chance: Chance, *, is_over: bool) -> None:
    _draw_bar(sheet, ledger, key, chance.mean, ends_of_hundred(chance), is_over=is_over)


def _draw_bar(
    sheet: Sheet, ledger: Ledger, key: str, chance: float, small: str, *, is_over: bool
) -> None:
    x, width = ledger.cell(key)
    top, _ = ledger.row
    sheet.put(hundredths(chance), (x, top + 1, 8, 4.6), STRONG if is_over else BODY)
    sheet.put(small, (x, top + 5.4, width, 4), NOTE.at(8))
    whole = width - 9
    sheet.set_fill_color(BLACK if is_over else HAIRLINE - 40)
    if whole > 0 and chance > 0:
        sheet.rect(x + 8, top + 2.3, max(whole * chance, 0.2), _BAR, style="F")
    sheet.rule(top + 2.3 + _BAR, 0.15, HAIRLINE, (x + 8, x + 8 + whole))


def _draw_end(sheet: Sheet, paper: _Paper) -> None:
    notes = f"{MISS_NOTE} {MISS_CARE} {CARE} {SUPPORTS}", paper.end
    high = sum(sheet.paragraph_height(words, NOTE.at(8), 0) for words in notes)
    sheet.ln(2)
    sheet.heading("Sign-off", _SIGN_BLOCK + high)  # no line of it alone on a page
    sheet.ln(_SIGN_LINE - PLAIN.line)
    half = sheet.width / 2
    for number, line in enumerate(_SIGN_OFF):
        left = MARGIN + number * half
        sheet.write_in(line, left, left + half - (1 - number) * _BETWEEN)
    sheet.ln(PLAIN.line)
    sheet.ln(3.5)
    for words in notes:
        sheet.paragraph(words, NOTE.at(8))
        sheet.ln(0.8)
