"""Labels on caps, bottles and glasses, on any sheet that somebody has measured."""

from dataclasses import replace
from datetime import datetime
from functools import cache
from io import BytesIO

import pytest
from invented_papers import HOSTILE, LATE, invented_hostile, invented_paper, invented_recipes
from printed_text import MM, overprinted, pages_of, size_of, texts_of
from pypdf import PdfReader
from pypdf.generic import ContentStream

from seatworthy.errors import PanelError
from seatworthy.paper.label_sheets import LabelSheet, LabelsRefused
from seatworthy.paper.labels import labels_pdf
from seatworthy.steps.paper_views import PaperSetGlass

# Invented sheets: without and with gaps, from large to the least that is read.
SHEETS = {
    "large": LabelSheet("A4", 2, 5, 4.65, 13.5, 99.1, 54, 101.6, 54),
    "edge to edge": LabelSheet("A4", 3, 8, 0, 0.5, 70, 37, 70, 37),
    "Letter": LabelSheet("Letter", 3, 10, 4.8, 12.7, 66.7, 25.4, 69.85, 25.4),
    "least": LabelSheet("A4", 5, 13, 5, 12, 38, 21, 40, 21),
}
TINY = LabelSheet("Letter", 12, 25, 10, 10, 12, 9, 14, 10)
MANY = invented_recipes(per_sample=20)  # six samples, two sittings: 240 vessels
VIEWS = {
    "usual": invented_recipes(),
    "by hand": invented_paper(),
    "hostile": invented_hostile(),
    "hostile vessels": invented_recipes(beer=HOSTILE[2], label=HOSTILE[0]),
}
EVERY = [
    (view, name, what)
    for view in VIEWS
    for name in SHEETS
    for what in ("caps", "bottles", "glasses")
]


@cache
def made(view, name, what, first=1):
    return labels_pdf(VIEWS[view], what, SHEETS[name], first)


def cells_of(pdf, sheet):
    """Texts of every label from first to last, read by where they stand; None outside of all."""
    found = {}
    for number, page in enumerate(pages_of(pdf)):
        for piece in page:
            found.setdefault(cell_at(sheet, piece, number), []).append(piece.text)
    return found


def cell_at(sheet, piece, page):
    for number in range(sheet.count):
        left, top, width, height = sheet.place(number)
        if left <= piece.left and piece.right <= left + width:  # noqa: SIM102
            if top <= piece.top and piece.bottom <= top + height:
                return page * sheet.count + number
    return None


def lines_of(pdf):
    """Straight lines of every page as left, top, right, bottom, mm."""
    found = []
    for page in PdfReader(BytesIO(pdf)).pages:
        height, start, lines = float(page.mediabox.height), (0, 0), []
        for operands, operator in ContentStream(page.get_contents(), page.pdf).operations:
            if operator == b"m":
                start = operands
            elif operator == b"l":
                (x, y), (to_x, to_y) = start, operands
                lines.append(tuple(float(v) * MM for v in (x, height - y, to_x, height - to_y)))
        found.append(lines)
    return found


@pytest.mark.parametrize(("view", "name", "what"), EVERY)
def test_no_text_leaves_its_label(view, name, what):
    assert None not in cells_of(made(view, name, what), SHEETS[name])


@pytest.mark.parametrize(("view", "name", "what"), EVERY)
def test_no_text_of_a_label_covers_other_text(view, name, what):
    for page in pages_of(made(view, name, what)):
        assert overprinted(page) == []


@pytest.mark.parametrize(("view", "name", "what"), EVERY)
def test_no_line_leaves_its_label(view, name, what):
    sheet = SHEETS[name]
    places = [sheet.place(number) for number in range(sheet.count)]
    for page in lines_of(made(view, name, what)):
        for left, top, right, bottom in page:
            assert any(
                x <= left and right <= x + width and y <= top and bottom <= y + height
                for x, y, width, height in places
            )


def test_text_outside_of_a_label_would_be_seen():
    shifted = replace(SHEETS["least"], left_mm=11)
    assert None in cells_of(made("usual", "least", "bottles"), shifted)


@pytest.mark.parametrize("what", ["caps", "glasses"])
def test_the_smallest_labels_hold_their_text(what):
    pdf = labels_pdf(VIEWS["usual"], what, TINY)
    assert None not in cells_of(pdf, TINY)
    assert overprinted(pages_of(pdf)[0]) == []


@pytest.mark.parametrize("name", SHEETS)
def test_the_paper_is_that_of_the_sheet(name):
    sizes = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
    for found in size_of(made("usual", name, "caps")):
        assert found == pytest.approx(sizes[SHEETS[name].paper], abs=0.05)


