"""Answers of a session that runs change no standing, so standings are kept while they come in."""

from handed_out import say, secrets_of
from thursday import answer_all, close, code_of, facts_of

from seatworthy.steps.answers import correct_answer, enter_answer
from seatworthy.steps.judging import judge_day
from seatworthy.steps.session_facts import session_facts
from seatworthy.steps.table import absent


def judged_anew(desk):
    desk.judged.clear()
    return judge_day(desk)


def test_standings_are_kept_while_answers_come_in_and_are_what_they_would_be(
    desk, people, session_id
):
    secrets = secrets_of(desk, session_id)
    before = judge_day(desk)
    say(desk, secrets["Ada Moran"], 1, "diacetyl")
    key, code = code_of(desk, session_id, people["Bo"], "dms")
    assert enter_answer(desk, session_id, key, code, "dms").outcome == "kept"
    assert judge_day(desk) is before
    anew = judged_anew(desk)
    assert (anew.cells, anew.seats) == (before.cells, before.seats)


def test_standings_are_found_anew_once_the_session_is_closed_and_for_every_correction(
    desk, people, session_id
):
    answer_all(desk, session_id)
    before = judge_day(desk)
    close(desk, session_id)
    after = judge_day(desk)
    assert after is not before
    assert any(cell not in before.cells for cell in after.cells)
    glass = next(g for g in facts_of(desk, session_id).glasses if g.named_compound == "dms")
    correct_answer(desk, glass.serving_id, "diacetyl", "misread", people["Ada"])
    assert judge_day(desk) is not after


def test_a_session_is_read_once_until_something_is_recorded(desk, people, session_id):
    facts = session_facts(desk, session_id)
    assert session_facts(desk, session_id) is facts
    sitting = facts.sittings[0].sitting_id
    assert facts.seat_state(sitting, people["Ada"]) == "expected"
    absent(desk, sitting, people["Ada"])
    assert session_facts(desk, session_id).seat_state(sitting, people["Ada"]) == "absent"
    say(desk, secrets_of(desk, session_id)["Bo Larsen"], 1, "nothing")
    assert any(glass.kind for glass in session_facts(desk, session_id).glasses)
