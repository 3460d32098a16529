"""A session with rated and yes-or-no glasses beside glasses to be named, for tests."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime, time
from decimal import Decimal

import thursday

from seatworthy.intake.answers import read_answer
from seatworthy.sessions.wish import INTENSITY, YES_NO, WantedSample, WantedSitting, Wish
from seatworthy.steps.answer_rows import answer_rows
from seatworthy.steps.answers import enter_answer
from seatworthy.steps.desk import Desk
from seatworthy.steps.session_parts import Glass
from seatworthy.steps.sheet_views import Entered
from seatworthy.steps.sheets import sheet_key

# A and B are named; C (twice) and D are rated for diacetyl, E and F asked about DMS by yes or no.
SAMPLES = (
    WantedSample("t2n", Decimal(4), "one capsule in 1 l"),
    WantedSample(None, None),
    WantedSample("diacetyl", Decimal(3), "50 µl of stock D in 1 l", 2, INTENSITY, "diacetyl"),
    WantedSample(None, None, "", 1, INTENSITY, "diacetyl"),
    WantedSample("dms", Decimal(3), "60 µl of stock S in 1 l", 1, YES_NO, "dms"),
    WantedSample(None, None, "", 1, YES_NO, "dms"),
)
TASTERS = ("Ada", "Bo", "Carmen", "Dilek", "Emil")


def wish(people: Mapping[str, str], **changed: object) -> Wish:
    """One sitting of five people with seven glasses each."""
    comers = tuple(people[name] for name in TASTERS)
    sitting = WantedSitting("Early", datetime.combine(thursday.TODAY, time(10)), comers)
    asked = replace(thursday.wish(people), samples=SAMPLES, sittings=(sitting,))
    return replace(asked, **changed)


def own(desk: Desk, session_id: str, person: str, mark: str) -> list[Glass]:
    """Somebody's glasses of one jug, from the first served."""
    facts = thursday.facts_of(desk, session_id)
    found = [
        glass
        for glass in facts.glasses
        if glass.person_id == person and facts.samples[glass.planned_sample_id].mark == mark
    ]
    return sorted(found, key=lambda glass: glass.position or 0)


def say(desk: Desk, session_id: str, glass: Glass, said: str) -> Entered:
    """Type an answer to a glass."""
    key = sheet_key(glass.sitting_id, glass.person_id)
    return enter_answer(desk, session_id, key, glass.blind_code or "", said)


def answer_all(desk: Desk, session_id: str, said: Mapping[tuple[str, str], str]) -> None:
    """Answer every glass: by person and letter as ``said`` tells, else rightly; ratings are 6 and 0."""
    facts = thursday.facts_of(desk, session_id)
    people = {person: name.split()[0] for person, name in facts.names.items()}
    with desk.store.recording("answer") as act:
        for glass in facts.glasses:
            sample = facts.samples[glass.planned_sample_id]
            plain = {"naming": "0", INTENSITY: "0", YES_NO: "no"}[glass.method]
            there = {"naming": sample.compound or "", INTENSITY: "6", YES_NO: "yes"}[glass.method]
            right = plain if sample.compound is None else there
            words = said.get((people[glass.person_id], sample.mark), right)
            answer = read_answer(glass.method, words, None)
            act.add_all(answer_rows(glass.serving_id, answer, None))
