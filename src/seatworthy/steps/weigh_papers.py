"""What the paper of a weighed call shows."""

from dataclasses import dataclass
from datetime import datetime

from seatworthy.steps.chain_head import chain_head
from seatworthy.steps.desk import Desk
from seatworthy.steps.weigh_views import WeighedView


@dataclass(frozen=True)
class WeighingPaper:
    """One weighed call on paper.

    Attributes:
        view: The weighing.
        brewery: The brewery's name, "" if not stated.
        printed_at: Local moment.
        record: The record it was made from.
    """

    view: WeighedView
    brewery: str
    printed_at: datetime
    record: str


def weighing_paper(desk: Desk, view: WeighedView) -> WeighingPaper:
    """A weighing with what stands around it on paper."""
    rows = desk.store.rows("brewery")
    return WeighingPaper(
        view=view,
        brewery=rows[0]["label"] if rows else "",
        printed_at=datetime.now(desk.time_zone).replace(tzinfo=None),
        record=chain_head(desk).words,
    )
