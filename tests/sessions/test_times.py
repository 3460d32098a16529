from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from seatworthy.errors import PlanRefused
from seatworthy.sessions.times import start_of

DUBLIN = ZoneInfo("Europe/Dublin")


@pytest.mark.parametrize(
    ("local", "utc"),
    [
        (datetime(2026, 11, 12, 14), datetime(2026, 11, 12, 14)),
        (datetime(2026, 7, 2, 14), datetime(2026, 7, 2, 13)),
        (datetime(2026, 7, 2, 0, 30), datetime(2026, 7, 1, 23, 30)),
        (datetime(2026, 3, 29, 0, 59), datetime(2026, 3, 29, 0, 59)),
        (datetime(2026, 3, 29, 2, 0), datetime(2026, 3, 29, 1, 0)),
    ],
)
def test_a_time_on_the_wall_is_a_moment_in_utc(local, utc):
    assert start_of(local, DUBLIN).utc == utc


def test_an_ordinary_time_needs_no_note():
    assert start_of(datetime(2026, 11, 12, 14), DUBLIN).note == ""


@pytest.mark.parametrize("minute", [0, 30, 59])
def test_a_time_the_clocks_jump_over_is_refused_with_its_neighbours(minute):
    words = (
        f"01:{minute:02} on 29 March 2026 does not exist in Europe/Dublin.*choose 00:59 on 29 "
        "March 2026 or 02:00 on 29 March 2026"
    )
    with pytest.raises(PlanRefused, match=words):
        start_of(datetime(2026, 3, 29, 1, minute), DUBLIN)


@pytest.mark.parametrize(("hour", "minute"), [(1, 0), (1, 30), (1, 59)])
def test_a_time_that_comes_twice_is_the_first_of_them(hour, minute):
    utc = datetime(2026, 10, 25, 0, minute)
    assert start_of(datetime(2026, 10, 25, hour, minute), DUBLIN).utc == utc


def test_a_time_that_comes_twice_says_so():
    note = start_of(datetime(2026, 10, 25, 1, 30), DUBLIN).note
    assert note.startswith("01:30 on 25 October 2026 comes twice in Europe/Dublin")


@pytest.mark.parametrize(("hour", "minute"), [(0, 59), (2, 0)])
def test_a_time_beside_the_doubled_hour_comes_once(hour, minute):
    assert start_of(datetime(2026, 10, 25, hour, minute), DUBLIN).note == ""


def test_the_second_of_two_equal_times_is_taken_as_the_first_also_if_it_is_meant():
    second = datetime(2026, 10, 25, 1, 30, fold=1)
    assert start_of(second, DUBLIN).utc == datetime(2026, 10, 25, 0, 30)


def test_a_whole_day_that_was_skipped_names_the_days_around_it():
    """Samoa went from 29 to 31 December 2011 when it changed sides of the date line."""
    with pytest.raises(PlanRefused, match="23:59 on 29 December 2011 or 00:00 on 31 December"):
        start_of(datetime(2011, 12, 30, 14), ZoneInfo("Pacific/Apia"))


def test_a_time_that_carries_a_zone_is_a_slip():
    with pytest.raises(ValueError, match="carries no zone"):
        start_of(datetime(2026, 11, 12, 14, tzinfo=UTC), DUBLIN)
