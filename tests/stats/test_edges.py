import numpy as np
import pytest

from seatworthy.stats.ability.edges import Edge, edge_of
from seatworthy.stats.ability.follow import follow
from seatworthy.stats.ability.settings import DEFAULT

OUTERMOST = DEFAULT.theta_limit - DEFAULT.theta_step / 2


@pytest.mark.parametrize(
    ("low", "high", "edge"),
    [
        (-OUTERMOST, 0, Edge.BELOW),
        (np.nextafter(-OUTERMOST, 0), 0, Edge.WITHIN),
        (0, OUTERMOST, Edge.ABOVE),
        (0, np.nextafter(OUTERMOST, 0), Edge.WITHIN),
        (-OUTERMOST, OUTERMOST, Edge.ANYWHERE),
    ],
)
def test_an_interval_that_reaches_the_outermost_step_is_no_number(low, high, edge):
    assert edge_of(low, high, DEFAULT) == edge


def test_ends_the_wrong_way_round_or_unknown_are_refused():
    with pytest.raises(ValueError, match="must be known and lie at or below"):
        edge_of(1, 0, DEFAULT)
    with pytest.raises(ValueError, match="must be known and lie at or below"):
        edge_of(np.nan, 0, DEFAULT)


@pytest.mark.parametrize(("level", "outcome", "edge"), [(0.02, 0, Edge.BELOW), (60, 2, Edge.ABOVE)])
def test_glasses_all_found_or_all_missed_far_out_touch_an_end(
    name_glasses, pour_blanks, level, outcome, edge
):
    glasses = name_glasses([(20_000, level, outcome)] * 12)
    today = follow(glasses, pour_blanks([]), (1, 1, 1), 20_000).today
    found = edge_of(today.threshold_low_own, today.threshold_high_own, DEFAULT)
    assert found.item() == edge
