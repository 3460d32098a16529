"""When to prepare what, in words: how long it keeps, the earliest and the latest time."""

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Final

from seatworthy.paper.wording import letters
from seatworthy.steps.paper_views import PaperSample

_ON_THE_DAY: Final = Decimal(12)  # what keeps no longer than this is not left over night

_Times = tuple[Decimal | None, datetime | None, datetime | None]


def when_to_prepare(samples: Sequence[PaperSample], session_on: date) -> list[str]:
    """One sentence for each group of samples that have the same times.

    Args:
        samples: Samples with a recipe; others are left out.
        session_on: The day of the session.
    """
    groups: dict[_Times, list[PaperSample]] = {}
    for sample in samples:
        if sample.recipe is not None:
            recipe = sample.recipe
            times = (recipe.keeps_h, recipe.prepare_from, recipe.prepare_until)
            groups.setdefault(times, []).append(sample)
    return [_sentence(found, times, session_on) for times, found in groups.items()]


def _sentence(samples: Sequence[PaperSample], times: _Times, day: date) -> str:
    """``E keeps 12 hours: prepare on the day, by 10:00.``."""
    keeps_h, earliest, latest = times
    keeping = ""
    if keeps_h is not None:
        keeping = f" {'keeps' if len(samples) == 1 else 'keep'} {_hours(keeps_h)}"
    marks = letters([sample.mark for sample in samples])
    return f"{marks}{keeping}: prepare {_span(keeps_h, earliest, latest, day)}."


def _span(
    keeps_h: Decimal | None, earliest: datetime | None, latest: datetime | None, day: date
) -> str:
    """From when until when; an hour of the night before is no time to begin."""
    is_for_today = keeps_h is not None and keeps_h <= _ON_THE_DAY
    by = f", by {_moment(latest, day)}" if latest else ""
    if earliest is None:
        return f"at any time{by}"
    if earliest.date() < day and is_for_today:
        return f"on the day{by}"
    start = f"{'on the day, ' if earliest.date() >= day else ''}from {_moment(earliest, day)}"
    if latest is None:
        return start
    on_the_day = " on the day" if earliest.date() < day == latest.date() else ""
    return f"{start} until {_moment(latest, day)}{on_the_day}"


def _moment(moment: datetime, day: date) -> str:
    """``10:15`` on the session's own day; with its day otherwise."""
    if moment.date() == day:
        return f"{moment:%H:%M}"
    if moment.date() == day - timedelta(days=1):
        return f"{moment:%H:%M} the day before"
    return f"{moment:%H:%M} on {moment:%A} {moment.day} {moment:%B}"


def _hours(keeps_h: Decimal) -> str:
    return f"{float(keeps_h):g} {'hour' if keeps_h == 1 else 'hours'}"
