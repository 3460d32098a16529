"""Levels and times of a preparation in words."""

from collections.abc import Sequence
from datetime import UTC, datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from seatworthy.phrases import level_range, multiple
from seatworthy.sessions.doses.window import prepare_window


def when_words(
    starts: Sequence[datetime],
    kind: str,
    keeps_h: Decimal | None,
    zone: ZoneInfo,
    now: datetime | None = None,
) -> str:
    """``from 22:00 on 25 November to 13:00`` for a vessel that is poured at these starts.

    Args:
        starts: Of the sittings that it serves, in UTC without a zone, so that hours are hours also in
            the night the clocks change.
        kind: Of vessel.
        keeps_h: Hours from dosing to serving; None for a blank.
        zone: The brewery's.
        now: In UTC; where it is given and too early, that is said.
    """
    earliest, latest = prepare_window(starts, kind, keeps_h)
    until = on_the_wall(latest, zone)
    served = on_the_wall(min(starts), zone).date()
    by = f"{until:%H:%M}" + ("" if until.date() == served else f" on {until.day} {until:%B}")
    if earliest is None:
        return f"by {by}"
    if earliest > latest:
        return f"fresh for each sitting: it keeps {_hours(keeps_h)}, too short for one vessel"
    begins = on_the_wall(earliest, zone)
    day = "" if begins.date() == served else f" on {begins.day} {begins:%B}"
    early = " (it is too early now)" if now is not None and now < earliest else ""
    return f"from {begins:%H:%M}{day} to {by}{early}"


def on_the_wall(moment: datetime, zone: ZoneInfo) -> datetime:
    """A moment of the store (UTC, without a zone) as the brewery's clock shows it."""
    return moment.replace(tzinfo=UTC).astimezone(zone).replace(tzinfo=None)


def _hours(keeps_h: Decimal | None) -> str:
    hours = Decimal(keeps_h or 0).normalize()
    return f"{hours:f} {'hour' if hours == 1 else 'hours'}"


def level_words(level: Decimal | float | None, off: float | Decimal | None) -> str:
    """``2.7× (2.5 to 2.9)``; without a range where nothing is known of it, "" for a blank."""
    if level is None:
        return ""
    at, half = float(level), float(off or 0)
    if not half:
        return multiple(at)
    lowest, highest = level_range(at, half)
    return f"{multiple(at)} ({lowest} to {highest})"
