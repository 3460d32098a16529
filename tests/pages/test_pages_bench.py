from dataclasses import replace
from datetime import timedelta

import pytest
from streamlit.testing.v1 import AppTest

from seatworthy.pages import source
from seatworthy.steps.bench_equipment import (
    TypedContainer,
    TypedPipette,
    add_container,
    add_pipette,
)
from seatworthy.steps.bench_facts import containers, limits_on, pipettes, stocks
from seatworthy.steps.bench_writing import NewStock, add_stock
from seatworthy.steps.panel import add_people
from seatworthy.steps.shelf_amounts import TypedAmount, record_thresholds
from seatworthy.steps.shelf_writing import add_beer

PARTS = ("stocks", "dilute", "ladder", "pipettes", "vessels", "keeping")
SOLUTION = NewStock(
    "diacetyl", "solution", "7", "1", "g/l", full_amount="1", ethanol_percent="40",
    is_food_grade=True,
)  # fmt: skip


def _page():
    from seatworthy.pages import bench

    bench.show()


@pytest.fixture
def page(desk, monkeypatch):
    monkeypatch.setattr(source, "the_desk", lambda: desk)
    return AppTest.from_function(_page, default_timeout=20)


@pytest.fixture
def filled(desk):
    """A bench with a stock that may be used and one that may not, a pipette and a bottle."""
    add_beer(desk, "Quillmere Pils", "Pale lagers", "4,8")
    record_thresholds(desk, [TypedAmount("diacetyl", "100", "µg/l")], "", desk.today())
    add_stock(desk, SOLUTION)
    add_stock(desk, replace(SOLUTION, lot="6", expires_on=desk.today() - timedelta(days=3)))
    add_pipette(desk, TypedPipette("blue 100", "10", "100", "0,5", is_fine=True))
    add_container(desk, TypedContainer("bottle 330 ml", "bottle", "330", "5"))
    return desk


def run(test, **address):
    for name, value in address.items():
        test.query_params[name] = value
    test.run()
    assert not test.exception
    return test


def press(test, label):
    (button,) = [button for button in test.button if button.label == label]
    button.click()
    return run(test)


def html_of(test):
    return "\n".join(element.proto.body for element in test.get("html"))


def fill(test, **texts):
    for key, text in texts.items():
        test.text_input(key=key).set_value(text)


@pytest.mark.parametrize("part", PARTS)
def test_every_part_opens_on_an_empty_bench(page, part):
    html = html_of(run(page, part=part))
    assert "The bench is empty" in html
    assert "Put the first stock on the bench" in html


@pytest.mark.parametrize("part", PARTS)
def test_every_part_opens_on_a_filled_bench(page, filled, part):
    html = html_of(run(page, part=part))
    assert "Two stocks stand on the bench" in html
    assert "one has expired" in html
    assert "Put the first stock on the bench" not in html


def test_an_unknown_part_opens_the_stocks(page):
    assert "The first stock" in html_of(run(page, part="cellar"))


def test_choosing_a_part_moves_the_address(page):
    run(page).get("button_group")[0].set_value("pipettes")
    run(page)
    assert page.query_params["part"] == "pipettes"
    assert "ISO 8655-2" in html_of(page)


def test_no_strength_and_no_unit_is_chosen_beforehand(page):
    run(page)
    assert page.text_input(key="stock_strength").value == ""
    assert page.selectbox(key="stock_strength_unit").value is None
    assert page.selectbox(key="stock_compound").value is None
    assert not page.checkbox(key="stock_is_food_grade").value


def test_a_stock_is_put_on_the_bench_and_the_form_is_empty_again(page, desk):
    run(page).selectbox(key="stock_compound").set_value("diacetyl")
    fill(page, stock_lot="7", stock_strength="1", stock_ethanol_percent="40", stock_full_amount="1")
    page.selectbox(key="stock_strength_unit").set_value("g/l")
    page.checkbox(key="stock_is_food_grade").check()
    press(page, "Put it on the bench")
    assert "Diacetyl 1 g/l, lot 7 stands on the bench." in html_of(page)
    assert page.text_input(key="stock_lot").value == ""
    assert [stock.label for stock in stocks(desk)] == ["diacetyl 1 g/l, lot 7"]


def test_the_two_other_ways_to_know_a_strength_have_their_own_fields(page, desk):
    run(page).get("button_group")[1].set_value("reference")
    run(page).selectbox(key="stock_compound").set_value("dms")
    fill(page, stock_lot="22", stock_gives_amount="1", stock_litres="1", stock_strength="3",
         stock_ethanol_percent="0")  # fmt: skip
    page.checkbox(key="stock_is_food_grade").check()
    press(page, "Put it on the bench")
    run(page).get("button_group")[1].set_value("unit")
    run(page).selectbox(key="stock_compound").set_value("diacetyl")
    fill(page, stock_lot="K9", stock_litres="0,5", stock_strength="3", stock_full_amount="30")
    press(page, "Put it on the bench")
    assert [stock.kind for stock in stocks(desk)] == ["unit", "reference"]


