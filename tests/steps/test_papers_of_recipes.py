"""What the papers of a session say that is dosed from the bench, held against arithmetic by hand."""

import shutil
from datetime import datetime, time, timedelta
from decimal import Decimal
from io import BytesIO

import benched
import pytest
import thursday
from pypdf import PdfReader

from seatworthy.paper import labels_pdf, pouring_pdf, preparation_pdf
from seatworthy.paper.label_sheets import LabelSheet
from seatworthy.sessions.wish import WantedSample
from seatworthy.steps.bench_equipment import TypedPipette, add_pipette
from seatworthy.steps.bench_writing import NewStock, add_stock
from seatworthy.steps.desk import open_desk
from seatworthy.steps.dosing import OtherDose, dose_otherwise
from seatworthy.steps.papers import papers
from seatworthy.steps.planning import preview, record_plan

STRONG = WantedSample("t2n", Decimal(6))
SAMPLES = (
    WantedSample("diacetyl", Decimal(3), glasses=2),
    WantedSample("diacetyl", Decimal(1)),
    WantedSample("dms", Decimal(3)),
    STRONG,
    WantedSample(None, None, glasses=2),
)


@pytest.fixture
def bench(desk, people):
    return benched.set_up(desk)


@pytest.fixture(scope="module")
def dosed(tmp_path_factory, stocked):
    """The papers of a session that is dosed in bottles; they are only read."""
    path = tmp_path_factory.mktemp("dosed") / "panel.duckdb"
    shutil.copyfile(stocked, path)
    desk = open_desk(path)
    people = thursday.set_up(desk, path.parent)
    benched.set_up(desk)
    view = papers(desk, record_plan(desk, benched.wish(desk, people, samples=SAMPLES)))
    desk.close()
    return view


def recipes(view, sitting=0):
    return {sample.mark: sample.recipe for sample in view.sittings[sitting].samples}


def text_of(pdf):
    return "\n".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)


def today_at(hour):
    return datetime.combine(thursday.TODAY, time(hour))


def test_samples_stand_in_the_order_of_work_at_every_sitting(dosed):
    # blanks first, then compound by compound, the weakest of each first (common practice, no source)
    for sitting in dosed.sittings:
        assert [sample.mark for sample in sitting.samples] == ["E", "B", "A", "C", "D"]


def test_the_list_on_paper_follows_that_order(dosed):
    text = text_of(preparation_pdf(dosed, "A4"))
    early, late = text.split("Late at 14:00", 1)
    for page, number in ((early, 1), (late, 2)):
        found = [page.index(f"{mark}{number}") for mark in "EBACD"]
        assert found == sorted(found)


def test_a_dose_names_stock_pipette_shots_and_total(dosed):
    recipe = recipes(dosed)["A"]
    assert recipe.stock == "diacetyl reference, lot R1"
    assert recipe.pipette == "blue 200"
    # 1 ml in 1 l gives 3 times, so 330 µl in 330 ml; 200 µl at most are taken at once
    assert (recipe.take, recipe.total) == ("2 shots of 165 µl", "330 µl in all")
    assert recipe.into_ml == 330
    assert recipes(dosed)["B"].total == ""


def test_the_real_level_is_arithmetic_and_its_range_covers_the_filling(dosed):
    recipe = recipes(dosed)["A"]
    assert recipe.level == 3
    # 3 ml of 330 ml are 0.9 %, the limit of a rectangular distribution, so k = 2 gives at least
    # 2 / √3 of 0.9 % of 3 times
    assert recipe.level_off >= 3 * (3 / 330) * 2 / 3**0.5
    assert recipe.level_off < 0.3
    text = text_of(preparation_pdf(dosed, "A4"))
    assert "2 shots of 165 µl" in text
    assert "330 µl in all" in text


def test_each_sitting_has_its_own_bottles_and_its_own_hours(dosed):
    early, late = (recipes(dosed, sitting)["C"] for sitting in (0, 1))
    assert (early.vessels, late.vessels) == (("C1",), ("C2",))
    assert early.prepare_until < today_at(10)
    assert late.prepare_until - early.prepare_until == timedelta(hours=4)
    # DMS leaves within hours: 12 of them before it is served (common practice, no source)
    assert late.prepare_from == today_at(14) - timedelta(hours=12)


def test_a_keg_serves_both_sittings_from_one_vessel(desk, people, bench):
    add_pipette(desk, TypedPipette("green 1000", "100", "1000", "5"))
    wish = benched.wish(desk, people, "keg", samples=(
        WantedSample("diacetyl", Decimal(1)), WantedSample(None, None, glasses=2),
    ))  # fmt: skip
    view = papers(desk, record_plan(desk, wish))
    early, late = (recipes(view, sitting)["A"] for sitting in (0, 1))
    assert early == late
    assert early.vessels == ("A1",)
    assert early.is_shared
    assert early.prepare_until < today_at(10)  # it must be ready for the first


