"""The preparation list where doses are worked out from the bench."""

from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from functools import cache

import pytest
from invented_papers import LATE, invented_paper, invented_recipes
from printed_text import overprinted, pages_of, texts_of

from seatworthy.paper import preparation_pdf
from seatworthy.paper.prepare_when import when_to_prepare
from seatworthy.paper.vessel_names import run_of
from seatworthy.steps.paper_views import PaperSetGlass

RECIPES = invented_recipes()


@cache
def as_lines(view, size="A4"):
    return texts_of(preparation_pdf(view, size))


def as_sentences(view, page=0):
    return " ".join(as_lines(view)[page].split())


def rows_with(view, key, size="A4", page=0):
    """Texts from the vessel's name on, as they were set."""
    lines = as_lines(view, size)[page].splitlines()
    return lines[lines.index(key) :]


def test_samples_with_a_recipe_stand_in_the_order_of_the_view():
    lines = as_lines(RECIPES)[0].splitlines()
    names = [f"{mark}1, {mark}2" for mark in "ABCDEF"]
    assert [line for line in lines if line in names] == names
    turned = tuple(replace(sitting, samples=sitting.samples[::-1]) for sitting in RECIPES.sittings)
    lines = "\n".join(as_lines(replace(RECIPES, sittings=turned))).splitlines()
    assert [line for line in lines if line in names] == names[::-1]


def test_a_recipe_says_vessels_level_stock_shots_pipette_and_beer():
    assert rows_with(RECIPES, "D1, D2")[:13] == [
        "D1, D2",
        "Diacetyl",
        "diacetyl, 1 g/l in",
        "ethanol, lot 12-B",
        "3×",
        "between 2.8",
        "and 3.2×",
        "3 shots of 110 µl",
        "330 µl in all",
        "pipette blue 200",
        "take out as much beer",
        "first",
        "330 ml",
    ]


def test_a_level_of_which_nothing_is_known_has_no_range():
    assert rows_with(RECIPES, "F1, F2")[:6] == [
        "F1, F2",
        "Acetaldehyde",
        "acetaldehyde",
        "capsules, lot 88",
        "12×",
        "2 units",
    ]


def test_a_blank_gets_its_ethanol_or_nothing():
    assert rows_with(RECIPES, "A1, A2")[:4] == [
        "A1, A2",
        "nothing added",
        "30 µl of ethanol",
        "pipette fine 100",
    ]
    early = RECIPES.sittings[0]
    blank = replace(
        early.samples[0], recipe=replace(early.samples[0].recipe, ethanol="", pipette="")
    )
    view = replace(RECIPES, sittings=(replace(early, samples=(blank, *early.samples[1:])),))
    assert rows_with(view, "A1, A2")[:4] == ["A1, A2", "nothing added", "nothing", "330 ml"]


def test_a_new_tip_is_asked_for_where_the_compound_changes_and_only_there():
    lines = as_lines(RECIPES)[0].splitlines()
    assert [line for line in lines if line.startswith("From here on")] == [
        "From here on a new tip: papery.",
        "From here on a new tip: diacetyl.",
        "From here on a new tip: DMS.",
        "From here on a clean measure: acetaldehyde.",
    ]


def test_after_a_blank_that_gets_nothing_the_first_tip_is_new_anyway():
    early = RECIPES.sittings[0]
    blank = replace(
        early.samples[0], recipe=replace(early.samples[0].recipe, ethanol="", pipette="")
    )
    view = replace(RECIPES, sittings=(replace(early, samples=(blank, *early.samples[1:])),))
    assert "tip: papery" not in as_sentences(view)
    assert "tip: diacetyl" in as_sentences(view)


def test_there_is_room_to_write_what_was_dosed_its_lot_when_and_by_whom():
    lines = as_lines(RECIPES)[0].splitlines()
    start = lines.index("really dosed")
    assert lines[start : start + 4] == ["really dosed", "lot", "at", "by"]


def test_every_vessel_has_a_row_with_boxes_to_tick():
    lines = as_lines(RECIPES)[1].splitlines()
    start = lines.index("capped")
    assert lines[start : start + 4] == ["capped", "tight", "chilled", "done otherwise"]
    assert lines[start + 4 : start + 28 : 2] == [
        f"{mark}{number}" for mark in "ABCDEF" for number in (1, 2)
    ]
    assert "Done otherwise than written here" in lines
    assert "tip it: look for foam or drips. Re-crown it if it leaks" in as_sentences(RECIPES, 1)