def test_a_refusal_stands_in_the_page_and_keeps_what_was_typed(page, desk):
    run(page).selectbox(key="stock_compound").set_value("diacetyl")
    fill(page, stock_lot="7", stock_strength="strong")
    page.selectbox(key="stock_strength_unit").set_value("g/l")
    press(page, "Put it on the bench")
    assert "Its strength must be a number, got “strong”" in html_of(page)
    assert page.text_input(key="stock_lot").value == "7"
    assert stocks(desk) == ()


def test_care_and_first_aid_stand_beside_each_compound(page, filled):
    html = html_of(run(page))
    assert "never sniff neat or stock" in html
    assert "First aid and spills: see its safety data sheet." in html
    assert "No food or drink where stocks are opened" in html


def test_what_became_of_a_stock_is_recorded_and_taken_back(page, filled):
    run(page)
    chosen = stocks(filled)[0]
    page.selectbox(key="state_stock").set_value(chosen.stock_id)
    press(run(page), "It is used up")
    assert "is used up." in html_of(page)
    press(page, "Undo")
    assert "is not used up" in html_of(page)
    page.text_input(key=f"state_left_{chosen.stock_id}_").set_value("0.4")
    press(page, "Record what is left")
    assert {stock.left for stock in stocks(filled)} == {400, 1000}
    assert "0.4 of 1 ml" in html_of(page)


def test_a_last_day_is_corrected(page, filled):
    run(page)
    chosen = next(stock for stock in stocks(filled) if stock.expires_on)
    page.selectbox(key="state_stock").set_value(chosen.stock_id)
    later = filled.today() + timedelta(days=40)
    key = f"state_expires_{chosen.stock_id}_{chosen.expires_on}"
    run(page).date_input(key=key).set_value(later)
    press(page, "Record the last day")
    assert {stock.expires_on for stock in stocks(filled)} == {None, later}


def test_a_dilution_is_logged_as_a_stock(page, filled):
    run(page, part="dilute")
    fill(page, dilution_taken="100", dilution_made="10", dilution_solvent_percent="0")
    press(page, "Log the dilution")
    assert "Diacetyl 10 mg/l, lot 7/1 stands on the bench" in html_of(page)
    assert {stock.lot for stock in stocks(filled)} == {"6", "7", "7/1"}


def test_a_stock_that_may_not_be_used_is_not_offered_for_dilution(page, filled):
    run(page, part="dilute")
    assert page.selectbox(key="dilute_stock").options == ["Diacetyl 1 g/l, lot 7"]


def test_the_way_to_a_weaker_stock_is_told_in_steps(page, filled):
    run(page, part="dilute").text_input(key="dilute_wanted").set_value("10")
    page.selectbox(key="dilute_unit").set_value("mg/l")
    assert "make up to" in html_of(run(page))


def test_a_ladder_shows_what_is_meant_beside_what_is_true(page, filled):
    run(page, part="ladder")
    fill(page, ladder_setting="99", ladder_counts="1, 2 3")
    html = html_of(run(page))
    # 99 µl of 1 g/l in 330 ml is 300 µg/l, three times a threshold of 100 µg/l
    assert "3.00×" in html
    assert "9.00×" in html


def test_a_ladder_says_what_is_typed_wrong(page, filled):
    run(page, part="ladder")
    fill(page, ladder_setting="110", ladder_counts="1")
    assert "must be 10 to 100 µl" in html_of(run(page))
    fill(page, ladder_setting="100", ladder_counts="some")
    assert "Write numbers of shots" in html_of(run(page))


def test_a_pipette_is_put_on_the_bench_changed_and_put_away(page, desk):
    run(page, part="pipettes")
    fill(page, pipette_new_label="blue 100", pipette_new_smallest="10", pipette_new_largest="100",
         pipette_new_step="0.5")  # fmt: skip
    press(page, "Put it on the bench")
    (found,) = pipettes(desk)
    assert "10 to 100 µl in steps of 0.5 µl" in html_of(page)
    page.text_input(key=f"pipette_{found.pipette_id}_step").set_value("1")
    press(page, "Record the change")
    assert pipettes(desk)[0].step_ul == 1
    press(page, "Put it out of use")
    assert pipettes(desk) == ()
    press(page, "Put it back in use")
    assert len(pipettes(desk)) == 1


def test_a_vessel_is_put_on_the_bench(page, desk):
    run(page, part="vessels")
    fill(page, vessel_new_label="bottle 330 ml", vessel_new_content="330")
    page.get("button_group")[1].set_value("bottle")
    press(page, "Put it on the bench")
    assert [container.label for container in containers(desk)] == ["bottle 330 ml"]
    press(page, "Put it out of use")
    assert containers(desk) == ()


def test_own_limits_stand_first_and_an_empty_field_takes_them_back(page, desk):
    run(page, part="keeping").selectbox(key="limits_compound").set_value("dms")
    fill(run(page), limits_dms_keeps="8", limits_dms_ceiling="5")
    press(page, "Record it (an empty field: what is usual)")
    assert "What you state yourselves" in html_of(page)
    assert limits_on(desk, desk.today())["dms"].highest_level == 5
    fill(page, limits_dms_keeps="", limits_dms_ceiling="")
    press(page, "Record it (an empty field: what is usual)")
    assert "What you state yourselves" not in html_of(page)


def test_whoever_states_it_signs(page, filled):
    add_people(filled, ["Ada"], None)
    (who,) = run(page, part="keeping").selectbox(key="shelf_by").options
    assert who == "Ada"
