"""Two browsers open the talk, and phones answer while it opens: one talk, and nothing sealed after it."""

from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import release_sittings as release
from handed_out import secrets_of

from seatworthy.errors import PanelError
from seatworthy.steps.ballot_views import FormAnswer
from seatworthy.steps.ballots import answer, ballot
from seatworthy.steps.safekeeping import verify
from seatworthy.steps.talk import open_talk

LAST_SEALED = """
select max(answer.entry_no) from answer join serving using (serving_id) join sample using (sample_id)
where sitting_id = ?
"""


def test_the_talk_opens_once_and_no_answer_before_it_comes_after(desk, people):
    session_id = release.planned(desk, people)
    secrets = secrets_of(desk, session_id)
    for name in ("Ada Moran", "Bo Larsen"):
        answer(desk, secrets[name], 1, FormAnswer("nothing", seen=0))
    sitting, start = release.early(desk, session_id), Barrier(len(secrets) + 2)

    def opened():
        start.wait()
        try:
            return open_talk(desk, sitting, without_missing=True)
        except PanelError as error:
            return str(error)

    def answered(secret):
        start.wait()
        done = [answer(desk, secret, place, FormAnswer("something", seen=0)) for place in (2, 3, 4)]
        return [one.outcome for one in done]

    with ThreadPoolExecutor(len(secrets) + 2) as pool:
        talks = [pool.submit(opened) for _ in range(2)]
        phones = [pool.submit(answered, secret) for secret in secrets.values()]
        told = sorted(one.result() for one in talks)
        outcomes = {outcome for phone in phones for outcome in phone.result()}
    assert [text.startswith("The talk is open: Early") for text in told] == [False, True]
    assert "is open already" in told[0]
    assert outcomes <= {"kept", "closed"}
    cursor = desk.store.cursor()
    (talked,) = cursor.execute("select entry_no from talk").fetchone()
    assert cursor.execute(LAST_SEALED, [sitting]).fetchone()[0] < talked
    for secret in secrets.values():  # what a phone shows is what is on record
        shown = [glass.answer is not None for glass in ballot(desk, secret).glasses]
        assert not any(glass.after for glass in ballot(desk, secret).glasses)
        assert answer(desk, secret, 2, FormAnswer("nothing", seen=0)).outcome == "closed"
        assert shown == [glass.answer is not None for glass in ballot(desk, secret).glasses]
    verify(desk)