def test_times_and_keeping_are_said_for_each_group():
    text = as_sentences(RECIPES)
    for sentence in (
        "A: prepare at any time, by 10:00.",
        "B and C keep 24 hours: prepare from 10:30 the day before until 10:00 on the day.",
        "D keeps 48 hours: prepare from 10:30 on Tuesday 24 November until 10:00 on the day.",
        "E and F keep 12 hours: prepare on the day, by 10:00.",
    ):
        assert sentence in text
    assert "fade" not in text


@pytest.mark.parametrize(
    ("keeps_h", "earliest", "latest", "sentence"),
    [
        ("1", (26, 9, 30), (26, 10, 0), "D keeps 1 hour: prepare on the day, from 09:30 until 10:00."),
        ("2", (26, 8, 30), None, "D keeps 2 hours: prepare on the day, from 08:30."),
        ("12", (25, 22, 30), None, "D keeps 12 hours: prepare on the day."),
        ("12.5", (25, 22, 0), None, "D keeps 12.5 hours: prepare from 22:00 the day before."),
        ("24", (25, 10, 30), (25, 18, 0),
         "D keeps 24 hours: prepare from 10:30 the day before until 18:00 the day before."),
        ("72", None, None, "D keeps 72 hours: prepare at any time."),
    ],
)  # fmt: skip
def test_the_time_to_prepare_is_said_in_words(keeps_h, earliest, latest, sentence):
    sample = RECIPES.sittings[0].samples[3]
    times = {
        "keeps_h": Decimal(keeps_h),
        "prepare_from": earliest and datetime(2026, 11, *earliest),
        "prepare_until": latest and datetime(2026, 11, *latest),
    }
    sample = replace(sample, recipe=replace(sample.recipe, **times))
    assert when_to_prepare([sample], RECIPES.session_on) == [sentence]


def test_care_stands_before_the_first_stock_is_opened():
    text = as_sentences(RECIPES)
    care = text[text.index("Before you open a stock") : text.index("Dose, in this order")]
    for words in (
        "C, papery: Very volatile; open it under extraction; see its safety data sheet.",
        "D and E, diacetyl and DMS: Gloves and eye cover; see their safety data sheets.",
        "After contact or inhalation do at once as section 4 of that compound's safety data sheet says.",
        "Food-grade compounds only",
        "training sample, not for sale",
    ):
        assert words in care


def test_what_the_trainer_should_know_is_printed():
    assert "D could be had with one shot of 330 µl" in as_sentences(RECIPES)
    assert "from a larger pipette" not in as_sentences(invented_paper())


def test_vessels_that_serve_all_sittings_are_dosed_for_the_first_only():
    view = invented_recipes(per_sample=1, is_shared=True, people=(LATE, LATE))
    first, _, second = (" ".join(texts.split()) for texts in as_lines(view))
    assert "3 shots of 110 µl" in first
    assert "3 shots" not in second
    assert "Nothing to dose A1, B1, C1, D1, E1 and F1 serve all sittings and stand ready" in second
    assert "Before you open the door" in second


def test_what_is_written_by_hand_stands_below_the_recipes():
    early = RECIPES.sittings[0]
    by_hand = invented_paper().sittings[0].samples[4]
    by_hand = replace(by_hand, mark="G")
    view = replace(RECIPES, sittings=(replace(early, samples=(by_hand, *early.samples)),))
    text = as_sentences(view) + " " + as_sentences(view, 1)
    assert text.index("F1, F2") < text.index("G Ethyl hexanoate 420 µl in 0.7 l 1.2× 400 ml")
    assert "Thirteen" not in text
    assert "13 vessels for nine people" in text


def test_letters_poured_in_sets_are_told_and_their_glasses_counted():
    view = invented_recipes(people=(LATE[:1], ()), glasses=2, spares=0)
    early = view.sittings[0]
    three = tuple(PaperSetGlass(n, f"31{n}", "A", n == 2) for n in (1, 2, 3))
    order = early.orders[0]
    glasses = (order.glasses[0], replace(order.glasses[1], method="3afc", glasses=three))
    asked = replace(early.samples[3], is_asked_in_sets=True)
    samples = (*early.samples[:3], asked, *early.samples[4:])
    early = replace(early, samples=samples, orders=(replace(order, glasses=glasses),))
    text = as_sentences(replace(view, sittings=(early,)))
    assert "pour 4 glasses of 40 ml" in text
    assert "D is poured in sets: the pouring sheet says into which glass." in text
    assert "hidden" not in text


