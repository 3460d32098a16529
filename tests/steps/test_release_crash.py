"""Kills a release sitting's acts at random moments: whole acts or nothing, what was acknowledged stays."""

import random
import shutil
import signal
import subprocess
import sys
import time

import pytest
import release_sittings as release
from handed_out import secrets_of

from seatworthy.steps.desk import open_desk
from seatworthy.steps.safekeeping import verify

ROUNDS = 8
SAID = {"Ada": "dms", "Bo": "dms", "Carmen": "nothing", "Dilek": "nothing", "Emil": "nothing"}

ACTS = """
import sys
from seatworthy.steps.ballot_views import FormAnswer
from seatworthy.steps.ballots import answer, ballot
from seatworthy.steps.batches import state_batch
from seatworthy.steps.desk import open_desk
from seatworthy.steps.talk import open_talk, take_talk_back
path, sitting, secret, first, *people = sys.argv[1:]
desk = open_desk(path)
print("open", flush=True)
for number in range(int(first), int(first) + 400):
    state_batch(desk, f"Tank {number}", "house pils", people)
    print("batch", flush=True)
    if ballot(desk, secret).state != "talk":
        open_talk(desk, sitting)
        print("talk", flush=True)
    for glass in ballot(desk, secret).glasses:
        form = FormAnswer("something" if number % 2 else "nothing", seen=glass.afters, is_after=True)
        if answer(desk, secret, glass.place, form).outcome == "kept":
            print("after", flush=True)
"""

HALF_BATCHES = """
select count(*)
from batch
left join (select batch_id, count(*) as people from batch_crew group by batch_id) using (batch_id)
where coalesce(people, 0) <> ? and label not in ('Tank 12', 'Tank 13')
"""


def counted(desk, table):
    return desk.store.cursor().execute(f"select count(*) from {table}").fetchone()[0]


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system has no kill -9")
def test_kills_leave_whole_acts_and_keep_what_was_acknowledged(desk, people, tmp_path):
    session_id = release.planned(desk, people)
    release.tell_all(desk, session_id, SAID)
    sitting, secret = release.early(desk, session_id), secrets_of(desk, session_id)["Bo Larsen"]
    store = tmp_path / "killed.duckdb"
    desk.store.cursor().execute("checkpoint")
    shutil.copyfile(desk.store.path, store)
    crew, chance = list(people.values())[:4], random.Random(5)
    done = {"batch": 2, "talk": 0, "after": 0}
    for number in range(ROUNDS):
        seconds = chance.uniform(0.2, 1.2) if number < ROUNDS - 1 else 5.0
        args = [str(store), sitting, secret, str(100 + 400 * number), *crew]
        for line in acknowledged(args, seconds):
            done[line] += 1
        again = open_desk(store)
        verify(again)
        found = {"batch": counted(again, "batch"), "talk": counted(again, "talk"),
                 "after": counted(again, "talk_answer")}  # fmt: skip
        half = again.store.cursor().execute(HALF_BATCHES, [len(crew)]).fetchone()[0]
        assert half == 0
        again.close()
        for table, least in done.items():  # one may be written and not told yet
            assert least <= found[table] <= least + 1, table
        done = found
    assert done["talk"] == 1
    assert done["after"] > 0


def acknowledged(args, seconds):
    """Start it, kill it after so many seconds, and give what it told."""
    with subprocess.Popen(
        [sys.executable, "-c", ACTS, *args], stdout=subprocess.PIPE, text=True
    ) as one:
        opened = one.stdout.readline()
        assert opened == "open\n"
        time.sleep(seconds)
        one.kill()
        return one.stdout.read().split()
