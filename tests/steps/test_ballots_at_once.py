"""A whole table answers at once, two phones hold one link, the leader closes while somebody taps."""

from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest
from handed_out import secrets_of, stored
from thursday import facts_of

from seatworthy.errors import PanelError
from seatworthy.steps.answers import enter_answer
from seatworthy.steps.ballot_links import digest_of, hand_out, links
from seatworthy.steps.ballot_memory import _memories
from seatworthy.steps.ballot_views import FormAnswer
from seatworthy.steps.ballots import answer, ballot, fit_after_all, not_fit
from seatworthy.steps.safekeeping import verify
from seatworthy.steps.sheets import sheet_key
from seatworthy.steps.table import sitting_over, spilled

ADA = "Ada Moran"


def at_once(*steps):
    """What each step gave; all of them start together."""
    start = Barrier(len(steps))

    def given(step):
        start.wait()
        return step()

    with ThreadPoolExecutor(len(steps)) as pool:
        return list(pool.map(given, steps))


def test_everybody_answers_at_once_and_every_answer_is_there_once(desk, session_id):
    secrets = secrets_of(desk, session_id)

    def taps(secret):
        said = []
        for place in range(1, 9):
            form = FormAnswer("", f"{secret[:5]} word", "", "", 0)
            said += [answer(desk, secret, place, form).outcome for _ in range(2)]
        return said

    outcomes = at_once(*(lambda secret=secret: taps(secret) for secret in secrets.values()))
    assert outcomes == [["kept", "known"] * 8] * 9
    assert stored(desk) == stored(desk, "phone_answer") == 72
    assert all(ballot(desk, secret).answered == 8 for secret in secrets.values())
    verify(desk)


def test_of_two_phones_on_one_link_one_is_stored_and_the_other_told(desk, session_id):
    ada = secrets_of(desk, session_id)[ADA]
    for place in range(1, 9):
        said = at_once(
            *(
                lambda choice=choice, place=place: answer(
                    desk, ada, place, FormAnswer(choice, seen=0)
                )
                for choice in ("diacetyl", "dms", "nothing")
            )
        )
        assert sorted(done.outcome for done in said) == ["kept", "meanwhile", "meanwhile"]
    assert stored(desk) == 8


def test_paper_and_phone_at_the_same_moment_leave_one_answer(desk, session_id):
    ada = secrets_of(desk, session_id)[ADA]
    facts = facts_of(desk, session_id)
    own = [g for g in facts.glasses if facts.names[g.person_id] == ADA]
    for glass in sorted(own, key=lambda g: g.position):
        key = sheet_key(glass.sitting_id, glass.person_id)
        at_once(
            lambda glass=glass: answer(desk, ada, glass.position, FormAnswer("dms", seen=0)),
            lambda glass=glass, key=key: enter_answer(
                desk, session_id, key, glass.blind_code, "diacetyl"
            ),
        )
    assert stored(desk) == 8


def test_what_arrives_after_the_sitting_is_over_is_not_stored_and_what_was_kept_is(
    desk, session_id
):
    secrets = secrets_of(desk, session_id)
    sitting = facts_of(desk, session_id).sittings[0].sitting_id
    early = [line.secret for line in links(desk, session_id) if line.sitting_id == sitting]
    assert set(early) < set(secrets.values())
    said = at_once(
        lambda: sitting_over(desk, sitting),
        *(
            lambda secret=secret: [
                answer(desk, secret, place, FormAnswer("nothing", seen=0)).outcome
                for place in range(1, 9)
            ]
            for secret in early
        ),
    )
    kept = [outcome for outcomes in said[1:] for outcome in outcomes].count("kept")
    assert all(outcomes == sorted(outcomes, reverse=True) for outcomes in said[1:])
    assert stored(desk) == kept
    over = "select max(entry_no) from sitting_over"
    last = "select max(entry_no) from answer"
    cursor = desk.store.cursor()
    (end,), (answered,) = cursor.execute(over).fetchone(), cursor.execute(last).fetchone()
    assert answered is None or answered < end


def test_a_glass_is_spilled_or_answered_and_never_both(desk, session_id):
    ada = secrets_of(desk, session_id)[ADA]
    facts = facts_of(desk, session_id)
    own = [g for g in facts.glasses if facts.names[g.person_id] == ADA]

    def spill(glass):
        try:
            return spilled(desk, glass.serving_id)
        except PanelError:
            return ""

    for glass in sorted(own, key=lambda g: g.position):
        told, done = at_once(
            lambda glass=glass: spill(glass),
            lambda glass=glass: answer(desk, ada, glass.position, FormAnswer("nothing", seen=0)),
        )
        assert bool(told) != (done.outcome == "kept")


def test_a_new_link_and_an_answer_by_the_old_one_never_mix(desk, session_id):
    ada = secrets_of(desk, session_id)[ADA]
    key = next(line.key for line in links(desk, session_id) if line.secret == ada)
    _, *said = at_once(
        lambda: hand_out(desk, session_id, key=key),
        *(lambda n=n: answer(desk, ada, n, FormAnswer("nothing", seen=0)) for n in range(1, 5)),
    )
    assert stored(desk) == sum(done is not None for done in said)
    assert ballot(desk, ada) is None


@pytest.mark.parametrize("times", [6])
def test_not_fit_tapped_many_times_is_said_once(desk, session_id, times):
    ada = secrets_of(desk, session_id)[ADA]
    before = stored(desk, "sitting_person")
    views = at_once(*[lambda: not_fit(desk, ada)] * times)
    assert {view.state for view in views} == {"away"}
    assert stored(desk, "sitting_person") == before + 1


def test_a_link_that_opens_nothing_holds_nobody_up_and_leaves_nothing(desk, session_id):
    ballot(desk, secrets_of(desk, session_id)["Ada Moran"])
    tries = [lambda: answer(desk, "guessed", 1, FormAnswer("dms", seen=0)),
             lambda: not_fit(desk, "guessed"), lambda: fit_after_all(desk, "guessed")]  # fmt: skip
    with ThreadPoolExecutor(1) as pool, desk.store.alone():
        for one in tries:
            assert pool.submit(one).result(timeout=60) is None
    assert digest_of("guessed") not in _memories[desk.store].changes
