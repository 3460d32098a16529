"""A time on the brewery's clock becomes a moment in UTC, also on the two nights the clocks change."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from seatworthy.errors import PlanRefused
from seatworthy.sessions.wording import at_start, moment_words

_MINUTE = timedelta(minutes=1)


@dataclass(frozen=True)
class Start:
    """When something starts.

    Attributes:
        utc: The moment in UTC, without a zone, as the store counts.
        note: What the reader should know of it; "" on ordinary days.
    """

    utc: datetime
    note: str


def start_of(local: datetime, zone: ZoneInfo) -> Start:
    """Say which moment a time on the brewery's clock is.

    A time that comes twice, because the clocks go back, is taken as the first.

    Args:
        local: Time on the wall, without a zone.
        zone: The brewery's.

    Raises:
        PlanRefused: if the clocks jump over that time; names the nearest times that exist.
        ValueError: if `local` carries a zone.
    """
    if local.tzinfo is not None:
        message = f"a time on the wall carries no zone, got {local}"
        raise ValueError(message)
    if not _exists(local, zone):
        raise PlanRefused([_skipped(local, zone)])
    return Start(_utc(local, zone), _comes_twice(local, zone))


def _utc(local: datetime, zone: ZoneInfo) -> datetime:
    return local.replace(tzinfo=zone, fold=0).astimezone(UTC).replace(tzinfo=None)


def _exists(local: datetime, zone: ZoneInfo) -> bool:
    back = _utc(local, zone).replace(tzinfo=UTC).astimezone(zone)
    return back.replace(tzinfo=None, fold=0) == local.replace(fold=0)


def _skipped(local: datetime, zone: ZoneInfo) -> str:
    whole = local.replace(second=0, microsecond=0)
    before = next(t for t in _minutes(whole, -_MINUTE) if _exists(t, zone))
    after = next(t for t in _minutes(whole, _MINUTE) if _exists(t, zone))
    return (
        f"{at_start(moment_words(local))} does not exist in {zone.key}, where the clocks go "
        f"forward then: choose {moment_words(before)} or {moment_words(after)}, or a time outside "
        "these."
    )


def _minutes(start: datetime, step: timedelta) -> Iterator[datetime]:
    """Whole minutes from `start` on; it is a gap that ends, at most a day long so far."""
    while True:
        yield start
        start += step


def _comes_twice(local: datetime, zone: ZoneInfo) -> str:
    first = local.replace(tzinfo=zone, fold=0).utcoffset()
    second = local.replace(tzinfo=zone, fold=1).utcoffset()
    if first == second:
        return ""
    return (
        f"{moment_words(local)} comes twice in {zone.key}, since the clocks go back then; the first "
        "of the two is meant."
    )
