"""How long the brewery keeps people: what it stated, and who is past it. Nothing goes by itself.

After article 5(1)(e) of the GDPR, from memory: no longer than is needed. How long that is, local law says.
"""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any, Final

from seatworthy.errors import PanelError
from seatworthy.rules.calendar_months import months_after
from seatworthy.steps.desk import Desk
from seatworthy.steps.history_phrases import counted, plain_day
from seatworthy.steps.sentences import joined
from seatworthy.steps.signing import sign

MOST_MONTHS: Final = 600
LOCAL_LAW: Final = "Local law decides how long is right; ask whoever advises you."
_LONGEST: Final = timedelta(days=366 * 10)
_NAMED: Final = 3


@dataclass(frozen=True)
class KeptPerson:
    """When somebody last sat or stated something, and until when they are kept.

    Attributes:
        last_on: Last day on which they sat or stated something; the day they were put on record
            where they did neither.
        ends_on: Last day by what the brewery stated; None where it stated no end.
        longer_until: Last day to which somebody kept them longer; None where nobody did.
        is_past: Whether both are over.
    """

    person_id: str
    name: str
    last_on: date
    ends_on: date | None
    longer_until: date | None
    is_past: bool


def keep_months(desk: Desk) -> int | None:
    """For how many months after their last sitting people are kept; None without an end."""
    found = desk.store.rows("retention")
    return found[0]["keep_months"] if found else None


def state_retention(desk: Desk, months: int | None, by: str | None = None) -> str:
    """State for how long people are kept after their last sitting.

    Args:
        desk: The open store.
        months: Whole months; None states no end.
        by: Who says so.

    Raises:
        PanelError: if it is no number of months that can be meant.
    """
    if months is not None and not 1 <= months <= MOST_MONTHS:
        message = f"{months} months? Name 1 to {MOST_MONTHS}, or leave the field empty. Nothing was recorded."
        raise PanelError(message)
    if months == keep_months(desk):
        return "Nothing new to record."
    with desk.store.recording("retention", counts=False) as act:
        act.add("retention", {"keep_months": months})
        sign(act, by)
    if months is None:
        return "Nobody is reminded of any more; people are kept without an end."
    return (
        f"People are kept for {counted(months, 'month')} after they last sat. Whoever is past that is "
        "shown here; nothing is deleted by itself."
    )


def kept_people(desk: Desk) -> tuple[KeptPerson, ...]:
    """Everybody who was not made anonymous, by name."""
    months, today = keep_months(desk), desk.today()
    return tuple(
        _kept(desk, row, months, today)
        for row in desk.store.rows("kept_people")
        if not row["is_anonymous"]
    )


def past_their_time(desk: Desk) -> tuple[KeptPerson, ...]:
    """Who is kept longer than the brewery says, the longest first; nobody where it says nothing."""
    if keep_months(desk) is None:
        return ()
    past = [person for person in kept_people(desk) if person.is_past]
    return tuple(sorted(past, key=lambda person: (person.last_on, person.name)))


def keep_longer(desk: Desk, person_id: str, until: date, by: str | None = None) -> str:
    """State that somebody is kept until a day although their time is over.

    Raises:
        PanelError: if nobody has this id, or the day is not in the ten years to come.
    """
    person = next((one for one in kept_people(desk) if one.person_id == person_id), None)
    if person is None:
        message = "Nobody on the list of people goes by that id. Nothing was recorded."
        raise PanelError(message)
    today = desk.today()
    if not today < until <= today + _LONGEST:
        message = (
            f"Keep {person.name} until {until}? Name a day after today, {today}, and within ten years. "
            "Nothing was recorded."
        )
        raise PanelError(message)
    with desk.store.recording("kept longer", counts=False) as act:
        act.add("kept_longer", {"person_id": person_id, "until_on": until})
        sign(act, by)
    return f"{person.name} is kept until {plain_day(until)}."


def reminder(desk: Desk) -> str:
    """One line about who is past their time, "" where nobody is."""
    past = past_their_time(desk)
    if not past:
        return ""
    names = [person.name for person in past[:_NAMED]]
    more = len(past) - len(names)
    who = f"{', '.join(names)} and {more} more" if more else joined(names)
    verb = "is" if len(past) == 1 else "are"
    months = keep_months(desk)
    return (
        f"{who} {verb} kept longer than {counted(months or 0, 'month')} after the last sitting: make "
        "anonymous, or say until when to keep."
    )


def _kept(desk: Desk, row: dict[str, Any], months: int | None, today: date) -> KeptPerson:
    days = [row["last_sat_on"]]
    if row["last_stated_at"] is not None:
        days.append(desk.day_of(row["last_stated_at"]))
    last = max((day for day in days if day is not None), default=desk.day_of(row["recorded_at"]))
    ends, longer = months_after(last, months) if months else None, row["kept_until_on"]
    is_past = ends is not None and ends < today and (longer is None or longer < today)
    return KeptPerson(row["person_id"], row["spelling"], last, ends, longer, is_past)
