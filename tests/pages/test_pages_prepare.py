"""Preparing on a tablet: what is ticked, what was done otherwise, and what a hasty hand may do."""

from datetime import datetime, time
from decimal import Decimal

import bench_session
import pytest
from bench_session import PEOPLE, vessel
from invented_session import button, choice, html_of, started

from seatworthy.pages import source
from seatworthy.sessions.wish import WantedSample, WantedSitting
from seatworthy.steps import dosing
from seatworthy.steps.bench_equipment import (
    TypedContainer,
    TypedPipette,
    add_container,
    add_pipette,
)
from seatworthy.steps.bench_states import use_up
from seatworthy.steps.planning import call_off, record_plan
from seatworthy.steps.recipes_again import work_out_again
from seatworthy.steps.session_facts import session_facts


@pytest.fixture(scope="module")
def planned(tmp_path_factory, stocked):
    """A closed store with a bench and a session that is dosed from it, and the session's id."""
    path = bench_session.made(tmp_path_factory.mktemp("bench"), stocked)
    desk = bench_session.opened(path)
    session_id = bench_session.planned(desk)
    desk.close()
    return path, session_id


@pytest.fixture
def bench(planned, tmp_path, monkeypatch):
    """A desk of one's own at a copy of that store, which the page reads."""
    desk = bench_session.copied(planned[0], tmp_path)
    monkeypatch.setattr(source, "the_desk", lambda: desk)
    yield desk
    desk.close()


@pytest.fixture
def session_id(planned):
    return planned[1]


@pytest.fixture
def page(bench, session_id):
    return started("prepare", session=session_id)


def press(page, label):
    button(page, label).click().run()
    assert not page.exception


def press_key(page, key):
    page.button(key=key).click().run()
    assert not page.exception


def other(page, name, kind="dose", **typed):
    """Choose a vessel and what happened, then fill the fields that open."""
    page.selectbox(key="other_vessel").set_value(name)
    choice(page, "other_kind").set_value(kind)
    page.run()
    fields = {field.key: field for field in (*page.selectbox, *page.number_input, *page.text_input)}
    for field, value in typed.items():
        fields[f"other_{field}"].set_value(value)


def person(bench, number):
    return bench_session.wish(bench).sittings[0].people[number]


def labels_of(page):
    return [found.label for found in page.button]


def test_the_vessels_stand_in_the_order_of_work(page):
    keys = [found.key for found in page.button if found.key.startswith("next_")]
    # blanks first, then the weakest of a compound (common practice, no source)
    assert keys == ["next_D1", "next_B1", "next_A1", "next_C1"]


def test_the_care_and_each_dose_are_read_before_anything_is_opened(page):
    html = html_of(page)
    assert html.index("Gloves, eye protection") < html.index("<h2>D")
    assert "2 shots of 165 µl with blue 200 from diacetyl reference, lot R1" in html
    assert html.count("Inhalation hazard") == 1  # of two letters with diacetyl
    assert html.count("New tip.") == 2


def test_a_vessel_goes_from_step_to_step_at_one_button(page, bench, session_id):
    for label in ("Dosed as planned", "Capped", "Tipped and tight", "In the cold"):
        assert page.button(key="next_B1").label == label
        press_key(page, "next_B1")
    assert "next_B1" not in [found.key for found in page.button]
    assert set(vessel(bench, session_id, "B1").steps) == {"capped", "tight", "chilled"}


def test_what_was_recorded_stands_beside_its_letter(page):
    press_key(page, "next_A1")
    html = html_of(page)
    assert html.index("<h2>A") < html.index("A1: dosed as planned.") < html.index("<h2>C")


def test_all_that_wait_are_done_at_once_and_the_sentence_on_top_says_so(page, bench, session_id):
    for key in ("next_D1", "next_B1", "next_A1", "next_C1"):
        press_key(page, key)
    for step, words in (
        ("capped", "capped"),
        ("tight", "tipped and tight"),
        ("chilled", "in the cold"),
    ):
        press(page, f"All 4 that wait: {words}")
        assert step in vessel(bench, session_id, "C1").steps
    assert "Every vessel is dosed, capped, tight and chilled" in html_of(page)


def test_whoever_prepares_and_tastes_is_told_so(page, bench, session_id):
    page.selectbox(key="prepared_by").set_value(person(bench, 0)).run()
    press_key(page, "next_D1")
    assert "Ada Moran prepares and tastes: such answers count only if" in html_of(page)
    assert session_facts(bench, session_id).preparers == (person(bench, 0),)


