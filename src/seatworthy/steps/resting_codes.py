"""Codes that rest: somebody may still have them in mind."""

from datetime import date, timedelta

from seatworthy.sessions.codes import CODE_REST_DAYS
from seatworthy.steps.desk import Desk


def resting_codes(desk: Desk, on: date) -> frozenset[str]:
    """Codes of sessions within `CODE_REST_DAYS` of a day, before it or after, spare ones too."""
    rest = timedelta(days=CODE_REST_DAYS)
    rows = desk.store.rows("codes_near", after_on=on - rest, until_on=on + rest)
    return frozenset(row["blind_code"] for row in rows)
