"""Levels and times of a preparation in words."""

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal

from seatworthy.phrases import multiple
from seatworthy.sessions.doses.window import prepare_window


def when_words(starts: Sequence[datetime], kind: str, keeps_h: Decimal | None) -> str:
    """``from 22:00 on 25 November to 13:00`` for a vessel that is poured at these starts."""
    earliest, latest = prepare_window(starts, kind, keeps_h)
    if earliest is None:
        return f"by {latest:%H:%M}"
    if earliest > latest:
        return f"too long for one vessel: it keeps {_hours(keeps_h)}, so prepare it fresh for each sitting"
    day = "" if earliest.date() == latest.date() else f" on {earliest.day} {earliest:%B}"
    return f"from {earliest:%H:%M}{day} to {latest:%H:%M}"


def _hours(keeps_h: Decimal | None) -> str:
    hours = Decimal(keeps_h or 0).normalize()
    return f"{hours:f} {'hour' if hours == 1 else 'hours'}"


def level_words(level: Decimal | float | None, off: float | Decimal | None) -> str:
    """``2.7× (2.5 to 2.9)``; without a range where nothing is known of it, "" for a blank."""
    if level is None:
        return ""
    at, half = float(level), float(off or 0)
    text = f"{multiple(at)}"
    if not half:
        return text
    return f"{text} ({multiple(max(at - half, 0))[:-1]} to {multiple(at + half)[:-1]})"
