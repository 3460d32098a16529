"""What the standings would be if something on record were otherwise; nothing is recorded."""

from seatworthy.steps.closing import standing_changes
from seatworthy.steps.desk import Desk
from seatworthy.steps.judging import judge_day
from seatworthy.steps.reveal_views import StandingChange


def if_set_aside(desk: Desk, sample_id: str) -> tuple[StandingChange, ...]:
    """Which seats and standings of today would change if one preparation were set aside."""
    return standing_changes(judge_day(desk), judge_day(desk, supposed_aside=(sample_id,)))
