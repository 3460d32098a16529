"""When a vessel is prepared: in time for the first sitting that it serves, fresh for the last."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Final

from seatworthy.sessions.doses.equipment import PITCHER

# A bottle or keg rests cold after the dose, so that it spreads; a pitcher is stirred and poured.
# Ours, common practice, no source.
REST: Final = timedelta(minutes=60)
STIR: Final = timedelta(minutes=15)


def prepare_window(
    starts: Sequence[datetime], kind: str, keeps_h: Decimal | None
) -> tuple[datetime | None, datetime]:
    """Earliest and latest local time to prepare a vessel that is poured at these starts.

    Args:
        starts: Of the sittings that it serves, at least one.
        kind: One of `equipment.KINDS`.
        keeps_h: Hours from dosing to serving; None for a blank, which keeps any time.

    Returns:
        None for the earliest if it keeps any time. The latest lies before the earliest where one
        vessel can't stay fresh for all of them.
    """
    latest = min(starts) - (STIR if kind == PITCHER else REST)
    if keeps_h is None:
        return None, latest
    return max(starts) - timedelta(hours=float(keeps_h)), latest
