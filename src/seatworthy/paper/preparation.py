"""The preparation list: what goes into which vessel in the order of work, and what really went in."""

from collections.abc import Sequence
from typing import Final

from seatworthy.paper.dosing import draw_doses
from seatworthy.paper.ledger import Column, Ledger
from seatworthy.paper.lettering import LETTER, NOTE, PLAIN, STRONG
from seatworthy.paper.prepare_when import when_to_prepare
from seatworthy.paper.preparing_notes import cautions, notes_below
from seatworthy.paper.sheet import MARGIN, Sheet
from seatworthy.paper.vessel_checks import draw_checks
from seatworthy.paper.vessel_names import names_of, prepared_by_sitting, vessels_of
from seatworthy.paper.wording import (
    counted,
    millilitres,
    of_brewery,
    running_of,
    where_of,
    whole_day,
)
from seatworthy.phrases import multiple
from seatworthy.steps.paper_views import PaperSample, PaperSitting, PaperView
from seatworthy.steps.sentences import number_word, sentence_start

_LEAD: Final = "Write down what you really added, and state it on the session's page: the level is counted from that."
_ORDER: Final = (
    "Work from the top down: blanks first, then the weakest of each compound. Write down what you "
    "really dosed, and tick it off under Prepare: the level is counted from that."
)
_DOOR: Final = (
    "No perfume, no talk, no phones if the room says so.",
    "Everybody is of age and tastes by choice. No driving or machine work afterwards.",
)
_LOCAL: Final = (
    "How much may be drunk, at work and before driving, is local law and the workplace's own rules: "
    "keep to yours."
)
_ALLERGENS: Final = (
    "Everybody knows the allergens: gluten from barley or wheat, and sulfites. Whoever must not have "
    "them does not taste."
)
_FOOD_GRADE: Final = (
    "Food-grade compounds only, each with its safety data sheet at hand. Local codes, those sheets "
    "and medical advice come first."
)
_LABELLED: Final = "Each vessel carries its label: training sample, not for sale. It stands apart from beer for sale."


def preparation_pdf(view: PaperView, size: str) -> bytes:
    """One part a sitting: doses in the order of work, what is checked on each vessel, cautions.

    Samples come in the order of the view. Vessels that serve all sittings are prepared for the
    first of them.

    Args:
        view: The session.
        size: "A4" or "Letter".
    """
    title = f"Preparation list, {view.label}, {whole_day(view.session_on)}"
    sheet = Sheet(size, title, view.printed_at, view.record)
    foot = of_brewery(
        view.brewery,
        "This sheet holds the key: keep it out of the tasting room. Training samples, not for sale.",
    )
    for sitting, new, left in prepared_by_sitting(view):
        has_recipes = any(sample.recipe for sample in sitting.samples)
        lead = "" if not new else _ORDER if has_recipes else _LEAD
        sheet.begin(foot, running_of(view, sitting))
        sheet.opening((*where_of(view, sitting), view.beer), _sentence(view, sitting), lead)
        if not new:
            _draw_ready(sheet, view, sitting, left)
        elif has_recipes:
            _draw_bench_work(sheet, view, sitting, new, left)
        else:
            _draw_by_hand_only(sheet, view, sitting)
        _draw_signature(sheet)
    return sheet.finished()


def _sentence(view: PaperView, sitting: PaperSitting) -> str:
    """``Six vessels for nine people and one spare order: pour 60 glasses of 40 ml, ...``."""
    spares = sum(order.is_spare for order in sitting.orders)
    people = counted(len(sitting.orders) - spares, "person", "people")
    also = f" and {counted(spares, 'spare order', 'spare orders')}" if spares else ""
    glasses = sum(len(g.glasses) or 1 for order in sitting.orders for g in order.glasses)
    start = f", start at {sitting.starts_at:%H:%M}" if sitting.starts_at.year > 1 else ""
    number = sum(len(vessels_of(sample)) for sample in sitting.samples)
    vessels = sentence_start(counted(number, "vessel", "vessels"))
    each = f"{'glass' if glasses == 1 else 'glasses'} of {millilitres(view.volume_ml)}"
    return f"{vessels} for {people}{also}: pour {glasses} {each}{start}."


