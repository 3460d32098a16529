from datetime import timedelta
from decimal import Decimal

import pytest

from seatworthy.errors import PanelError
from seatworthy.steps.shelf_history import shelf_history
from seatworthy.steps.shelf_keeping import Keeping, keeping_on, state_keeping


def test_a_half_life_counts_from_its_day_until_it_is_taken_back(desk):
    today = desk.today()
    before = today - timedelta(days=30)
    state_keeping(desk, "dms", "2,5", before)
    state_keeping(desk, "dms", "", today)
    assert keeping_on(desk, before - timedelta(days=1)) == {}
    assert keeping_on(desk, before) == {"dms": Keeping(Decimal("2.500"), before)}
    assert keeping_on(desk, today) == {}


def test_the_same_statement_twice_is_recorded_once(desk):
    state_keeping(desk, "dms", "4", desk.today())
    version = desk.version
    assert state_keeping(desk, "dms", "4.0", desk.today()).startswith("Nothing new")
    assert desk.version == version


@pytest.mark.parametrize(
    ("compound", "hours", "days_ahead", "message"),
    [
        ("dms", "soon", 0, "The number of hours .*Nothing was recorded"),
        ("dms", "0.05", 0, "between 0.1 and 100000 hours, got 0.05"),
        ("dms", "100001", 0, "between 0.1 and 100000 hours"),
        ("dms", "-3", 0, "Nothing was recorded"),
        ("marzipan", "3", 0, "Choose a compound"),
        ("dms", "3", 1, "from today at the latest"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_recorded(desk, compound, hours, days_ahead, message):
    version = desk.version
    with pytest.raises(PanelError, match=message):
        state_keeping(desk, compound, hours, desk.today() + timedelta(days=days_ahead))
    assert desk.version == version


@pytest.mark.parametrize("hours", ["0.1", "100000"])
def test_the_limits_themselves_are_taken(desk, hours):
    state_keeping(desk, "dms", hours, desk.today())
    assert keeping_on(desk, desk.today())["dms"].half_life_h == Decimal(hours)


def test_the_history_says_who_stated_it_and_what_was_said(desk):
    state_keeping(desk, "dms", "4", desk.today())
    line = shelf_history(desk)[0]
    assert line.what == "Loss of DMS once dosed"
    assert line.value.startswith("half is gone after 4 hours, from ")
