"""Kills a server that takes ballots at random moments: every acknowledged answer stays, none twice."""

import random
import signal
import subprocess
import sys
import time

import pytest
from handed_out import secrets_of

from seatworthy.steps.desk import open_desk
from seatworthy.steps.safekeeping import verify

ROUNDS = 6
COUNTED = """
select count(*), count(distinct entry_no), (select count(*) from phone_answer)
from answer
"""
TAKER = """
import sys, uuid
from seatworthy.steps.ballot_views import FormAnswer
from seatworthy.steps.ballots import answer, ballot
from seatworthy.steps.desk import open_desk
desk = open_desk(sys.argv[1])
print("open", flush=True)
for number in range(1, 1000):
    for secret in sys.argv[2:]:
        for glass in ballot(desk, secret).glasses:
            form = FormAnswer("", f"word {uuid.uuid4().hex}", seen=glass.answers)
            assert answer(desk, secret, glass.place, form).outcome == "kept"
            print("kept", flush=True)
"""


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system has no kill -9")
def test_every_acknowledged_answer_survives_a_kill(desk, session_id):
    secrets = list(secrets_of(desk, session_id).values())
    path = desk.store.path
    desk.close()
    chance, acknowledged = random.Random(9), 0
    for number in range(ROUNDS):
        # The last one lives until it has said something, so that a slow machine does so too.
        is_heard = number == ROUNDS - 1
        acknowledged += answer_and_kill(path, secrets, chance.uniform(0.0, 0.7), is_heard=is_heard)
        again = open_desk(path)
        try:
            verify(again)
            found = again.store.cursor().execute(COUNTED).fetchone()
        finally:
            again.close()
        # One answer may have been stored and not yet told of when the kill came.
        assert found in {(n, n, n) for n in (acknowledged, acknowledged + 1)}
        acknowledged = found[0]
    assert acknowledged > 0


def answer_and_kill(path, secrets, seconds, *, is_heard):
    """Answer until killed, not before a first one if it is heard; how many were acknowledged."""
    taker = subprocess.Popen(
        [sys.executable, "-c", TAKER, str(path), *secrets],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    with taker:
        assert taker.stdout.readline() == "open\n", taker.stderr.read()
        first = taker.stdout.readline() if is_heard else ""
        time.sleep(seconds)
        taker.kill()
        told = [first.strip(), *taker.stdout.read().splitlines()]
        complaint = taker.stderr.read()
    assert "Error" not in complaint, complaint
    return told.count("kept")
