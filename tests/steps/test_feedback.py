from datetime import timedelta

import thursday

from seatworthy.steps.feedback import feedback, feedback_people
from seatworthy.steps.planning import record_plan, wish_again


def a_session(desk, session_id, said=None):
    thursday.answer_all(desk, session_id, said)
    thursday.close(desk, session_id)
    return session_id


def a_month_later(desk, session_id):
    day = desk.today() + timedelta(weeks=4)
    desk.today = lambda: day
    return record_plan(desk, wish_again(desk, session_id))


def test_nobody_sees_a_page_before_the_close(desk, people):
    session_id = thursday.planned(desk, people)
    thursday.answer_all(desk, session_id)
    assert feedback(desk, session_id, people["Ada"]) is None
    assert feedback_people(desk, session_id) == ()


def test_the_page_shows_the_persons_own_glasses_in_their_order(desk, people):
    session_id = a_session(desk, thursday.planned(desk, people))
    view = feedback(desk, session_id, people["Ada"])
    assert [glass.position for glass in view.glasses] == list(range(1, 9))
    assert view.answer == "Eight of eight right."


def test_a_mix_up_is_named_and_the_pair_is_what_to_smell_next(desk, people):
    session_id = a_session(desk, thursday.planned(desk, people), {"t2n": "diacetyl"})
    view = feedback(desk, session_id, people["Ada"])
    assert view.answer == "Seven of eight right. Papery passed for diacetyl."
    assert view.smell_next.startswith("Smell papery and diacetyl side by side")


def test_what_was_missed_is_what_to_smell_next(desk, people):
    session_id = a_session(desk, thursday.planned(desk, people), {"dms": "nothing"})
    assert feedback(desk, session_id, people["Ada"]).smell_next.startswith("Smell DMS beside")


def test_progress_comes_first(desk, people):
    first = a_session(desk, thursday.planned(desk, people), {"dms": "nothing"})
    second = a_session(desk, a_month_later(desk, first))
    view = feedback(desk, second, people["Ada"])
    assert view.answer.startswith("You named DMS, which got past you last time.")
    assert view.compared.endswith(
        "named right this time: 5 of 5; in the twelve months before: 4 of 5."
    )


def test_others_are_counted_and_never_named(desk, people):
    session_id = a_session(desk, thursday.planned(desk, people))
    view = feedback(desk, session_id, people["Ada"])
    assert {glass.others for glass in view.glasses} == {8}
    told = f"{view.answer} {view.compared} {view.smell_next}"
    assert not any(name.split()[0] in told for name in thursday.NAMES)


def test_with_fewer_than_four_others_nothing_is_said_of_them(desk, people):
    three = tuple(list(people.values())[:3])
    sittings = (
        thursday.WantedSitting("Early", thursday.wish(people).sittings[0].starts_at, three),
    )
    session_id = a_session(desk, thursday.planned(desk, people, sittings=sittings))
    view = feedback(desk, session_id, people["Ada"])
    assert {glass.others for glass in view.glasses} == {None}


def test_one_panellist_gets_a_page_too(desk, people):
    sittings = (
        thursday.WantedSitting(
            "Early", thursday.wish(people).sittings[0].starts_at, (people["Ada"],)
        ),
    )
    session_id = a_session(desk, thursday.planned(desk, people, sittings=sittings))
    assert feedback(desk, session_id, people["Ada"]).answer == "Eight of eight right."


def test_who_prepared_reads_that_the_answers_are_kept_and_not_counted(desk, people):
    session_id = a_session(desk, thursday.planned(desk, people, preparers=(people["Ada"],)))
    notes = {glass.note for glass in feedback(desk, session_id, people["Ada"]).glasses}
    assert notes == {"you prepared it: kept, not counted"}
