"""The preparation list: what goes into which vessel, and what really went in."""

from collections import Counter
from typing import Final

from seatworthy.paper.ledger import Column, Ledger
from seatworthy.paper.lettering import LETTER, NOTE, PLAIN, STRONG
from seatworthy.paper.sheet import MARGIN, Sheet
from seatworthy.paper.wording import (
    counted,
    letters,
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
_OWN_PREPARERS: Final = (
    "The preparer marks vessels with letters only. Somebody else puts the codes on, from the pouring "
    "sheet, which the preparer does not see; then the preparer's own answers count."
)
_DOOR: Final = (
    "No perfume, no talk, no phones if the room says so.",
    "Everybody is of age and tastes by choice. No driving or machine work afterwards.",
)
_ALLERGENS: Final = (
    "Everybody knows the allergens: gluten from barley or wheat, and sulfites. Whoever must not have "
    "them does not taste."
)
_FOOD_GRADE: Final = (
    "Food-grade compounds only, each with its safety data sheet at hand. Local codes, those sheets "
    "and medical advice come first."
)
_KEEPING: Final = {
    "hours": "{} within hours: add last, pour soon.",
    "day": "{} within a day: make it the same day.",
}


def preparation_pdf(view: PaperView, size: str) -> bytes:
    """One part a sitting: the table of vessels, cautions, and what is done before the doors open."""
    title = f"Preparation list, {view.label}, {whole_day(view.session_on)}"
    sheet = Sheet(size, title, view.printed_at, view.record)
    foot = of_brewery(
        view.brewery,
        "This sheet holds the key: keep it out of the tasting room. Training samples, not for sale.",
    )
    for sitting in view.sittings:
        sheet.begin(foot, running_of(view, sitting))
        sheet.opening((*where_of(view, sitting), view.beer), _sentence(view, sitting), _LEAD)
        _draw_vessels(sheet, view, sitting)
        _draw_list(sheet, view, sitting)
        _draw_signature(sheet)
    return sheet.finished()


def _sentence(view: PaperView, sitting: PaperSitting) -> str:
    """``Six vessels for nine people and one spare order: pour 60 glasses of 40 ml, ...``."""
    spares = sum(order.is_spare for order in sitting.orders)
    people = counted(len(sitting.orders) - spares, "person", "people")
    also = f" and {counted(spares, 'spare order', 'spare orders')}" if spares else ""
    glasses = sum(len(order.glasses) for order in sitting.orders)
    start = f", start at {sitting.starts_at:%H:%M}" if sitting.starts_at.year > 1 else ""
    vessels = sentence_start(counted(len(sitting.samples), "vessel", "vessels"))
    each = f"{'glass' if glasses == 1 else 'glasses'} of {millilitres(view.volume_ml)}"
    return f"{vessels} for {people}{also}: pour {glasses} {each}{start}."


def _draw_vessels(sheet: Sheet, view: PaperView, sitting: PaperSitting) -> None:
    sheet.heading("1   Prepare")
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
    for sample in sitting.samples:
        _draw_vessel(ledger, sample)
    sheet.ln(2)
    for words in _notes(view, sitting):
        sheet.paragraph(words, NOTE)
        sheet.ln(0.8)
    sheet.ln(3)


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


def _notes(view: PaperView, sitting: PaperSitting) -> list[str]:
    """What goes with the table: the control, hidden pairs, keeping, handling, the preparers."""
    notes = ["Needed is what the glasses take, without a reserve."]
    if view.control_ml:
        orders = counted(len(sitting.orders), "glass", "glasses")
        notes.append(
            f"Control: the beer as it is, nothing added, {orders} of {millilitres(view.control_ml)}; "
            "it is named as the control and goes first."
        )
    notes += [*_pairs(sitting), *_fading(sitting), *_cautions(sitting)]
    if view.preparers:
        notes.append(_OWN_PREPARERS)
    return notes


def _pairs(sitting: PaperSitting) -> list[str]:
    """Which letters somebody gets more than once."""
    most: Counter[str] = Counter()
    for order in sitting.orders:
        most |= Counter(glass.mark for glass in order.glasses)
    notes = []
    for times in sorted({number for number in most.values() if number > 1}):
        marks = sorted(mark for mark, number in most.items() if number == times)
        often = "twice" if times == 2 else f"{number_word(times)} times"
        is_one = len(marks) == 1
        pairs = "a hidden pair" if is_one else "hidden pairs"
        what = pairs if times == 2 else "hidden repeats"
        notes.append(f"{letters(marks)} {'is' if is_one else 'are each'} poured {often}: {what}.")
    return notes


def _fading(sitting: PaperSitting) -> list[str]:
    """Which letters do not keep."""
    notes = []
    for keeping, words in _KEEPING.items():
        marks = [sample.mark for sample in sitting.samples if sample.keeping == keeping]
        if marks:
            notes.append(words.format(f"{letters(marks)} {'fades' if len(marks) == 1 else 'fade'}"))
    return notes


def _cautions(sitting: PaperSitting) -> list[str]:
    """Handling notes, each once with the letters that it is about."""
    marks: dict[str, list[str]] = {}
    for sample in sitting.samples:
        if sample.caution:
            marks.setdefault(sample.caution, []).append(sample.mark)
    return [
        f"{letters(found)}: {sentence_start(caution).rstrip('. ')}."
        for caution, found in marks.items()
    ]


def _draw_list(sheet: Sheet, view: PaperView, sitting: PaperSitting) -> None:
    places = number_word(sum(not order.is_spare for order in sitting.orders))
    lines = [f"Water, plain bread and a spittoon at {places} places.", *_DOOR]
    lines += [view.alcohol] if view.alcohol else []
    lines += [*view.not_served, _ALLERGENS, _FOOD_GRADE]
    sheet.heading("2   Before you open the door")
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