def test_many_vessels_of_one_sample_stand_as_a_run():
    view = invented_recipes(per_sample=20)
    assert "A1 to A20" in as_sentences(view)
    assert "D21 to D40" in " ".join(" ".join(as_lines(view)).split())


@pytest.mark.parametrize(
    ("names", "words"),
    [
        (("A1", "A2", "A3", "A4"), "A1, A2, A3, A4"),
        (("A1", "A2", "A3", "A4", "A5"), "A1 to A5"),
        (("A1", "A2", "A3", "A4", "A6"), "A1, A2, A3, A4, A6"),
        (("A1", "A2", "A3", "A4", "B5"), "A1, A2, A3, A4, B5"),
        (("one", "two", "three", "four", "five"), "one, two, three, four, five"),
        (("A",), "A"),
    ],
)
def test_vessels_run_on_only_if_none_is_left_out(names, words):
    assert run_of(names) == words


def hostile_recipes(size_of_text):
    """Recipes in which every text is long."""
    long = "Kontrollverkostung der untergärigen Biere 日本 " * size_of_text + "W" * 70
    early = invented_recipes(per_sample=6, label=long, beer=long).sittings[0]
    samples = tuple(
        replace(
            sample, label=long[:90], caution=long,
            recipe=replace(sample.recipe, stock=long, pipette=long, take=long, total=long,
                           vessels=tuple(f"{sample.mark}{n * 7}" for n in range(6))),
        )
        for sample in early.samples
    )  # fmt: skip
    view = invented_recipes(label=long, bench_notes=(long, long))
    return replace(view, sittings=(replace(early, samples=samples),))


@pytest.mark.parametrize("size", ["A4", "Letter"])
@pytest.mark.parametrize(
    "view",
    [invented_recipes(), invented_recipes(per_sample=20), hostile_recipes(1), hostile_recipes(9)],
    ids=["usual", "many vessels", "long texts", "very long texts"],
)
def test_recipes_leave_no_margin_and_cover_no_other_text(view, size):
    width, height = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}[size]
    for page in pages_of(preparation_pdf(view, size)):
        assert overprinted(page) == []
        for piece in page:
            assert piece.left > 15.9, piece
            assert piece.right < width - 15.9, piece
            assert piece.top > 14, piece
            assert piece.bottom < height - 7, piece


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_long_tables_go_on_over_the_page_with_their_heads_again(size):
    early = invented_recipes(per_sample=6).sittings[0]
    many = tuple(
        replace(sample, mark=f"{sample.mark}{turn}", recipe=replace(
            sample.recipe, vessels=tuple(f"{sample.mark}{turn}{n}" for n in range(6))))
        for turn in "xyz" for sample in early.samples
    )  # fmt: skip
    view = replace(RECIPES, sittings=(replace(early, samples=many),))
    pages = as_lines(view, size)
    dosing = [page for page in pages if "take, for each" in page.splitlines()]
    checking = [page for page in pages if "capped" in page.splitlines()]
    assert len(dosing) > 1
    assert len(checking) > 2
    names = [f"{sample.mark}{n}" for sample in many for n in range(6)]
    pieces = [piece for page in pages_of(preparation_pdf(view, size)) for piece in page]
    # The rows to tick are set in 12 points; a run in the table of doses is not.
    assert [p.text for p in pieces if p.size == 12 and p.text in names] == names


def test_a_tip_is_changed_on_the_page_where_its_vessel_stands():
    for notes in range(12):
        view = invented_recipes(not_served=(), people=(LATE, ()))
        early = view.sittings[0]
        longer = tuple(
            replace(s, caution=f"{s.caution} Care. " * notes if s.caution else "")
            for s in early.samples
        )
        view = replace(view, sittings=(replace(early, samples=longer),))
        for page in as_lines(view, "Letter"):
            assert not page.splitlines()[-3].startswith("From here on")
