from decimal import Decimal

import pytest

from seatworthy.sessions.doses.equipment import BOTTLE, KEG, PITCHER
from seatworthy.sessions.doses.keeping import keeps_h, left_share

NONE = (None, None)


@pytest.mark.parametrize(
    ("keeping", "level", "kind", "hours"),
    [("hours", 3, BOTTLE, 12), ("hours", 1, BOTTLE, 6), ("day", 1, KEG, 24), ("days", 3, KEG, 72),
     ("days", "0.5", BOTTLE, 36), ("hours", 3, PITCHER, "0.5"), ("days", 1, PITCHER, 12), ("", 3, BOTTLE, 12)],
)  # fmt: skip
def test_hours_follow_from_class_level_and_vessel(keeping, level, kind, hours):
    """Common practice, no source."""
    assert keeps_h(keeping, Decimal(level), kind, NONE) == Decimal(hours)


def test_what_the_brewery_states_stands_before_ours():
    own = (Decimal(48), Decimal(20))
    assert [keeps_h("hours", Decimal(x), BOTTLE, own) for x in (3, 1)] == [48, 20]


def test_hours_stated_for_usual_levels_do_not_stretch_those_of_weak_ones():
    assert keeps_h("days", Decimal(1), BOTTLE, (Decimal(100), None)) == 36
    assert keeps_h("days", Decimal(1), BOTTLE, (Decimal(10), None)) == 10


def test_an_unknown_class_is_refused():
    with pytest.raises(ValueError, match="'weeks'"):
        keeps_h("weeks", Decimal(3), BOTTLE, NONE)


@pytest.mark.parametrize(("hours", "share"), [(0, 1), (6, 0.5), (12, 0.25), (3, 0.5**0.5)])
def test_after_each_half_life_half_is_left(hours, share):
    """Arithmetic, half-life 6 hours."""
    assert left_share(hours, 6) == pytest.approx(share)


@pytest.mark.parametrize(("hours", "half_life"), [(-1, 6), (1, 0)])
def test_times_that_cannot_be_are_refused(hours, half_life):
    with pytest.raises(ValueError, match="half-life"):
        left_share(hours, half_life)