def _draw_bench_work(
    sheet: Sheet,
    view: PaperView,
    sitting: PaperSitting,
    new: Sequence[PaperSample],
    left: Sequence[PaperSample],
) -> None:
    """The sheet where recipes are worked out: care, doses, checks, and the list for the door."""
    sheet.heading("1   Before you open a stock")
    _draw_boxes(sheet, [*cautions(new), _FOOD_GRADE, _LABELLED])
    sheet.ln(2)
    sheet.heading("2   Dose, in this order", 45)
    _draw_sentences(sheet, [*_left_ready(left), *when_to_prepare(new, view.session_on)])
    draw_doses(sheet, new)
    by_hand = [sample for sample in new if sample.recipe is None]
    if by_hand:
        sheet.ln(4)
        _draw_by_hand(sheet, by_hand)
    _draw_notes(sheet, notes_below(view, sitting, new))
    draw_checks(sheet, new, "3   Cap, check, chill")
    _draw_list(sheet, view, sitting, "4   Before you open the door", [_ALLERGENS, _LOCAL])


def _draw_ready(
    sheet: Sheet, view: PaperView, sitting: PaperSitting, left: Sequence[PaperSample]
) -> None:
    """The sheet of a sitting for which nothing is left to prepare."""
    sheet.heading("1   Nothing to dose")
    _draw_sentences(sheet, _left_ready(left))
    _draw_notes(sheet, notes_below(view, sitting, ()))
    _draw_list(sheet, view, sitting, "2   Before you open the door", [_ALLERGENS, _LOCAL])


def _draw_by_hand_only(sheet: Sheet, view: PaperView, sitting: PaperSitting) -> None:
    """The sheet where what is added is written by hand."""
    sheet.heading("1   Prepare")
    _draw_by_hand(sheet, sitting.samples)
    _draw_notes(sheet, [*notes_below(view, sitting, sitting.samples), *cautions(sitting.samples)])
    care = [_ALLERGENS, _FOOD_GRADE, _LOCAL]
    _draw_list(sheet, view, sitting, "2   Before you open the door", care)


def _left_ready(samples: Sequence[PaperSample]) -> list[str]:
    """Which vessels stand there from the first sitting."""
    if not samples:
        return []
    is_one = sum(len(vessels_of(sample)) for sample in samples) == 1
    stand = "serves all sittings and stands" if is_one else "serve all sittings and stand"
    return [f"{names_of(samples)} {stand} ready from an earlier one."]


def _draw_by_hand(sheet: Sheet, samples: Sequence[PaperSample]) -> None:
    ledger = Ledger(
        sheet,
        (
            Column("box", "", 7),
            Column("mark", "vessel", 13),
            Column("what", "compound", 35),
            Column("level", "level", 12, "R"),
            Column("added", "what is added", 0),
            Column("needed", "needed", 16, "R"),
            Column("really", "really added", 30),
            Column("time", "at", 14),
        ),
    )
    ledger.start()
    for sample in samples:
        _draw_vessel(ledger, sample)


def _draw_vessel(ledger: Ledger, sample: PaperSample) -> None:
    texts = {"what": (sample.label, STRONG), "added": (sample.addition, NOTE)}
    ledger.open_row(ledger.height_for(texts, 10.5))
    ledger.put_box("box")
    ledger.put("mark", sample.mark, LETTER)
    for key, (text, lettering) in texts.items():
        ledger.put(key, text, lettering)
    ledger.put("level", "" if sample.level is None else multiple(float(sample.level)))
    ledger.put("needed", millilitres(sample.volume_ml), PLAIN)
    ledger.put_line("really")
    ledger.put_line("time")


def _draw_sentences(sheet: Sheet, sentences: Sequence[str]) -> None:
    for words in sentences:
        sheet.paragraph(words, PLAIN)
        sheet.ln(0.8)
    sheet.ln(1)


def _draw_notes(sheet: Sheet, notes: Sequence[str]) -> None:
    sheet.ln(2)
    for words in notes:
        sheet.paragraph(words, NOTE)
        sheet.ln(0.8)
    sheet.ln(3)


def _draw_list(
    sheet: Sheet, view: PaperView, sitting: PaperSitting, heading: str, care: Sequence[str]
) -> None:
    places = number_word(sum(not order.is_spare for order in sitting.orders))
    lines = [f"Water, plain bread and a spittoon at {places} places.", *_DOOR]
    lines += [view.alcohol] if view.alcohol else []
    sheet.heading(heading)
    _draw_boxes(sheet, [*lines, *view.not_served, *care])


def _draw_boxes(sheet: Sheet, lines: Sequence[str]) -> None:
    for words in lines:
        sheet.room(sheet.paragraph_height(words, PLAIN, 7))
        sheet.tick_box(MARGIN, sheet.y + 0.5, 3.4)
        sheet.paragraph(words, PLAIN, 7)
        sheet.ln(1.2)


def _draw_signature(sheet: Sheet) -> None:
    sheet.room(14)
    sheet.ln(6)
    sheet.write_in("Prepared by", MARGIN, MARGIN + 82)
    sheet.write_in("Time", MARGIN + 92, MARGIN + 130)
    sheet.ln(6)