def test_a_vessel_dosed_on_another_screen_stays_as_it_is(page, bench, session_id):
    dose = dosing.OtherDose(amount=Decimal(220), shots=2)
    dosing.dose_otherwise(bench, session_id, "A1", dose, "", None)
    press_key(page, "next_A1")
    assert "That is on record already." in html_of(page)
    assert vessel(bench, session_id, "A1").level == pytest.approx(2)


def test_a_step_after_the_dose_was_taken_back_elsewhere_is_refused(page, bench, session_id):
    press_key(page, "next_A1")
    dosing.take_back_dose(bench, session_id, "A1", "wrong bottle", person(bench, 1))
    press_key(page, "next_A1")
    html = html_of(page)
    assert "A1 isn&#x27;t dosed yet: record that first. Nothing was recorded." in html
    assert page.button(key="next_A1").label == "Dosed as planned"


def test_doses_worked_out_again_elsewhere_are_not_ticked_unseen(page, bench, session_id):
    work_out_again(bench, session_id, bench_session.vessel_id(bench, "pitcher"), None)
    press_key(page, "next_A1")
    assert "The doses were worked out again since this page was drawn" in html_of(page)
    assert vessel(bench, session_id, "A1").dosed == ""
    press_key(page, "next_A1")  # now that it stands here
    assert vessel(bench, session_id, "A1").level == pytest.approx(3)


def test_a_lot_used_up_since_the_plan_is_refused_beside_its_letter(page, bench, session_id):
    use_up(bench, bench_session.stock_id(bench, "diacetyl"))
    press_key(page, "next_A1")
    html = html_of(page)
    refused = html.index('class="refusal"')
    assert html.index("<h2>A") < refused < html.index("<h2>C")
    assert "used up" in html[refused : refused + 300]
    assert vessel(bench, session_id, "A1").dosed == ""


def test_what_really_went_in_is_recorded_and_the_fields_are_empty_again(page, bench, session_id):
    other(page, "A1", amount=220.0, shots=2, words="**one** shot <b>slipped</b>")
    press(page, "Record what went into A1")
    html = html_of(page)
    assert "A1: what really went in is on record; the level follows from it." in html
    assert "**one** shot &lt;b&gt;slipped&lt;/b&gt;" in html
    assert vessel(bench, session_id, "A1").level == pytest.approx(2)
    assert page.number_input(key="other_amount").value is None
    assert page.text_input(key="other_words").value == ""


def test_a_second_press_on_the_emptied_form_does_not_bring_the_recipe_back(page, bench, session_id):
    other(page, "A1", amount=220.0, shots=2)
    press(page, "Record what went into A1")
    press(page, "Record what went into A1")
    assert "Fill in first what was otherwise with A1. Nothing was recorded." in html_of(page)
    assert vessel(bench, session_id, "A1").level == pytest.approx(2)


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"amount": 0.0}, "The dose must be more than 0, got 0."),
        ({"amount": 1e-9}, "The dose must be more than 0"),
        ({"amount": 20_000_000.0}, "20000 ml are more than a fifth of the vessel."),
        ({"amount": 110.0, "shots": 1000}, "A dose is 1 to 50 shots, got 1000."),
        ({"volume": 0.0}, "A vessel holds 1 ml to 100 l of beer, got 0 ml."),
        ({"words": "a\x00b"}, "What was noted holds a hidden character"),
    ],
    ids=["nothing", "tiny", "a tank", "shots", "no beer", "hidden"],
)
def test_what_cannot_be_is_a_sentence_and_keeps_what_was_typed(
    page, bench, session_id, typed, sentence
):
    version = bench.version
    other(page, "A1", **typed)
    press(page, "Record what went into A1")
    assert sentence in html_of(page)
    assert "Nothing was recorded." in html_of(page)
    assert bench.version == version
    (field, value) = next(iter(typed.items()))
    kept = {found.key: found.value for found in (*page.number_input, *page.text_input)}
    assert kept[f"other_{field}"] == value


def test_something_in_a_blank_is_refused_with_what_to_do(page, bench, session_id):
    other(page, "D1", amount=10.0)
    press(page, "Record what went into D1")
    assert "D is a blank: nothing is added to it." in html_of(page)


def test_a_vessel_that_leaks_is_put_away_with_reason_and_name(page, bench, session_id):
    press_key(page, "next_A1")
    other(page, "A1", "put_away", why="it leaks")
    press(page, "Put A1 away")
    assert "Say who you are" in html_of(page)
    other(page, "A1", "put_away", why="it leaks", by=person(bench, 1))
    press(page, "Put A1 away")
    assert vessel(bench, session_id, "A1").is_put_away
    assert "Put away, not poured" in html_of(page)
    assert "next_A1" not in [found.key for found in page.button]


