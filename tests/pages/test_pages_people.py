from datetime import date

import pytest
from streamlit.testing.v1 import AppTest

from seatworthy.pages import source
from seatworthy.steps.panel import add_people, people_of_panel

HOSTILE = "![x](http://outside.example/a.png)"


def _page():
    from seatworthy.pages import people

    people.show()


@pytest.fixture
def page(desk, monkeypatch):
    monkeypatch.setattr(source, "the_desk", lambda: desk)
    return AppTest.from_function(_page, default_timeout=20)


@pytest.fixture
def two(desk):
    add_people(desk, ["Ada Moran", "Bo Lindqvist"], date(2026, 1, 12))
    return desk


def run(test):
    test.run()
    assert not test.exception
    return test


def press(test, label):
    (button,) = [button for button in test.button if button.label == label]
    button.click()
    return run(test)


def html_of(test):
    return "\n".join(element.proto.body for element in test.get("html"))


def names(desk):
    return [person.name for person in people_of_panel(desk)]


def test_an_empty_list_says_what_to_do(page):
    assert "Nobody is on the panel yet" in html_of(run(page))


def test_names_typed_one_a_line_are_on_the_panel(page, desk):
    run(page).text_area[0].set_value("Ada Moran\n\nŁukasz Petrić\n")
    press(page, "Put them on the panel")
    assert "Ada Moran and Łukasz Petrić are on the panel." in html_of(page)
    assert 'role="status"' in html_of(page)
    assert names(desk) == ["Ada Moran", "Łukasz Petrić"]
    assert page.text_area[0].value == ""


def test_a_refused_list_stays_in_its_field(page, two):
    run(page).text_area[0].set_value("Cleo Varga\nADA moran")
    press(page, "Put them on the panel")
    assert "ADA moran is already on the list as Ada Moran" in html_of(page)
    assert page.text_area[0].value == "Cleo Varga\nADA moran"
    assert names(two) == ["Ada Moran", "Bo Lindqvist"]


def test_a_lookalike_is_asked_about_before_it_is_added(page, two):
    run(page).text_area[0].set_value("Ada Moram")
    press(page, "Put them on the panel")
    assert "did you mean Ada Moran" in html_of(page)
    assert names(two) == ["Ada Moran", "Bo Lindqvist"]
    press(page, "They are other people: add them")
    assert names(two) == ["Ada Moram", "Ada Moran", "Bo Lindqvist"]


def test_a_name_leads_to_its_record(page, two):
    person = people_of_panel(two)[0]
    assert f'href="record?who={person.person_id}"' in html_of(run(page))


def test_somebody_leaves_the_panel_and_comes_back(page, two):
    run(page).selectbox(key="about").set_value(people_of_panel(two)[1].person_id)
    run(page)
    press(page, "Not on the panel any more")
    assert [person.is_panellist for person in people_of_panel(two)] == [True, False]
    assert "not any more" in html_of(page)
    press(page, "Undo")
    assert [person.is_panellist for person in people_of_panel(two)] == [True, True]


def test_what_somebody_is_not_to_be_served_is_recorded_without_a_reason(page, two):
    person = people_of_panel(two)[0]
    choice = run(page).multiselect[0]
    choice.set_value(["dms"])
    press(page, "Record what is not to be served")
    assert "Ada Moran is not to be served dimethyl sulfide (DMS)." in html_of(page)
    assert people_of_panel(two)[0].refused_compounds == {"dms"}
    assert page.multiselect[0].value == ["dms"]
    assert "medical advice comes first" in html_of(page)
    assert person.refused_compounds == frozenset()


def test_a_hostile_name_is_refused_in_plain_words(page, desk):
    run(page).text_area[0].set_value(HOSTILE)
    press(page, "Put them on the panel")
    assert "A name must be a name" in html_of(page)
    assert names(desk) == []
