"""Does one act of recording over and over, and says after each what is acknowledged, until it is killed.

A server that holds no store waits for orders on its input, a JSON line each: the act, and what it needs. It
forks for each, so that nobody waits for imports; the child opens the store, says "open", and goes on until
somebody kills it. All that a leader or a panellist would have been told stands on a line of its own.
"""

import json
import os
import sys
import traceback
import uuid
from dataclasses import replace
from datetime import date
from decimal import Decimal
from itertools import count
from pathlib import Path

import seated
import thursday
from handed_out import FormAnswer, answer, ballot

from seatworthy.sessions.wish import WantedSample
from seatworthy.steps.anonymous_people import make_anonymous
from seatworthy.steps.batches import state_batch
from seatworthy.steps.bring_in import bring_in_results
from seatworthy.steps.closing import close_session
from seatworthy.steps.decisions import seat_states, sign_decision
from seatworthy.steps.desk import open_desk
from seatworthy.steps.last_copy import copy_after_close
from seatworthy.steps.panel import add_people, people_of_panel
from seatworthy.steps.planning import record_plan
from seatworthy.steps.safekeeping import back_up
from seatworthy.steps.table import sitting_over
from seatworthy.steps.talk import open_talk


def say(*words: str) -> None:
    """Tell what is acknowledged, at once and whole: words with tabs between."""
    os.write(1, ("\t".join(words) + "\n").encode())


def opened(path: str):
    """The desk, and the word that it is there."""
    desk = open_desk(path)
    say("open")
    return desk


def import_files(path: str, folder: str) -> None:
    """Bring one file in after the other, again those that are in already."""
    desk = opened(path)
    for file in sorted(Path(folder).glob("*.csv")):
        if bring_in_results(desk, file).added:
            say("file", file.name)


def answer_ballots(path: str, *secrets: str) -> None:
    """Answer every glass by phone again and again, each time in words of its own."""
    desk = opened(path)
    for _ in count():
        for secret in secrets:
            for glass in ballot(desk, secret).glasses:
                words = f"word {uuid.uuid4().hex}"
                done = answer(desk, secret, glass.place, FormAnswer("", words, seen=glass.answers))
                assert done.outcome == "kept", done
                say("answer", words)


def close_sessions(path: str) -> None:
    """Plan a short session, answer it, close it, and keep the copy that follows a close."""
    desk = opened(path)
    desk.today = lambda: thursday.TODAY
    people = {p.name.split()[0]: p.person_id for p in people_of_panel(desk)}
    sitting = replace(thursday.wish(people).sittings[0], people=(people["Ada"], people["Bo"]))
    samples = (WantedSample("dms", Decimal(3), "one drop"), WantedSample(None, None))
    for _ in count():
        label = f"Short {uuid.uuid4().hex[:8]}"
        session_id = record_plan(
            desk, thursday.wish(people, label=label, samples=samples, sittings=(sitting,), spares=0)
        )
        say("plan", session_id)
        thursday.answer_all(desk, session_id)
        say("answers", session_id)
        sitting_over(desk, thursday.facts_of(desk, session_id).sittings[0].sitting_id)
        close_session(desk, session_id)
        say("closed", session_id)
        trouble = copy_after_close(desk)
        assert trouble is None, trouble
        say("copied", session_id)


def sign_decisions(path: str, person_id: str, signer: str) -> None:
    """Sign one decision after the other about one seat."""
    desk = opened(path)
    desk.today = lambda: seated.TODAY
    while True:
        state = str(seat_states(desk, seated.TODAY)[person_id, seated.FAMILY].state)
        decision_id = sign_decision(
            desk, person_id=person_id, family=seated.FAMILY,
            state="withdrawn" if state == "trainee" else "trainee", until_on=None,
            reason=f"Has trained here, note {uuid.uuid4().hex}.", signer=signer, pin=seated.PIN,
        )  # fmt: skip
        say("decision", decision_id)


def back_up_often(path: str, folder: str) -> None:
    """Copy the store under one name after the other; somebody joins the panel in between."""
    desk = opened(path)
    while True:
        name = f"copy-{uuid.uuid4().hex}.duckdb"
        back_up(desk, Path(folder) / name)
        say("copy", name)
        join(desk, uuid.uuid4().hex)


def open_older(path: str) -> None:
    """Open a store that an earlier version wrote."""
    say("open")
    open_desk(path).close()
    say("upgraded")


def take_names_away(path: str) -> None:
    """Let somebody join the panel, and make them anonymous."""
    desk = opened(path)
    while True:
        name = f"N{uuid.uuid4().hex}"
        say("joined", name)  # said before, so that everybody knows whose name is to go
        person_id = join(desk, name)
        make_anonymous(desk, person_id)
        say("nameless", name, person_id)


def hold_release(path: str, sitting: str, secret: str, *crew: str) -> None:
    """State batches with their crew, open the talk once, and answer after it."""
    desk = opened(path)
    while True:
        label = f"Tank {uuid.uuid4().hex[:12]}"
        state_batch(desk, label, "house pils", crew)
        say("batch", label)
        if ballot(desk, secret).state != "talk":
            open_talk(desk, sitting)
            say("talk", sitting)
        for glass in ballot(desk, secret).glasses:
            words = f"word {uuid.uuid4().hex}"
            form = FormAnswer("", words, seen=glass.afters, is_after=True)
            done = answer(desk, secret, glass.place, form)
            assert done.outcome == "kept", done
            say("after", words)


def join(desk, name: str) -> str:
    """Put somebody on the panel; their id."""
    add_people(desk, [name], since_on=date(2026, 1, 1), lookalikes_are_new=True)
    return next(p.person_id for p in people_of_panel(desk) if p.name == name)


ACTS = {
    "import": import_files,
    "ballot": answer_ballots,
    "close": close_sessions,
    "sign": sign_decisions,
    "backup": back_up_often,
    "upgrade": open_older,
    "anonymous": take_names_away,
    "release": hold_release,
}


def child(act: str, words: list[str]) -> None:
    """Do the act; what it stumbles over is said too."""
    try:
        ACTS[act](*words)
        say("end")
    finally:
        if sys.exc_info()[0]:
            say("fault", json.dumps(traceback.format_exc()[-2000:]))
        os._exit(0)


def serve() -> None:
    """Fork for every order until there are no more."""
    for line in sys.stdin:
        act, *words = json.loads(line)
        pid = os.fork()
        if not pid:
            child(act, words)
        say("pid", str(pid))
        sys.stdin.readline()  # until then its number is nobody else's
        os.waitpid(pid, 0)
        say("over")


if __name__ == "__main__":
    serve()
