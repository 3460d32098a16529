from datetime import timedelta
from decimal import Decimal

import pytest
import thursday

from seatworthy.errors import PanelError
from seatworthy.steps.answers import enter_answer
from seatworthy.steps.panel import add_people, not_to_serve, people_of_panel
from seatworthy.steps.sessions import session
from seatworthy.steps.table import (
    absent,
    as_planned,
    back,
    came_late,
    left,
    put_codes_on,
    seat_latecomer,
    short,
    sitting_over,
    spilled,
    state_level,
    swapped,
)


@pytest.fixture
def early(desk, session_id):
    return thursday.facts_of(desk, session_id).sittings[0].sitting_id


def glasses(desk, session_id, person):
    return [g for g in thursday.facts_of(desk, session_id).glasses if g.person_id == person]


def guest(desk, name="Ines Prado"):
    add_people(desk, [name], since_on=None)
    return next(p.person_id for p in people_of_panel(desk) if p.name == name)


def test_who_comes_late_keeps_their_glasses(desk, session_id, early, people):
    came_late(desk, early, people["Ada"])
    seated = session(desk, session_id).sittings[0].seated[0]
    assert (seated.state, seated.waiting) == ("late", 8)


def test_who_is_absent_is_not_waited_for_and_can_be_taken_back(desk, session_id, early, people):
    absent(desk, early, people["Ada"])
    assert session(desk, session_id).missing == 64
    back(desk, early, people["Ada"])
    assert session(desk, session_id).missing == 72


def test_who_leaves_keeps_their_answers(desk, session_id, early, people):
    key, code = thursday.code_of(desk, session_id, people["Ada"], "dms")
    enter_answer(desk, session_id, key, code, "dms")
    left(desk, early, people["Ada"])
    view = session(desk, session_id)
    assert view.missing == 64
    with pytest.raises(PanelError, match="they were there"):
        absent(desk, early, people["Ada"])


def test_a_latecomer_takes_the_printed_spare_order(desk, session_id, early):
    spare = thursday.facts_of(desk, session_id).spares_at(early)[1]
    ines = guest(desk)
    said = seat_latecomer(desk, early, ines)
    assert "takes spare order 1" in said
    assert "sets" not in said
    codes = [g.blind_code for g in glasses(desk, session_id, ines)]
    assert codes == [g.blind_code for g in spare]


def test_with_no_spare_left_fresh_codes_are_named(desk, session_id, early):
    seat_latecomer(desk, early, guest(desk))
    other = guest(desk, "Juno Abe")
    said = seat_latecomer(desk, early, other)
    everybody = [g.blind_code for g in thursday.facts_of(desk, session_id).glasses]
    assert "not yet on paper" in said
    assert len(set(everybody)) == len(everybody) == 88


def test_a_latecomer_is_not_given_what_they_are_not_to_be_served(desk, session_id, early):
    ines = guest(desk)
    not_to_serve(desk, ines, ["diacetyl"], [])
    assert "2 of its glasses are left out" in seat_latecomer(desk, early, ines)
    assert len(glasses(desk, session_id, ines)) == 6


def test_nobody_is_seated_twice(desk, early, people, session_id):
    with pytest.raises(PanelError, match="has glasses in this session already"):
        seat_latecomer(desk, early, people["Hana"])


def test_a_spilled_glass_is_not_waited_for_and_can_be_taken_back(desk, session_id, people):
    glass = glasses(desk, session_id, people["Ada"])[0]
    spilled(desk, glass.serving_id)
    assert session(desk, session_id).missing == 71
    as_planned(desk, glass.serving_id)
    assert session(desk, session_id).missing == 72


def test_a_short_glass_still_waits_for_its_answer(desk, session_id, people):
    short(desk, glasses(desk, session_id, people["Ada"])[0].serving_id)
    view = session(desk, session_id)
    assert view.missing == 72
    assert "short" in [g.event for g in view.sittings[0].seated[0].glasses]


def test_the_record_follows_two_swapped_glasses(desk, session_id, people):
    one, other = glasses(desk, session_id, people["Ada"])[:2]
    swapped(desk, one.serving_id, other.serving_id)
    now = {g.serving_id: g.sample_id for g in glasses(desk, session_id, people["Ada"])}
    assert now[one.serving_id] == other.sample_id
    assert now[other.serving_id] == one.sample_id


def test_glasses_of_two_sittings_cannot_be_swapped(desk, session_id, people):
    one = glasses(desk, session_id, people["Ada"])[0]
    other = glasses(desk, session_id, people["Hana"])[0]
    with pytest.raises(PanelError, match="one sitting"):
        swapped(desk, one.serving_id, other.serving_id)


def test_each_sitting_has_its_own_age_and_level(desk, session_id):
    facts = thursday.facts_of(desk, session_id)
    late = next(s for s in facts.samples_at(facts.sittings[1].sitting_id) if s.compound == "dms")
    state_level(desk, late.sample_id, Decimal("2.2"), 240)
    thursday.answer_all(desk, session_id)
    thursday.close(desk, session_id)
    with desk.store.reading() as cursor:
        levels = cursor.execute(
            "select distinct total_level from scored_answer where compound = 'dms' order by 1"
        ).fetchall()
    assert levels == [(2.2,), (3.0,)]


def test_a_blank_has_no_level(desk, session_id):
    facts = thursday.facts_of(desk, session_id)
    blank = next(s for s in facts.samples.values() if s.compound is None)
    with pytest.raises(PanelError, match="Nothing was added"):
        state_level(desk, blank.sample_id, Decimal(2), None)


def test_a_sitting_of_tomorrow_is_not_over(desk, people):
    tomorrow = thursday.TODAY + timedelta(days=1)
    moved = tuple(
        thursday.WantedSitting(s.label, s.starts_at + timedelta(days=1), s.people)
        for s in thursday.wish(people).sittings
    )
    session_id = thursday.planned(desk, people, session_on=tomorrow, sittings=moved)
    with pytest.raises(PanelError, match="still to come"):
        sitting_over(desk, thursday.facts_of(desk, session_id).sittings[0].sitting_id)


@pytest.mark.parametrize("recoded", [True, False])
def test_who_prepares_counts_only_if_somebody_else_put_the_codes_on(desk, people, recoded):
    session_id = thursday.planned(desk, people, preparers=(people["Ada"],))
    if recoded:
        put_codes_on(desk, session_id, people["Bo"])
    thursday.answer_all(desk, session_id)
    thursday.close(desk, session_id)
    with desk.store.reading() as cursor:
        counted = cursor.execute(
            "select count(*) from scored_answer where person_id = ?", [people["Ada"]]
        ).fetchone()
    assert counted == (8 if recoded else 0,)


def test_the_preparer_cannot_put_the_codes_on(desk, people):
    session_id = thursday.planned(desk, people, preparers=(people["Ada"],))
    with pytest.raises(PanelError, match="somebody else must put the codes on"):
        put_codes_on(desk, session_id, people["Ada"])


@pytest.mark.parametrize("comes", [back, came_late])
def test_nobody_is_expected_at_two_sittings_of_one_session(desk, session_id, people, comes):
    early, late = thursday.facts_of(desk, session_id).sittings
    absent(desk, early.sitting_id, people["Ada"])
    seat_latecomer(desk, late.sitting_id, people["Ada"])
    with pytest.raises(PanelError, match="has glasses at Late"):
        comes(desk, early.sitting_id, people["Ada"])
    absent(desk, late.sitting_id, people["Ada"])
    assert "Ada Moran" in comes(desk, early.sitting_id, people["Ada"])