@pytest.mark.parametrize("name", SHEETS)
def test_240_bottles_get_a_label_each_in_the_order_of_work(name):
    sheet = SHEETS[name]
    pdf = labels_pdf(MANY, "bottles", sheet)
    cells = cells_of(pdf, sheet)
    wanted = [
        (vessel, sample)
        for sitting in MANY.sittings
        for sample in sitting.samples
        for vessel in sample.recipe.vessels
    ]
    assert len(wanted) == 240
    assert sorted(cells) == list(range(240))
    assert len(pages_of(pdf)) == -(-240 // sheet.count)
    for number, (vessel, sample) in enumerate(wanted):
        assert cells[number][0] == vessel
        assert cells[number][1].startswith(sample.label)


def test_a_bottle_says_what_is_in_it_and_leaves_room_for_when_and_who():
    cells = cells_of(made("usual", "edge to edge", "bottles"), SHEETS["edge to edge"])
    assert cells[6] == [
        "D1",
        "Diacetyl 3×",
        "diacetyl, 1 g/l in ethanol, lot 12-B",
        "House pils, 26 Nov 2026, 10:30",
        "made",
        "by",
        "use within 48 h, until",
        "Training sample, not for sale",
    ]


def test_a_blank_bottle_has_no_level_no_stock_and_no_hours():
    cells = cells_of(made("usual", "edge to edge", "bottles"), SHEETS["edge to edge"])
    assert cells[0] == [
        "A1",
        "nothing added",
        "House pils, 26 Nov 2026, 10:30",
        "made",
        "by",
        "Training sample, not for sale",
    ]


def test_what_is_added_by_hand_stands_in_the_place_of_the_stock():
    cells = cells_of(made("by hand", "edge to edge", "bottles"), SHEETS["edge to edge"])
    assert cells[3][:3] == ["D", "Papery 3×", "12 µl in 1.2 l"]


def test_a_cap_says_the_vessel_and_the_day():
    view = invented_recipes()
    view = replace(view, sittings=view.sittings[:1])
    cells = cells_of(labels_pdf(view, "caps", SHEETS["least"]), SHEETS["least"])
    assert cells[1] == ["A2", "26 Nov 2026"]


def test_a_cap_tells_two_sittings_apart_by_their_time_or_else_by_their_name():
    cells = cells_of(made("usual", "least", "caps"), SHEETS["least"])
    assert cells[0] == ["A1", "26 Nov 2026, 10:30"]
    assert cells[12] == ["A3", "26 Nov 2026, 14:30"]
    view = invented_paper()
    timeless = replace(
        view, sittings=tuple(replace(s, starts_at=datetime.min) for s in view.sittings)
    )
    cells = cells_of(labels_pdf(timeless, "caps", SHEETS["least"]), SHEETS["least"])
    assert cells[0] == ["A", "26 Nov 2026, Early shift"]


def test_a_vessel_that_serves_all_sittings_is_labelled_once():
    view = invented_recipes(per_sample=1, is_shared=True)
    cells = cells_of(labels_pdf(view, "caps", SHEETS["least"]), SHEETS["least"])
    assert [cells[number] for number in sorted(cells)] == [
        [f"{mark}1", "26 Nov 2026"] for mark in "ABCDEF"
    ]


def test_glasses_come_person_by_person_with_code_and_place_and_nothing_else():
    cells = cells_of(made("usual", "Letter", "glasses"), SHEETS["Letter"])
    glasses = [
        [glass.code, str(glass.position)]
        for sitting in VIEWS["usual"].sittings
        for order in sitting.orders
        for glass in order.glasses
    ]
    assert [cells[number] for number in sorted(cells)] == glasses


def test_each_code_is_underlined_so_that_6_and_9_keep_their_feet():
    pdf = made("usual", "Letter", "glasses")
    for page, lines in zip(pages_of(pdf), lines_of(pdf), strict=True):
        codes = [piece for piece in page if len(piece.text) == 3]
        assert len(lines) == len(codes)
        for code, (left, top, right, _) in zip(codes, lines, strict=True):
            assert (left, right) == pytest.approx((code.left, code.right), abs=0.3)
            assert code.top < top < code.bottom + 1


def test_every_glass_of_a_set_has_a_label_with_its_place_in_the_set():
    view = invented_paper(people=(LATE[:1], ()), glasses=2, spares=0)
    order = view.sittings[0].orders[0]
    three = tuple(
        PaperSetGlass(n, code, "A", n == 2) for n, code in enumerate(("311", "312", "313"), 1)
    )
    glasses = (order.glasses[0], replace(order.glasses[1], method="3afc", glasses=three))
    sitting = replace(view.sittings[0], orders=(replace(order, glasses=glasses),))
    pdf = labels_pdf(replace(view, sittings=(sitting,)), "glasses", SHEETS["Letter"])
    cells = cells_of(pdf, SHEETS["Letter"])
    assert [cells[n] for n in range(4)] == [
        [order.glasses[0].code, "1"],
        ["311", "2.1"],
        ["312", "2.2"],
        ["313", "2.3"],
    ]


def test_a_sheet_used_in_part_is_begun_at_its_first_free_label():
    cells = cells_of(made("usual", "edge to edge", "bottles", 24), SHEETS["edge to edge"])
    assert min(cells) == 23
    assert sorted(cells) == list(range(23, 47))


def test_a_long_compound_is_cut_at_a_word_and_keeps_its_level():
    cells = cells_of(made("hostile", "least", "bottles"), SHEETS["least"])
    assert cells[0][1] == "2,3-Pentanedione (vicinal … 3×"


def test_a_long_stock_keeps_its_lot():
    view = invented_recipes()
    long = "a stock of a rather long description that nobody can read on a label, lot 2026-118"
    early = view.sittings[0]
    samples = tuple(replace(s, recipe=replace(s.recipe, stock=long)) for s in early.samples)
    view = replace(view, sittings=(replace(early, samples=samples),))
    cells = cells_of(labels_pdf(view, "bottles", SHEETS["least"]), SHEETS["least"])
    assert cells[0][2].startswith("a stock of ")
    assert cells[0][2].endswith("lot 2026-118")
    assert "…" in cells[0][2]


def test_a_word_too_long_for_a_label_loses_letters():
    cells = cells_of(made("hostile vessels", "least", "bottles"), SHEETS["least"])
    assert cells[0][2].startswith("WWW")
    assert cells[0][2].endswith("… 26 Nov 2026, 10:30")


def test_the_same_labels_are_the_same_bytes():
    assert labels_pdf(VIEWS["usual"], "bottles", SHEETS["Letter"]) == made(
        "usual", "Letter", "bottles"
    )


def test_the_title_does_not_tell_what_is_poured():
    title = PdfReader(BytesIO(made("usual", "Letter", "glasses"))).metadata.title
    assert title == "Labels for glasses, Thursday panel, Thursday 26 November 2026"


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"paper": "A5"}, "Paper comes in A4 and Letter, not in 'A5'"),
        ({"columns": 0}, "The sheet has 0 columns of labels: at least 1"),
        ({"rows": -2}, "The sheet has -2 rows of labels: at least 1"),
        ({"rows": 2.5}, "The sheet has 2.5 rows of labels: .* a whole number"),
        ({"left_mm": -1}, "From the left edge to the first label are -1 mm"),
        ({"top_mm": float("nan")}, "From the upper edge to the first label are nan mm"),
        ({"width_mm": 0}, "A label's width is 0 mm"),
        ({"height_mm": -37}, "A label's height is -37 mm"),
        ({"across_mm": 0}, "From one label to the next across are 0 mm"),
        ({"down_mm": float("inf")}, "From one label to the next down are inf mm"),
        ({"width_mm": 11.9}, "A label of 11.9 mm by 37 mm is too small to read"),
        ({"height_mm": 8.9}, "A label of 70 mm by 8.9 mm is too small to read"),
        ({"across_mm": 69}, "from one to the next across are 69 mm, and a label's width is 70 mm"),
        ({"down_mm": 30}, "from one to the next down are 30 mm, and a label's height is 37 mm"),
        ({"left_mm": 1}, "3 columns of labels end at 211 mm, and A4 is 210 mm wide"),
        ({"rows": 9}, "9 rows of labels end at 333.5 mm, and A4 is 297 mm high"),
        ({"paper": "Letter"}, "8 rows of labels end at 296.5 mm, and Letter is 279.4 mm high"),
    ],
)
def test_a_sheet_that_cannot_be_is_refused_in_words(changes, words):
    with pytest.raises(PanelError, match=words):
        replace(SHEETS["edge to edge"], **changes)


