"""A plan that is dosed from the bench: its doses, its faults, its series, and who tastes how much."""

import re

import bench_session
import pytest
from invented_session import button, choice, html_of, started

from seatworthy.pages import going, source
from seatworthy.steps import planning
from seatworthy.steps.bench_equipment import TypedContainer, add_container
from seatworthy.steps.bench_states import use_up
from seatworthy.steps.preparation import preparation
from seatworthy.steps.session_facts import session_facts

BY_HAND = "two <b>drops</b> of **it**"


@pytest.fixture(scope="module")
def stored(tmp_path_factory, stocked):
    """A closed store with a bench and no session."""
    return bench_session.made(tmp_path_factory.mktemp("bench"), stocked)


@pytest.fixture
def bench(stored, tmp_path, monkeypatch):
    """A desk at a copy of that store, whose plan begins with the wish of `bench_session`."""
    desk = bench_session.copied(stored, tmp_path)
    monkeypatch.setattr(source, "the_desk", lambda: desk)
    monkeypatch.setattr(planning, "first_wish", lambda desk: bench_session.wish(desk))
    yield desk
    desk.close()


@pytest.fixture
def gone(monkeypatch):
    """Where the page went."""
    found = []
    monkeypatch.setattr(going, "go_to", lambda page, **asked: found.append((page, asked)))
    return found


@pytest.fixture
def page(bench):
    return started("plan")


def run(page):
    page.run()
    assert not page.exception


def press(page, label):
    button(page, label).click()
    run(page)


def row(number, name):
    return f"plan_row_{number}_{name}"


def faults(page):
    """What stands in the way, a sentence each."""
    listed = re.search(r'<ul class="faults".*?</ul>', html_of(page))
    return re.findall("<li>(.*?)</li>", listed.group()) if listed else []


def doses(page):
    """What is pipetted, by letter."""
    listed = re.search("<h3>Doses</h3><ul.*?</ul>", html_of(page))
    return {
        head[0]: rest for head, rest in re.findall("<li><b>(.*?)</b>(.*?)</li>", listed.group())
    }


def add_series(page, compound="diacetyl", lowest=0.5, ratio=2.0, steps=3, method="3afc"):
    page.selectbox(key="series_compound").set_value(compound)
    page.selectbox(key="series_method").set_value(method)
    for name, value in (("lowest", lowest), ("ratio", ratio), ("steps", steps)):
        page.number_input(key=f"series_{name}").set_value(value)
    press(page, "Add the series")


def levels_of(page, compound):
    state = page.session_state
    rows = [number for number in state["plan_rows"] if state[row(number, "compound")] == compound]
    return [state[row(number, "level")] for number in rows]


def test_doses_stand_in_the_order_of_work_with_the_real_level(page):
    found = doses(page)
    assert list(found) == ["D", "B", "A", "C"]
    assert "A diacetyl, really 3×" in html_of(page)
    # 1 ml in 1 l gives 3 times, so 330 µl in a bottle of 330 ml give the same
    assert ": 2 shots of 165 µl with blue 200, from diacetyl reference, lot R1; " in found["A"]
    assert "Or 3 shots of 110 µl with blue 200" in found["A"]
    assert "; prepare it from " in found["A"]
    assert ": nothing added; " in found["D"]


def test_other_vessels_change_the_doses_at_once(page, bench):
    page.selectbox(key="plan_container").set_value(bench_session.vessel_id(bench, "pitcher"))
    run(page)
    # 1 ml in the pitcher of 1 l, five shots of 200 µl
    assert ": 5 shots of 200 µl with blue 200" in doses(page)["A"]


def test_without_a_vessel_nothing_is_worked_out(page):
    page.selectbox(key="plan_container").set_value(None)
    run(page)
    assert "<h3>Doses</h3>" not in html_of(page)
    assert not button(page, "Record this plan").disabled


def test_a_compound_without_a_stock_is_named_with_the_way_out(page):
    page.selectbox(key=row(3, "compound")).set_value("h2s")
    run(page)
    (fault,) = faults(page)
    assert "no stock of hydrogen sulfide is on the bench" in fault
    assert "write by hand what is added" in fault
    assert button(page, "Record this plan").disabled


