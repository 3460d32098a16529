"""The page of what is kept about somebody, and the statement of how long."""

import io
import zipfile
from datetime import timedelta

import pytest
from streamlit.testing.v1 import AppTest

from seatworthy.pages import source
from seatworthy.steps import retention
from seatworthy.steps.panel import add_people, people_of_panel
from seatworthy.steps.people import everybody
from seatworthy.steps.safekeeping import back_up
from seatworthy.steps.signers import appoint_signer


def _page():
    from seatworthy.pages import kept_about

    kept_about.show()


def _people():
    from seatworthy.pages import people

    people.show()


@pytest.fixture
def people(desk, monkeypatch):
    monkeypatch.setattr(source, "the_desk", lambda: desk)
    add_people(desk, ["Ada Moran", "Bo Lindqvist"], None)
    return {person.name.split()[0]: person.person_id for person in people_of_panel(desk)}


def run(test, **address):
    for name, value in address.items():
        test.query_params[name] = value
    test.run()
    assert not test.exception
    return test


def opened(who=None):
    test = AppTest.from_function(_page, default_timeout=20)
    return run(test, **({"who": who} if who else {}))


def press(test, label):
    (button,) = [button for button in test.button if button.label.replace("\\", "") == label]
    button.click()
    return run(test)


def html_of(test):
    return "\n".join(element.proto.body for element in test.get("html"))


def test_without_a_person_everybody_is_offered(people):
    shown = html_of(opened())
    assert "About whom shall it be?" in shown
    assert f"kept?who={people['Bo']}" in shown


def test_an_empty_store_says_that_nothing_is_kept(desk, monkeypatch):
    monkeypatch.setattr(source, "the_desk", lambda: desk)
    assert "Nothing is kept about anybody yet" in html_of(opened())


def test_the_page_opens_with_what_is_kept_and_how_long(people):
    shown = html_of(opened(people["Ada"]))
    assert "Of Ada Moran a name is kept; <em>nobody has said for how long.</em>" in shown
    assert "statement of being on the panel or not" in shown


def test_a_copy_is_made_recorded_and_offered(people, desk):
    test = press(opened(people["Ada"]), "Make the copy")
    assert "that it was handed out is recorded" in html_of(test)
    (button,) = test.get("download_button")
    assert button.proto.label == "Save it"
    name, data = test.session_state["kept_copy"][1:]
    assert name.startswith("kept-")
    assert zipfile.ZipFile(io.BytesIO(data)).namelist() == ["kept.txt", "kept.json"]
    assert desk.store.rows("history_acts")[0]["kind"] == "copy handed out"


def test_the_name_goes_only_after_two_questions(people, desk):
    test = press(opened(people["Ada"]), "Make Ada Moran anonymous …")
    assert "What goes" in html_of(test)
    assert "What stays" in html_of(test)
    press(test, "Take the name away")
    assert "Tick that you have read what goes for good." in html_of(test)
    test.checkbox[0].check()
    press(test, "Take the name away")
    assert "is all that is left of the name" in html_of(test)
    assert "Ada Moran" not in [one.name for one in everybody(desk)]
    assert not [button for button in test.button if "anonymous" in button.label]


def test_it_can_be_left(people, desk):
    test = press(opened(people["Ada"]), "Make Ada Moran anonymous …")
    press(test, "Leave it")
    assert "What goes" not in html_of(test)
    assert "Ada Moran" in [one.name for one in everybody(desk)]


def test_a_pin_stands_behind_it_where_somebody_may_sign(people, desk):
    appoint_signer(desk, people["Bo"], "2468")
    test = press(opened(people["Ada"]), "Make Ada Moran anonymous …")
    test.checkbox[0].check()
    press(test, "Take the name away")
    assert "This is not the PIN of Bo Lindqvist" in html_of(test)
    assert "Ada Moran" in [one.name for one in everybody(desk)]


def test_what_must_be_done_first_is_said(people, desk):
    appoint_signer(desk, people["Bo"], "2468")
    shown = html_of(opened(people["Bo"]))
    assert "Bo Lindqvist may sign: appoint somebody else and take the right away first" in shown


def test_copies_that_still_hold_the_name_are_listed_and_cleaned(people, desk):
    backup = back_up(desk)
    test = press(opened(people["Ada"]), "Make Ada Moran anonymous …")
    test.checkbox[0].check()
    press(test, "Take the name away")
    assert backup.name in html_of(test)
    press(test, "Take the names out of them")
    assert "1 copy is anonymous now" in html_of(test)
    assert backup.name not in html_of(test)


def test_how_long_is_stated_on_the_people_page_and_can_be_undone(people, desk):
    test = run(AppTest.from_function(_people, default_timeout=20))
    (field,) = [one for one in test.number_input if one.label.startswith("Months after")]
    field.set_value(24)
    press(test, "State it")
    assert retention.keep_months(desk) == 24
    press(test, "Undo")
    assert retention.keep_months(desk) is None


def test_whoever_is_past_it_is_listed_and_can_be_kept_longer(people, desk):
    retention.state_retention(desk, 1)
    later = desk.today() + timedelta(days=70)
    desk.today = lambda: later
    test = run(AppTest.from_function(_people, default_timeout=20))
    assert "Past it; make them anonymous" in html_of(test)
    test = opened(people["Ada"])
    assert "their time ended on" in html_of(test)
    (until,) = test.date_input
    until.set_value(later + timedelta(days=30))
    press(test, "Keep until then")
    assert "Ada Moran is kept until" in html_of(test)
    assert [one.name for one in retention.past_their_time(desk)] == ["Bo Lindqvist"]


def test_a_name_is_no_markdown(people, desk):
    add_people(desk, ["Ada *Star*"], None, lookalikes_are_new=True)
    who = next(p.person_id for p in people_of_panel(desk) if p.name == "Ada *Star*")
    test = opened(who)
    assert [b.label for b in test.button if "Star" in b.label] == [r"Make Ada \*Star\* anonymous …"]
