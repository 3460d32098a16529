"""Of a past day: by today's record, or as the record stood that evening."""

from datetime import UTC, datetime, timedelta

import pytest
import thursday
from written import flight, results

from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.desk import open_desk
from seatworthy.steps.two_questions import is_empty_then, recorded_words


def real_today():
    return datetime.now(UTC).date()


@pytest.fixture(scope="module")
def imported(tmp_path_factory):
    """Two glasses of three weeks ago and one of today, all brought in today."""
    folder = tmp_path_factory.mktemp("imported")
    desk = open_desk(folder / "panel.duckdb")
    today = real_today()
    desk.today = lambda: today
    rows = [
        *flight(f"{today - timedelta(weeks=3)}", "Ada", {"dms": "dms", "blank": "nothing"}),
        *flight(f"{today}", "Ada", {"dms": "dms"}),
    ]
    bring_in_results(desk, results(folder / "rows.csv", rows))
    yield desk
    desk.close()


def words(desk, weeks, *, then=False):
    day = desk.today() - timedelta(weeks=weeks)
    return recorded_words(desk, day, desk.end_of(day) if then else None)


def test_of_imported_history_all_was_recorded_later(imported):
    day = imported.today()
    assert words(imported, 2) == (
        f"By today's record. All answers up to that day were imported on {day.day} {day:%B %Y}."
    )


def test_as_the_record_stood_imported_history_is_left_out(imported):
    assert words(imported, 2, then=True) == (
        "As the record stood that evening. "
        "2 of 2 answers up to that day were recorded later; they are left out."
    )


def test_of_today_everything_is_on_record(imported):
    assert words(imported, 0) == "By today's record; all of it was on record that evening."


def test_as_the_record_stands_today_nothing_is_left_out(imported):
    assert words(imported, 0, then=True) == "As the record stood that evening."


@pytest.mark.parametrize(("weeks", "expected"), [(2, True), (0, False)])
def test_imported_history_was_not_there_that_evening(imported, weeks, expected):
    assert is_empty_then(imported, imported.today() - timedelta(weeks=weeks)) is expected


def test_before_the_first_glass_nothing_is_missing_from_the_record(imported):
    assert not is_empty_then(imported, imported.today() - timedelta(weeks=4))


def test_of_a_store_without_answers_nothing_was_recorded_later(desk):
    assert words(desk, 0) == "By today's record; all of it was on record that evening."


@pytest.fixture
def planned(desk, tmp_path):
    """A session planned and answered on the real day."""
    today = real_today()
    people = thursday.set_up(desk, tmp_path, today)
    sittings = tuple(
        thursday.replace(one, starts_at=datetime.combine(today, one.starts_at.time()))
        for one in thursday.wish(people).sittings
    )
    session_id = thursday.planned(desk, people, session_on=today, sittings=sittings)
    return desk, session_id


def test_a_planned_session_was_on_record_the_evening_it_was_answered(planned):
    desk, session_id = planned
    thursday.answer_all(desk, session_id)
    thursday.close(desk, session_id)
    assert words(desk, 0) == "By today's record; all of it was on record that evening."


def test_answers_to_a_planned_session_typed_later_are_not_called_imported(planned):
    desk, session_id = planned
    thursday.answer_all(desk, session_id)
    day = desk.today()
    desk.store.cursor().execute("update answer set recorded_at = recorded_at + interval 2 day")
    later = day + timedelta(days=2)
    assert words(desk, 0) == (
        "By today's record. All answers up to that day were recorded later, the last on "
        f"{later.day} {later:%B %Y}."
    )


def test_a_planned_session_without_answers_leaves_nothing_out(planned):
    desk, _ = planned
    assert not is_empty_then(desk, desk.today())