def test_what_is_written_by_hand_needs_no_stock(page, bench, gone):
    page.selectbox(key=row(3, "compound")).set_value("h2s")
    page.text_input(key=row(3, "addition")).set_value("two drops of **it**")
    run(page)
    assert faults(page) == []
    press(page, "Record this plan")
    ((_, asked),) = gone
    assert preparation(bench, asked["session"]).by_hand == (
        "C: Hydrogen sulfide, two drops of **it**.",
    )


@pytest.mark.parametrize(
    ("field", "value", "sentence"),
    [
        (row(1, "level"), 0.0, "has a level of 0×"),
        (row(1, "level"), 0.001, "has a level of 0.001×"),
        (row(1, "level"), 100.0, "is above its ceiling of 10×"),
        (row(1, "level"), None, "has no level"),
        (row(1, "level"), -3.0, "has no level"),
        ("plan_volume", 0.0, "A glass holds 0 ml: choose 5 to 200 ml."),
        ("plan_volume", None, "Say how much is poured into a glass."),
        ("plan_flight", 1, "A flight of 1 glass was asked for"),
        ("plan_flight", 24, "A flight of 24 glasses was asked for"),
        ("plan_spares", 20, "20 spare orders were asked for"),
        ("plan_most", 0, "A limit of 0 glasses for one person was set"),
        ("plan_alcohol", 0.0, "above the limit of 0 g"),
    ],
)
def test_a_number_that_cannot_be_is_a_sentence(page, field, value, sentence):
    page.number_input(key=field).set_value(value)
    run(page)
    assert any(sentence in fault for fault in faults(page))
    assert button(page, "Record this plan").disabled


def test_a_dose_too_small_for_every_pipette_is_refused_with_a_dilution(page):
    page.number_input(key=row(2, "level")).set_value(0.05)
    run(page)
    (fault,) = faults(page)
    # 0.05 of 3 times is 1 in 60, so 5.5 µl of what 330 ml would take, or 55 µl of a tenth of it
    assert "5.5 µl of diacetyl reference, lot R1 is less than a pipette delivers" in fault
    assert "Make up 1 ml of it to 10 ml and dose 55 µl of that." in fault


def test_a_stock_used_up_between_preview_and_record_is_refused_and_the_form_kept(page, bench, gone):
    use_up(bench, bench_session.stock_id(bench, "dms"))
    version = bench.version
    press(page, "Record this plan")
    assert any("DMS reference, lot R1" in fault for fault in faults(page))
    assert gone == []
    assert bench.version == version
    assert page.number_input(key=row(3, "level")).value == 3


def test_pressing_record_twice_makes_one_session(page, bench, gone):
    for _ in range(2):
        press(page, "Record this plan")
    assert len(gone) == 2
    assert gone[0] == gone[1]
    assert len(bench.store.rows("session", session_id=gone[0][1]["session"])) == 1


def test_what_was_planned_is_what_is_prepared(page, bench, gone):
    taken = {mark: line.split(": ")[1].split(", from")[0] for mark, line in doses(page).items()}
    press(page, "Record this plan")
    letters = preparation(bench, gone[0][1]["session"]).letters
    prepared = {letter.mark: letter.take or "nothing added" for letter in letters}
    assert {mark: line.split(";")[0] for mark, line in taken.items()} == prepared


def test_a_series_becomes_rows_the_weakest_first_and_keeps_the_blank_that_is_there(page):
    add_series(page, "dms")
    assert levels_of(page, "dms") == [3, 0.5, 1, 2]
    assert len(levels_of(page, "(blank)")) == 1
    assert choice(page, row(5, "glasses")).options == ["1 set", "2 sets"]


