from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seatworthy.errors import DatesUndecided
from seatworthy.intake.dates import DAY_FIRST, ISO, MONTH_FIRST, read_dates

TODAY = date(2026, 11, 25)
DAYS = st.dates(min_value=date(1970, 1, 1), max_value=TODAY)


def dates_of(*cells, order=None, today=TODAY):
    return read_dates("monday.csv", list(enumerate(cells, start=2)), today, order)


@pytest.mark.parametrize(
    "text",
    [
        "2026-03-25",
        "2026/3/25",
        "2026.03.25",
        "2026-03-25 18:30",
        "2026-03-25T00:00:00",
        "25/03/2026",
        "25-3-2026",
        "25.03.2026",
        "25. 3. 2026",
        "03/25/2026",
        "25 March 2026",
        "25 Mar 2026",
        "25-Mar-2026",
        "25th of March 2026".replace("of ", ""),
        "March 25, 2026",
        "Wed 25 Mar 2026",
        date(2026, 3, 25),
    ],
)
def test_one_day_in_every_dress(text):
    assert dates_of(text).by_cell == {text: date(2026, 3, 25)}


@settings(deadline=None)
@given(st.lists(DAYS, min_size=1, max_size=8))
def test_iso_dates_come_back_as_they_were(days):
    found = dates_of(*(day.isoformat() for day in days))
    assert found.order == ISO
    assert set(found.by_cell.values()) == set(days)


@pytest.mark.parametrize(
    ("written", "proof", "order"),
    [("%d/%m/%Y", "25/12/2020", DAY_FIRST), ("%m/%d/%Y", "12/25/2020", MONTH_FIRST)],
)
@settings(deadline=None)
@given(days=st.lists(DAYS, max_size=8))
def test_one_plain_date_decides_for_the_whole_file(written, proof, order, days):
    found = dates_of(*(day.strftime(written) for day in days), proof)
    assert found.order == order
    assert set(found.by_cell.values()) == {*days, date(2020, 12, 25)}


def test_a_file_that_cannot_decide_asks_one_question():
    with pytest.raises(DatesUndecided, match="3 April 2026 or 4 March 2026.*--dates day-first"):
        dates_of("03/04/2026", "05/05/2026")


@pytest.mark.parametrize("said", ["day-first", "day first"])
def test_the_user_decides_where_the_file_cannot(said):
    assert dates_of("03/04/2026", order=said).by_cell["03/04/2026"] == date(2026, 4, 3)
    assert dates_of("03/04/2026", order="month first").order == MONTH_FIRST


def test_dates_that_read_the_same_both_ways_need_no_question():
    assert dates_of("05/05/2026").by_cell["05/05/2026"] == date(2026, 5, 5)


def test_points_between_mean_day_first_unless_the_file_says_otherwise():
    assert dates_of("03.04.2026").by_cell["03.04.2026"] == date(2026, 4, 3)
    assert dates_of("03.04.2026", "04.30.2026").order == MONTH_FIRST


def test_dates_in_both_orders_are_a_fault_of_the_fewer():
    found = dates_of("25/03/2026", "26/03/2026", "03/27/2026")
    assert found.why_not == {
        "03/27/2026": "is month first, while the file is read day first: “03/27/2026”; write every date of the "
        "file alike, best like 2026-03-05."
    }


@pytest.mark.parametrize(
    "text", ["31/02/2026", "2026-02-30", "29/02/2026", "31 Feb 2026", "2026-13-01"]
)
def test_days_that_do_not_exist_are_refused(text):
    assert "no day of the calendar" in dates_of(text).why_not[text]


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("25/03/26", "four digits"),
        ("25 Mar 26", "four digits"),
        ("1969-12-31", "before 1970"),
        ("25 März 2026", "month in English"),
        ("45000", "must be a date"),
        ("last week", "must be a date"),
    ],
)
def test_what_is_no_date_is_refused(text, reason):
    assert reason in dates_of(text).why_not[text]


def test_today_is_the_last_possible_day():
    tomorrow = (TODAY + timedelta(days=1)).isoformat()
    found = dates_of(TODAY.isoformat(), tomorrow)
    assert found.by_cell == {TODAY.isoformat(): TODAY}
    assert "lies in the future" in found.why_not[tomorrow]


def test_text_among_real_dates_betrays_a_half_converted_column():
    found = dates_of(date(2026, 4, 3), "25/03/2026")
    assert "the wrong way round" in found.why_not["25/03/2026"]


def test_an_order_that_is_none_is_a_slip_of_the_programmer():
    with pytest.raises(ValueError, match="order must be"):
        dates_of("2026-03-25", order="year last")


@settings(deadline=None)
@given(st.text(max_size=30))
def test_any_text_is_a_date_or_has_a_reason(text):
    try:
        found = dates_of(text)
    except DatesUndecided:
        return
    assert (text in found.by_cell) != (text in found.why_not)
