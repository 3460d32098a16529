"""What of alcohol everybody took today, before they sit down again."""

from decimal import Decimal

from thursday import TODAY, answer_all, facts_of, planned

from seatworthy.sessions.alcohol import taken_g
from seatworthy.steps.alcohol_today import NOTHING_TAKEN, AlcoholToday, alcohol_today
from seatworthy.steps.closing import call_off
from seatworthy.steps.table import absent


def glasses_of(desk, session_id, person):
    head = facts_of(desk, session_id).head
    own = [g for g in facts_of(desk, session_id).glasses if g.person_id == person]
    count = sum(len(g.poured_from) for g in own) + bool(head.has_control)
    return taken_g(count * head.volume_ml, head.abv_percent, head.spat_share if head.spits else 1)


def test_before_anything_is_answered_all_of_it_is_to_come(desk, people, session_id):
    found = alcohol_today(desk, TODAY)[people["Ada"]]
    assert found.had_g == 0
    assert found.to_come_g == glasses_of(desk, session_id, people["Ada"])
    assert "planned" in found.words


def test_what_was_answered_was_taken(desk, people, session_id):
    answer_all(desk, session_id)
    found = alcohol_today(desk, TODAY)[people["Ada"]]
    assert found.had_g == glasses_of(desk, session_id, people["Ada"]) > 0
    assert found.to_come_g == 0
    assert found.words == f"{found.had_g:.1f} g of alcohol today of 8 g"


def test_who_swallows_takes_the_whole(desk, people):
    session_id = planned(desk, people, spits=False, volume_ml=Decimal(15))
    answer_all(desk, session_id)
    found = alcohol_today(desk, TODAY)[people["Ada"]]
    assert found.had_g == glasses_of(desk, session_id, people["Ada"]) > 4


def test_two_sessions_of_a_day_add_up(desk, people, session_id):
    answer_all(desk, session_id)
    once = alcohol_today(desk, TODAY)[people["Ada"]].had_g
    answer_all(desk, planned(desk, people, label="Second", seed=8))
    assert alcohol_today(desk, TODAY)[people["Ada"]].had_g == 2 * once


def test_who_was_absent_took_nothing(desk, people, session_id):
    sitting = facts_of(desk, session_id).sittings[0].sitting_id
    absent(desk, sitting, people["Ada"])
    assert people["Ada"] not in alcohol_today(desk, TODAY)


def test_a_session_called_off_was_not_tasted(desk, people, session_id):
    call_off(desk, session_id, people["Ada"])
    assert alcohol_today(desk, TODAY) == {}


def test_the_limit_is_reached_at_the_limit():
    under = AlcoholToday(Decimal("7.99"), Decimal(0), Decimal(8), ())
    at = AlcoholToday(Decimal(8), Decimal(0), Decimal(8), ())
    assert (under.is_over, at.is_over) == (False, True)
    assert at.words == "8.0 g of alcohol today, the limit"
    assert NOTHING_TAKEN.words == ""


def test_a_session_without_a_volume_is_said_and_not_guessed():
    found = AlcoholToday(Decimal(0), Decimal(0), Decimal(8), ("Old file",))
    assert found.words == "more today, volume not on record"