def test_a_blank_gets_as_much_ethanol_as_the_dose_that_brings_most(dosed):
    # 99 µl at 50 % hold 49.5 µl
    assert recipes(dosed)["D"].take == "1 shot of 99 µl"
    assert recipes(dosed)["E"].ethanol == "49.5 µl of ethanol"
    assert "49.5 µl of ethanol" in text_of(preparation_pdf(dosed, "A4"))


def test_a_level_that_can_only_be_missed_is_told_on_the_list(desk, people, bench):
    add_stock(desk, NewStock(
        "h2s", "unit", "K9", "3", litres="0.5", full_amount="30", is_food_grade=True,
        is_bought_dilution=True,
    ))  # fmt: skip
    samples = (WantedSample("h2s", Decimal(4)), WantedSample("dms", Decimal(3)), SAMPLES[-1])
    view = papers(desk, record_plan(desk, benched.wish(desk, people, samples=samples)))
    # one unit in 500 ml gives 3 times, so in 330 ml 3 × 500 / 330 = 4.545 times
    assert recipes(view)["A"].level == pytest.approx(Decimal("4.545454"), abs=Decimal("1e-5"))
    assert recipes(view)["A"].take == "1 unit"
    assert view.bench_notes == (
        "A is planned at 4× and will really be 4.55×; its answers count at what it really is.",
    )
    assert "will really be 4.55×" in text_of(preparation_pdf(view, "A4")).replace("\n", " ")


def test_a_level_that_is_met_is_not_remarked_on(dosed):
    assert dosed.bench_notes == ()


def test_what_is_written_by_hand_comes_after_what_the_bench_gives(desk, people, bench):
    by_hand = WantedSample("h2s", Decimal(3), "two drops of the made-up flask")
    wish = benched.wish(desk, people, samples=(by_hand, *SAMPLES))
    view = papers(desk, record_plan(desk, wish))
    marks = [sample.mark for sample in view.sittings[0].samples]
    assert marks == ["F", "C", "B", "D", "E", "A"]
    assert recipes(view)["A"] is None
    assert "two drops of the made-up flask" in text_of(preparation_pdf(view, "A4")).replace(
        "\n", " "
    )


def test_a_session_without_the_bench_keeps_its_letters_in_order(desk, people):
    view = papers(desk, thursday.planned(desk, people))
    marks = [sample.mark for sample in view.sittings[0].samples]
    assert marks == sorted(marks)
    assert set(recipes(view).values()) == {None}
    assert view.bench_notes == ()


def test_what_went_in_otherwise_changes_no_recipe_on_paper(desk, people, bench):
    session_id = record_plan(desk, benched.wish(desk, people))
    before = papers(desk, session_id).sittings
    dose_otherwise(desk, session_id, "A1", OtherDose(amount=Decimal(220), shots=2), "", None)
    assert papers(desk, session_id).sittings == before


def test_everybody_rests_before_the_strong_glass_on_the_pouring_sheet(dosed):
    # above 5 times threshold a glass is strong and comes last, here the seventh of everybody
    assert dosed.rests == (
        "Rest two minutes before glass 7: the strong and lingering ones follow.",
    )
    last = {order.glasses[-1].mark for sitting in dosed.sittings for order in sitting.orders}
    assert last == {"D"}
    text = text_of(pouring_pdf(dosed, "A4")).replace("\n", " ")
    assert text.count("Rest two minutes before glass 7") == 2  # a sheet for each sitting


def test_the_rests_on_record_are_those_of_the_preview(desk, people, bench):
    wish = benched.wish(desk, people, samples=SAMPLES, spares=1)
    foreseen = preview(desk, wish).rests
    assert papers(desk, record_plan(desk, wish)).rests == foreseen
    assert foreseen


def test_without_the_wish_for_it_nobody_rests(desk, people, bench):
    wish = benched.wish(desk, people, samples=SAMPLES, strong_late=False)
    assert papers(desk, record_plan(desk, wish)).rests == ()


def test_the_pouring_sheet_tells_nothing_of_the_doses(dosed):
    text = text_of(pouring_pdf(dosed, "A4")).casefold()
    assert not any(
        word in text for word in ("diacetyl", "dms", "µl", "lot r1", "×", "nothing added")
    )


def test_labels_name_every_vessel_once(dosed):
    sheet = LabelSheet("A4", 3, 8, 5, 8, 62, 32, 66, 33)
    words = text_of(labels_pdf(dosed, "caps", sheet)).split()
    for mark in "ABCDE":
        for number in (1, 2):
            assert words.count(f"{mark}{number}") == 1
