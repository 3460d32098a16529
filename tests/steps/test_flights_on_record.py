"""Sessions of which everybody tastes only some glasses, planned and kept, and balance over sessions."""

from collections import Counter
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest
import thursday

from seatworthy.sessions.wish import Limits, WantedSample
from seatworthy.steps.past_flights import past_flights
from seatworthy.steps.planning import record_plan, wish_again
from seatworthy.steps.table import absent

SPIKED = ("diacetyl", "dms", "acetaldehyde", "t2n")
SAMPLES = (
    *(WantedSample(compound, Decimal(level)) for compound in SPIKED for level in (2, 4)),
    WantedSample(None, None, glasses=2),
)
FLIGHT = 5


def wish(people, **changed):
    """Ten glasses of which each tastes five; four people come, to one sitting."""
    sitting = thursday.wish(people).sittings[0]
    few = tuple(list(people.values())[:4])
    asked = {
        "samples": SAMPLES, "flight": FLIGHT, "spares": 0, "limits": Limits(10, Decimal(8), Decimal("0.2")),
        "sittings": (replace(sitting, people=few),),
    }  # fmt: skip
    return thursday.wish(people, **{**asked, **changed})


@pytest.fixture
def shared_out(desk, people):
    return record_plan(desk, wish(people))


def tasted(desk, session_id):
    """What each person gets, as compound and level."""
    facts = thursday.facts_of(desk, session_id)
    found = {}
    for glass in facts.glasses:
        sample = facts.samples[glass.sample_id]
        found.setdefault(glass.person_id, Counter())[sample.compound] += 1
    return found


def test_everybody_tastes_as_many_as_were_asked_for_and_a_blank(desk, shared_out):
    for flight in tasted(desk, shared_out).values():
        assert flight.total() == FLIGHT
        assert flight[None] >= 1


def test_each_jug_comes_to_as_many_people_within_one(desk, shared_out):
    facts = thursday.facts_of(desk, shared_out)
    spiked = Counter(g.sample_id for g in facts.glasses if facts.samples[g.sample_id].compound)
    assert len(spiked) == 8
    assert max(spiked.values()) - min(spiked.values()) <= 1


def test_the_same_session_again_is_shared_out_again(desk, shared_out):
    assert wish_again(desk, shared_out).flight == FLIGHT


def test_what_somebody_did_not_get_comes_the_next_time(desk, people, shared_out):
    first = tasted(desk, shared_out)
    day = thursday.TODAY + timedelta(days=1)
    sitting = wish(people).sittings[0]
    later = replace(sitting, starts_at=sitting.starts_at + timedelta(days=1))
    again = record_plan(desk, wish(people, session_on=day, sittings=(later,), label="Friday"))
    assert any(first[person][compound] == 0 for person in first for compound in SPIKED)
    for person, flight in tasted(desk, again).items():
        both = first[person] + flight
        assert all(both[compound] for compound in SPIKED), (person, both)


def test_what_is_past_is_read_by_person_place_and_company(desk, people, shared_out):
    past = past_flights(desk, thursday.TODAY + timedelta(days=1))
    ada = people["Ada"]
    assert sum(n for (who, _, _), n in past.places.items() if who == ada) == FLIGHT
    assert past_flights(desk, thursday.TODAY).places == {}  # the day itself is not past
    assert (
        sum(n for (who, _), n in past.served.items() if who == ada)
        == FLIGHT - tasted(desk, shared_out)[ada][None]
    )


def test_who_was_absent_had_nothing(desk, people, shared_out):
    sitting = thursday.facts_of(desk, shared_out).sittings[0].sitting_id
    absent(desk, sitting, people["Ada"])
    past = past_flights(desk, thursday.TODAY + timedelta(days=1))
    assert not any(who == people["Ada"] for who, _ in past.served)
    assert any(who == people["Bo"] for who, _ in past.served)
