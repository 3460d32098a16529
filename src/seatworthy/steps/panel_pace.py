"""How much a panel pours in a year, from what it poured in the last one."""

from dataclasses import dataclass
from datetime import date
from statistics import median

import numpy as np

from seatworthy.evidence import OPEN, Evidence
from seatworthy.rules.calendar_months import months_before
from seatworthy.rules.compound_rules import NAMING, Counted
from seatworthy.rules.rulebook import Item
from seatworthy.steps.judging import Judged

_EPOCH = date(1970, 1, 1)
USUAL_GLASSES, USUAL_SESSIONS, USUAL_BLANKS = 8, 24, 24  # where nothing was poured yet


@dataclass(frozen=True)
class Pace:
    """What one person of this panel gets in a year.

    Attributes:
        glasses: Counted glasses of one critical compound, the median over people and compounds.
        sessions: Days with glasses, the median over people.
        blanks: Blanks, the median over people.
        people: People with glasses in the year.
        is_measured: Whether it is this panel's own pace; a usual one where nothing was poured yet.
    """

    glasses: int
    sessions: int
    blanks: int
    people: int
    is_measured: bool


def panel_pace(judged: Judged, family: str) -> Pace:
    """The pace of the last twelve months in one beer family, whatever rule counts the glasses.

    Args:
        judged: The day judged.
        family: Beer family's key; one without glasses has the usual pace.
    """
    since = (months_before(judged.as_of, 12) - _EPOCH).days
    evidence, critical = judged.evidence, judged.critical.get(family, ())
    served = _glasses_served(evidence, family, critical, judged.rulebook.counted, since)
    days = [_days_of(evidence, person, since) for person in range(len(evidence.people))]
    sessions = [len(own) for own in days if own]
    if not served or not sessions:
        return Pace(USUAL_GLASSES, USUAL_SESSIONS, USUAL_BLANKS, max(len(sessions), 6), False)
    blanks = [
        int(((evidence.blank_person == person) & (evidence.blank_day > since)).sum())
        for person, own in enumerate(days)
        if own
    ]
    return Pace(
        round(median(served)), round(median(sessions)), round(median(blanks)), len(sessions), True
    )


def _glasses_served(
    evidence: Evidence, family: str, critical: tuple[Item, ...], counting: Counted, since: int
) -> list[int]:
    """Counted glasses of each person and critical compound that was served, after a day."""
    compounds = {compound for item in critical for compound in item}
    places = [n for n, compound in enumerate(evidence.compounds) if compound in compounds]
    beers = [n for n, beer in enumerate(evidence.families) if beer == family]
    level = np.round(evidence.level, 6)
    is_counted = (
        (evidence.day > since)
        & (evidence.method == NAMING)
        & (evidence.outcome != OPEN)
        & (counting.lowest_level <= level)
        & (level <= counting.highest_level)
        & np.isin(evidence.compound, places)
        & np.isin(evidence.family, beers)
    )
    cells = np.stack([evidence.person[is_counted], evidence.compound[is_counted]])
    return np.unique(cells, axis=1, return_counts=True)[1].tolist()


def _days_of(evidence: Evidence, person: int, since: int) -> set[int]:
    """Days after a day on which somebody had a glass, spiked or blank."""
    spiked = evidence.day[(evidence.person == person) & (evidence.day > since)]
    blank = evidence.blank_day[(evidence.blank_person == person) & (evidence.blank_day > since)]
    return {*spiked.tolist(), *blank.tolist()}