def test_taking_back_asks_what_and_why(page, bench, session_id):
    other(page, "A1", "back")
    assert "Nothing is ticked on A1 yet." in html_of(page)
    press_key(page, "next_A1")
    press_key(page, "next_A1")
    other(page, "A1", "back", back="capped", why="**crown** sat askew", by=person(bench, 1))
    press(page, "Take it back")
    assert vessel(bench, session_id, "A1").steps == ()
    other(page, "A1", "back", back="dosed", why="wrong bottle", by=person(bench, 1))
    press(page, "Take it back")
    assert vessel(bench, session_id, "A1").dosed == ""
    assert "A1: the dose was taken back: wrong bottle." in html_of(page)


def test_a_note_is_shown_as_it_was_written(page, bench, session_id):
    other(page, "C1", "note", why="", by=person(bench, 1))
    press(page, "Write it down")
    assert "Write down first what was noted." in html_of(page)
    other(page, "C1", "note", why="<i>smells</i> of ![x](http://outside.example/a.png)")
    press(page, "Write it down")
    assert "“&lt;i&gt;smells&lt;/i&gt; of ![x](http://outside.example/a.png)”" in html_of(page)
    assert page.text_input(key="other_why").value == ""


def test_names_stand_in_the_lists_as_they_are(page):
    assert page.selectbox(key="prepared_by").options == list(PEOPLE)


def test_the_doses_are_worked_out_in_other_vessels_until_the_first_is_dosed(
    page, bench, session_id
):
    press(page, "Work them out")
    assert "Choose a kind of vessel first. Nothing was recorded." in html_of(page)
    page.selectbox(key="again_in").set_value(bench_session.vessel_id(bench, "pitcher"))
    press(page, "Work them out")
    assert "1000 ml of beer in each" in html_of(page)
    press_key(page, "next_D1")
    assert "Work them out" not in labels_of(page)


def test_a_kind_of_vessel_without_what_it_needs_is_refused_with_its_reasons(
    page, bench, session_id
):
    use_up(bench, bench_session.stock_id(bench, "diacetyl"))
    page.selectbox(key="again_in").set_value(bench_session.vessel_id(bench))
    version = bench.version
    press(page, "Work them out")
    assert "Diacetyl reference, lot R1 is used up: open another lot." in html_of(page)
    assert bench.version == version


def test_a_keg_for_sittings_too_far_apart_says_so_in_one_sentence(bench):
    add_container(bench, TypedContainer("keg 10 l", "keg", "10000", headspace="500", dead="200"))
    add_pipette(bench, TypedPipette("large 10000", "1000", "10000", "5"))
    people, day = bench_session.wish(bench).sittings[0].people, bench.today()
    session_id = bench_session.planned(
        bench,
        label="Far apart",
        container=bench_session.vessel_id(bench, "keg"),
        sittings=(
            WantedSitting("Early", datetime.combine(day, time(8)), people[:2]),
            WantedSitting("Late", datetime.combine(day, time(23)), people[2:]),
        ),
    )
    html = html_of(started("prepare", session=session_id))
    assert "Prepare it fresh for each sitting: it keeps 12 hours, too short for one vessel." in html


def test_a_session_written_by_hand_shows_what_was_written(bench):
    wish = bench_session.wish(
        bench, label="By hand", container=None,
        samples=(WantedSample("dms", Decimal(3), "two <b>drops</b>"), WantedSample(None, None)),
    )  # fmt: skip
    page = started("prepare", session=record_plan(bench, wish))
    assert "Nothing here is worked out from the bench" in html_of(page)
    assert "A: DMS, two &lt;b&gt;drops&lt;/b&gt;." in html_of(page)
    assert labels_of(page) == ["Work them out"]


def test_a_session_called_off_is_only_read(bench, session_id):
    call_off(bench, session_id)
    page = started("prepare", session=session_id)
    assert labels_of(page) == []
    assert not page.selectbox
    assert "2 shots of 165 µl" in html_of(page)


def test_a_session_called_off_meanwhile_refuses_the_tick(page, bench, session_id):
    call_off(bench, session_id)
    press_key(page, "next_A1")
    assert vessel(bench, session_id, "A1").dosed == ""


@pytest.mark.parametrize("address", [{}, {"session": "nobody"}], ids=["none", "unknown"])
def test_without_a_session_the_page_says_so(bench, address):
    assert "No session goes by that address" in html_of(started("prepare", **address))


def test_a_day_without_a_time_is_not_taken_for_now(page, bench, session_id):
    version = bench.version
    page.date_input(key="prepared_on").set_value(bench.today()).run()
    page.button(key="next_A1").click().run()
    assert "Say at what time it was dosed on that day." in html_of(page)
    assert bench.version == version
