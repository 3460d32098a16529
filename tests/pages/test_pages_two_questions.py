"""A past day by today's record, or as the record stood that evening."""

from datetime import date, timedelta

import pytest
from invented_session import button, html_of, started
from sampled import PALE, person_id

from seatworthy.steps.judging import judge_day

TODAY = date.today()
BEFORE = (TODAY - timedelta(days=40)).isoformat()


def question(page):
    """What is chosen of the two questions; None where they are not offered."""
    asked = [group for group in page.get("button_group") if "read" in (group.key or "")]
    return asked[0].value if asked else None


def test_whoever_came_to_the_panel_later_is_not_on_the_board_of_a_past_day(brewery):
    came_on = judge_day(brewery).first_on[person_id(brewery, "Gwen")]
    for day, is_there in ((came_on, True), (came_on - timedelta(days=1), False)):
        words = html_of(started("board", on=day.isoformat()))
        assert "Aoife" in words
        assert ("Gwen" in words) is is_there


@pytest.mark.parametrize("name", ["board", "seats"])
def test_of_today_there_is_only_one_question(brewery, name):
    assert question(started(name)) is None


@pytest.mark.parametrize("name", ["board", "record", "seats"])
def test_of_another_day_the_record_of_today_is_asked_first(brewery, name):
    page = started(name, on=BEFORE, who=person_id(brewery, "Aoife"), family=PALE)
    assert question(page) == "today"
    assert "By today&#x27;s record. All answers up to that day were imported on" in html_of(page)


@pytest.mark.parametrize("name", ["board", "record"])
def test_the_question_goes_along_with_its_day(brewery, name):
    page = started(
        name, on=TODAY.isoformat(), read="then", who=person_id(brewery, "Aoife"), family=PALE
    )
    assert question(page) == "then"
    assert f"on={TODAY}&amp;" in html_of(page)
    assert "read=then" in html_of(page)


def test_seats_are_read_as_they_stood_too(brewery):
    page = started("seats", on=TODAY.isoformat(), read="then")
    assert question(page) == "then"
    assert "As the record stood that evening." in html_of(page)


@pytest.mark.parametrize("name", ["board", "record"])
def test_the_way_back_to_today_drops_the_question(brewery, name):
    page = started(name, on=BEFORE, who=person_id(brewery, "Aoife"), family=PALE)
    back = html_of(page).split("Back to today")[0].rsplit("href=", 1)[1]
    assert "on=" not in back
    assert "read=" not in back


@pytest.mark.parametrize("name", ["board", "record"])
def test_before_the_first_import_the_other_question_is_offered(brewery, name):
    page = started(name, on=BEFORE, read="then", family=PALE)
    assert "were imported on" in html_of(page)
    assert "seatworthy import" not in html_of(page)
    button(page, "Ask by today's record").click().run()
    assert not page.exception
    assert "read" not in page.query_params
    assert page.query_params["on"] == BEFORE


def test_choosing_a_question_writes_it_into_the_address(brewery):
    page = started("board", on=BEFORE)
    group = next(g for g in page.get("button_group") if "read" in (g.key or ""))
    group.set_value("then").run()
    assert page.query_params["read"] == "then"
