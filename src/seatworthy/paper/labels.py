"""Labels to stick on caps, bottles and glasses, on any sheet that somebody has measured."""

from collections.abc import Iterator
from typing import Final

from seatworthy.paper.label_drawing import draw_bottle, draw_cap, draw_glass
from seatworthy.paper.label_sheets import KINDS, LEAST_BOTTLE, Kind, LabelSheet, LabelsRefused
from seatworthy.paper.label_words import GlassLabel, VesselLabel, glass_labels, vessel_labels
from seatworthy.paper.sheet import Sheet
from seatworthy.paper.wording import whole_day
from seatworthy.steps.paper_views import PaperView

_TITLES: Final = {
    "caps": "Labels for caps",
    "bottles": "Labels for bottles, preparation only",
    "glasses": "Labels for glasses",
}


def labels_pdf(view: PaperView, what: Kind, sheet: LabelSheet, first: int = 1) -> bytes:
    """The labels of one session, row by row; nothing is printed outside of a label.

    Args:
        view: The session.
        what: "caps" (vessel and day), "bottles" (what is in it: for the preparation side only) or
            "glasses" (code and place; nothing tells what is in it or whose it is).
        sheet: The sheet of labels.
        first: The first free label of a sheet used in part, counted from 1.

    Raises:
        LabelsRefused: if the sheet has no such label, its labels are too small for what stands on
            them, or there is nothing to label.
    """
    labels = list(glass_labels(view) if what == "glasses" else vessel_labels(view))
    faults = _faults(what, sheet, first, len(labels))
    if faults:
        raise LabelsRefused(*faults)
    title = f"{_TITLES[what]}, {view.label}, {whole_day(view.session_on)}"
    pages = Sheet(sheet.paper, title, view.printed_at)
    for number, label in enumerate(labels, first - 1):
        if number % sheet.count == 0 or number == first - 1:
            pages.add_page()
        _draw(pages, what, label, sheet.place(number))
    return pages.finished()


def _faults(what: Kind, sheet: LabelSheet, first: int, count: int) -> list[str]:
    if what not in KINDS:
        message = f"labels are for {', '.join(KINDS)}, not for {what!r}"
        raise ValueError(message)
    faults = list(unfit_sheet(what, sheet, first))
    if not count:
        faults.append("There is nothing to label: plan what is poured and who comes.")
    return faults


def unfit_sheet(what: Kind, sheet: LabelSheet, first: int) -> Iterator[str]:
    """Why labels don't go on a sheet, a finished sentence each; nothing where they do.

    Args:
        what: As in `labels_pdf`.
        sheet: The sheet of labels.
        first: The first free label, counted from 1.
    """
    if not 1 <= first <= sheet.count:
        yield (
            f"Label {first} was chosen to begin with, and a sheet has labels 1 to {sheet.count}: "
            "choose one of them."
        )
    width, height = LEAST_BOTTLE
    if what == "bottles" and (sheet.width_mm < width or sheet.height_mm < height):
        yield (
            f"A bottle's label of {sheet.width_mm:g} mm by {sheet.height_mm:g} mm is too small for "
            f"all it says: choose one of at least {width:g} mm by {height:g} mm."
        )


def _draw(
    pages: Sheet,
    what: Kind,
    label: GlassLabel | VesselLabel,
    place: tuple[float, float, float, float],
) -> None:
    if isinstance(label, GlassLabel):
        draw_glass(pages, label, place)
    elif what == "caps":
        draw_cap(pages, label, place)
    else:
        draw_bottle(pages, label, place)