@pytest.mark.parametrize(
    "changes",
    [
        {"width_mm": 12},
        {"height_mm": 9},
        {"columns": 1, "across_mm": 1},
        {"left_mm": 0.05},
        {"top_mm": 1, "down_mm": 37.0},
    ],
)
def test_a_sheet_just_within_its_limits_is_taken(changes):
    assert replace(SHEETS["edge to edge"], **changes).count


def test_all_faults_of_a_sheet_come_at_once():
    with pytest.raises(LabelsRefused) as caught:
        LabelSheet("A4", 4, 9, 0, 0, 70, 37, 60, 30)
    assert len(caught.value.faults) == 3
    assert str(caught.value).startswith("These labels can't be printed yet:\n- Labels lie over")


@pytest.mark.parametrize("first", [0, -1, 25])
def test_a_first_label_that_the_sheet_has_not_is_refused(first):
    with pytest.raises(PanelError, match=f"Label {first} was chosen .* labels 1 to 24"):
        labels_pdf(VIEWS["usual"], "caps", SHEETS["edge to edge"], first)


@pytest.mark.parametrize(("width", "height"), [(37.9, 21), (38, 20.9)])
def test_a_label_too_small_for_a_bottle_is_refused(width, height):
    sheet = replace(SHEETS["least"], width_mm=width, height_mm=height)
    with pytest.raises(PanelError, match="too small for all it says: .* at least 38 mm by 21 mm"):
        labels_pdf(VIEWS["usual"], "bottles", sheet)
    assert texts_of(labels_pdf(VIEWS["usual"], "caps", sheet))


def test_nothing_to_label_is_said():
    view = invented_paper(people=((), ()), spares=0)
    with pytest.raises(PanelError, match="There is nothing to label"):
        labels_pdf(view, "glasses", SHEETS["least"])


def test_another_kind_of_label_is_a_slip_of_the_programmer():
    with pytest.raises(ValueError, match="labels are for caps, bottles, glasses, not for 'jugs'"):
        labels_pdf(VIEWS["usual"], "jugs", SHEETS["least"])
