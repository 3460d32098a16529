"""Two questions about a past day: by today's record, and as the record stood that evening."""

from datetime import date, datetime

from seatworthy.rules.compound import day_text
from seatworthy.steps.desk import Desk


def recorded_words(desk: Desk, day: date, known_at: datetime | None) -> str:
    """Which of the two questions a page answers, and how far the answers would differ.

    Args:
        desk: The open store.
        day: The day asked.
        known_at: The moment up to which the record is read (UTC); None for today's record.
    """
    (found,) = desk.store.rows("recorded_later", until_on=day, end_of_day=desk.end_of(day))
    answers, later = found["answers"], found["later"]
    if known_at is not None:
        left_out = (
            f"{later} of {answers} answers up to that day were recorded later; they are left out."
        )
        return f"As the record stood that evening. {left_out if later else ''}".strip()
    if not later:
        return "By today's record; all of it was on record that evening."
    what = "All" if later == answers else f"{later} of {answers}"
    how = "imported on" if found["is_imported"] else "recorded later, the last on"
    day = day_text(desk.day_of(found["later_at"]))
    return f"By today's record. {what} answers up to that day were {how} {day}."


def is_empty_then(desk: Desk, day: date) -> bool:
    """Whether nothing was on record on the evening of a day although something is by now."""
    (found,) = desk.store.rows("recorded_later", until_on=day, end_of_day=desk.end_of(day))
    return bool(found["answers"]) and found["answers"] == found["later"]