def test_a_series_brings_its_blank_along_if_there_is_none(page, bench):
    page.button(key=row(4, "out")).click()
    run(page)
    add_series(page, "dms")
    (blank,) = [n for n in page.session_state["plan_rows"]
                if page.session_state[row(n, "compound")] == "(blank)"]  # fmt: skip
    assert page.session_state[row(blank, "glasses")] == 0
    assert choice(page, row(blank, "glasses")).options == ["sets", "once", "twice"]


def test_a_plan_of_one_series_is_dosed_and_recorded(page, bench, gone):
    for number in (1, 2, 3, 4):
        page.button(key=row(number, "out")).click()
        run(page)
    page.number_input(key="plan_most").set_value(12)
    add_series(page, "dms", steps=3, method="2afc")
    assert faults(page) == []
    press(page, "Record this plan")
    facts = session_facts(bench, gone[0][1]["session"])
    assert {glass.method for glass in facts.glasses} == {"2afc"}
    assert len(preparation(bench, gone[0][1]["session"]).letters) == 4  # three steps and the blank


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"compound": None}, "A series needs its compound"),
        ({"steps": None}, "A series needs its compound"),
        ({"lowest": 0.0}, "The series starts at 0×"),
        ({"lowest": -1.0}, "A series needs its compound"),
        ({"ratio": 1.0}, "choose more than 1, such as 2 or 3"),
        ({"ratio": 0.0}, "choose more than 1, such as 2 or 3"),
        ({"lowest": 0.25, "ratio": 3.0, "steps": 12}, "above the ceiling of 100×"),
    ],
)
def test_a_series_that_cannot_be_is_a_sentence_and_adds_nothing(page, typed, sentence):
    before = page.session_state["plan_rows"]
    add_series(page, **typed)
    assert sentence in html_of(page)
    assert page.session_state["plan_rows"] == before


def test_a_series_that_does_not_fit_on_the_form_adds_nothing(page):
    for _ in range(16):
        press(page, "Add a blank")
    add_series(page, "dms", lowest=0.1, steps=5)
    assert (
        "A plan has at most 24 rows, and the series needs 5 where 4 are left: choose fewer steps, or "
        "take rows out. Nothing was added."
    ) in html_of(page)
    assert len(page.session_state["plan_rows"]) == 20


def test_at_twenty_four_rows_no_more_can_be_added(page):
    for _ in range(20):
        press(page, "Add a jug")
    assert len(page.session_state["plan_rows"]) == 24
    assert button(page, "Add a jug").disabled
    assert button(page, "Add a blank").disabled


def test_each_tastes_only_so_many_and_the_vessels_are_fewer(page, bench, gone):
    page.number_input(key="plan_flight").set_value(5)
    run(page)
    assert faults(page) == []
    assert "20 glasses from" in html_of(page).replace("\N{NO-BREAK SPACE}", " ")
    press(page, "Record this plan")
    facts = session_facts(bench, gone[0][1]["session"])
    counts = [len([g for g in facts.glasses if g.person_id == p]) for p in facts.people()]
    assert counts == [5, 5, 5, 5]


def test_the_name_of_a_vessel_stays_what_it_is(bench):
    add_container(bench, TypedContainer("**box** 5 l", "pitcher", "5000", headspace="200"))
    page = started("plan")
    assert "**box** 5 l" in page.selectbox(key="plan_container").options


def test_without_vessels_on_the_bench_the_plan_is_written_by_hand(desk, monkeypatch, stored):
    monkeypatch.setattr(source, "the_desk", lambda: desk)
    page = started("plan")
    assert "plan_container" not in [found.key for found in page.selectbox]


def test_names_with_signs_of_markup_stay_what_they_are(page, gone):
    page.text_input(key="plan_label").set_value("**Bench** <b>day</b>")
    run(page)
    page.text_input(key="plan_label_0").set_value("<i>late</i>")
    run(page)
    press(page, "Record this plan")
    ((_, asked),) = gone
    for name in ("session", "prepare"):
        html = html_of(started(name, session=asked["session"]))
        assert "**Bench** &lt;b&gt;day&lt;/b&gt;" in html
        assert "&lt;i&gt;late&lt;/i&gt;" in html
        assert "<i>late" not in html
