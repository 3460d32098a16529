"""What lies beside a record's compounds: history, ratings, and whether something was lost."""

from datetime import date, datetime

from seatworthy.steps.alarms import alarm_of
from seatworthy.steps.desk import Desk
from seatworthy.steps.figures_views import PersonFigures
from seatworthy.steps.judging import judge_day
from seatworthy.steps.known_beer_views import known_beers
from seatworthy.steps.own_history import own_history
from seatworthy.steps.ratings import rating_rows


def person_figures(
    desk: Desk, person_id: str, as_of: date | None = None, known_at: datetime | None = None
) -> PersonFigures | None:
    """One panellist over all compounds and beers; None where nobody has this id.

    Args:
        desk: The open store.
        person_id: Whose.
        as_of: The day; None for today.
        known_at: Read the record as it stood then (UTC); None for today's record.
    """
    judged = judge_day(desk, as_of, known_at)
    if person_id not in judged.people:
        return None
    alarm = alarm_of(desk, judged, person_id)
    return PersonFigures(
        history=own_history(desk, judged, person_id),
        ratings=rating_rows(desk, judged, person_id),
        alarm=alarm.sentence if alarm else "",
        beers=known_beers(desk, judged, person_id),
    )
