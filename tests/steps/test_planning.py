from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal

import pytest
import thursday

from seatworthy.errors import PlanRefused
from seatworthy.steps.closing import call_off
from seatworthy.steps.panel import not_to_serve
from seatworthy.steps.papers import papers
from seatworthy.steps.planning import (
    first_wish,
    plan_choices,
    preview,
    record_plan,
    wish_again,
)
from seatworthy.steps.safekeeping import verify
from seatworthy.steps.shelf import shelf


def codes(desk, session_id):
    facts = thursday.facts_of(desk, session_id)
    return {g.blind_code for g in facts.glasses} | {g.blind_code for g in facts.spares}


def test_an_empty_store_says_what_a_plan_needs_first(desk):
    assert "a base beer" in plan_choices(desk).hindrance


def test_once_a_session_is_planned_the_shelf_stops_saying_what_comes_first(desk, people):
    assert [thing.is_done for thing in shelf(desk).first_things] == [True, True, True, True, False]
    thursday.planned(desk, people)
    assert shelf(desk).first_things == ()


def test_the_first_wish_is_for_the_next_thursday_and_everybody(desk, people):
    wish = first_wish(desk)
    assert wish.session_on.weekday() == 3
    assert set(wish.sittings[0].people) == set(people.values())


def test_a_recorded_plan_holds_every_glass_and_every_spare(desk, people):
    session_id = thursday.planned(desk, people)
    facts = thursday.facts_of(desk, session_id)
    assert len(facts.glasses) == 72
    assert len(facts.spares) == 16
    assert len(codes(desk, session_id)) == 88


def test_the_same_seed_gives_the_same_plan(desk, people):
    first = thursday.planned(desk, people)
    before = codes(desk, first)
    call_off(desk, first)
    assert codes(desk, thursday.planned(desk, people, label="Again")) == before


def test_no_code_comes_again_within_thirty_days(desk, people):
    first = thursday.planned(desk, people)
    day = thursday.TODAY + timedelta(days=30)
    sittings = tuple(
        replace(s, starts_at=s.starts_at + timedelta(days=30))
        for s in thursday.wish(people).sittings
    )
    second = thursday.planned(desk, people, session_on=day, sittings=sittings)
    assert not codes(desk, first) & codes(desk, second)


def test_codes_run_out_with_a_sentence_and_nothing_is_recorded(desk, people):
    for number in range(9):
        thursday.planned(desk, people, label=f"Panel {number}", seed=number)
    with pytest.raises(PlanRefused, match="are left, since no code is used again within 30 days"):
        thursday.planned(desk, people, label="One too many")
    assert len(desk.store.rows("session_list")) == 9


def test_two_sessions_of_one_name_on_one_day_are_refused(desk, people):
    thursday.planned(desk, people)
    with pytest.raises(PlanRefused, match="Give this one another name"):
        thursday.planned(desk, people, label="thursday PANEL")


def test_a_compound_without_a_working_threshold_is_refused_with_the_books_hint(desk, people):
    samples = (thursday.WantedSample("geosmin", Decimal(3)),)
    with pytest.raises(PlanRefused, match="no working threshold"):
        preview(desk, thursday.wish(people, samples=samples))


def test_what_somebody_is_not_to_be_served_is_refused_or_left_out(desk, people):
    not_to_serve(desk, people["Hana"], ["dms"], [])
    with pytest.raises(PlanRefused, match="Hana"):
        preview(desk, thursday.wish(people))
    session_id = thursday.planned(desk, people, leaves_out=True)
    facts = thursday.facts_of(desk, session_id)
    served = {
        facts.samples[g.sample_id].compound for g in facts.glasses if g.person_id == people["Hana"]
    }
    assert "dms" not in served
    assert "Hana Sato is not to be served" in " ".join(papers(desk, session_id).not_served)


def test_a_plan_is_repeated_with_fresh_codes(desk, people):
    first = thursday.planned(desk, people)
    again = wish_again(desk, first)
    assert again.session_on == thursday.TODAY + timedelta(weeks=4)
    assert again.samples == thursday.wish(people).samples
    assert not codes(desk, first) & codes(desk, record_plan(desk, again))


def test_the_hour_that_the_clocks_skip_is_refused(desk, people):
    desk.today = lambda: thursday.TODAY
    day = datetime(2027, 3, 28, 1, 30)
    sittings = (thursday.WantedSitting("Night", day, (people["Ada"],)),)
    with pytest.raises(PlanRefused, match="does not exist in Europe/Dublin"):
        preview(desk, thursday.wish(people, session_on=day.date(), sittings=sittings))


def test_the_hour_that_comes_twice_is_taken_as_the_first(desk, people):
    desk.today = lambda: datetime(2026, 10, 1).date()
    day = datetime(2026, 10, 25, 1, 30)
    sittings = (thursday.WantedSitting("Night", day, (people["Ada"], people["Bo"])),)
    session_id = thursday.planned(desk, people, session_on=day.date(), sittings=sittings)
    assert thursday.facts_of(desk, session_id).sittings[0].starts_at == datetime(
        2026, 10, 25, 0, 30
    )


def test_forty_glasses_are_refused_in_one_sentence(desk, people):
    samples = tuple(thursday.WantedSample("dms", Decimal(level)) for level in range(1, 41))
    with pytest.raises(PlanRefused) as refused:
        preview(desk, thursday.wish(people, samples=samples))
    assert sum("40 glasses" in fault for fault in refused.value.faults) == 1


def test_the_papers_name_every_code_once(desk, people):
    session_id = thursday.planned(desk, people)
    view = papers(desk, session_id)
    printed = [g.code for s in view.sittings for order in s.orders for g in order.glasses]
    assert sorted(printed) == sorted(codes(desk, session_id))


def test_names_offered_do_not_depend_on_what_is_poured(desk, people):
    one = papers(desk, thursday.planned(desk, people))
    samples = thursday.wish(people).samples[1:]
    other = papers(desk, thursday.planned(desk, people, label="Other", samples=samples))
    assert one.names_offered == other.names_offered


def test_a_planned_session_is_sealed_in_the_history(desk, people):
    session_id = thursday.planned(desk, people)
    thursday.answer_all(desk, session_id)
    thursday.close(desk, session_id)
    assert verify(desk).answers == 72
