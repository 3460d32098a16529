"""How much a panel pours in a year, from what it poured in the last one."""

from dataclasses import dataclass
from datetime import date
from statistics import median

from seatworthy.rules.calendar_months import months_before
from seatworthy.steps.judging import Judged

_EPOCH = date(1970, 1, 1)
USUAL_GLASSES, USUAL_SESSIONS, USUAL_BLANKS = 8, 24, 24  # where nothing was poured yet


@dataclass(frozen=True)
class Pace:
    """What one person of this panel gets in a year.

    Attributes:
        glasses: Counted glasses of one critical compound, the median over people and compounds.
        sessions: Sessions attended, the median.
        blanks: Blanks, the median.
        people: People with answers in the year.
        is_measured: Whether it is this panel's own pace; a usual one where nothing was poured yet.
    """

    glasses: int
    sessions: int
    blanks: int
    people: int
    is_measured: bool


def panel_pace(judged: Judged, family: str) -> Pace:
    """The pace of the last twelve months in one beer family.

    Args:
        judged: The day judged.
        family: Beer family's key.
    """
    evidence = judged.evidence
    critical = {k for item in judged.critical.get(family, ()) for k in item}
    days = [
        day.glasses for (_, compound, beers), day in judged.days.items()
        if beers == family and compound in critical and day.glasses
    ]  # fmt: skip
    seen = [person for person in judged.people if person in judged.attended]
    if not days or not seen:
        return Pace(USUAL_GLASSES, USUAL_SESSIONS, USUAL_BLANKS, max(len(seen), 6), False)
    since = (months_before(judged.as_of, 12) - _EPOCH).days
    sessions, blanks = [], []
    for place, person in enumerate(evidence.people):
        if person in judged.attended:
            own = (evidence.person == place) & (evidence.day > since)
            sessions.append(len(set(evidence.day[own].tolist())))
            blank = (evidence.blank_person == place) & (evidence.blank_day > since)
            blanks.append(int(blank.sum()))
    return Pace(
        round(median(days)), max(round(median(sessions)), 1), round(median(blanks)), len(seen), True
    )
