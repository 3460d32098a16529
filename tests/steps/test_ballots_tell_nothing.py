"""Whatever is in the glasses, a ballot's every byte is the same until the reveal.

Two breweries pour under the same codes, in the same orders, to the same people: other compounds at other
levels, or another glass of each set as the odd one. Their pages must not differ.
"""

import asyncio
import itertools
import shutil
import threading
from dataclasses import replace
from decimal import Decimal
from urllib.parse import urlencode

import planned_sets
import pytest
import thursday
from handed_out import secrets_of
from starlette.applications import Starlette

from seatworthy.ballot.routes import ballot_routes
from seatworthy.sessions.wish import WantedSample
from seatworthy.steps import ballot_links
from seatworthy.steps.answers import enter_answer
from seatworthy.steps.ballot_presence import nudge
from seatworthy.steps.desk import open_desk
from seatworthy.steps.sheets import sheet_key
from seatworthy.steps.table import absent, left, sitting_over, spilled, swapped

ADA, BO = "Ada Moran", "Bo Larsen"
POURED = (
    WantedSample("diacetyl", Decimal(3), "50 µl of stock D in 1 l", 2),
    WantedSample("dms", Decimal(3), "60 µl of stock S in 1 l"),
    WantedSample(None, None, glasses=2),
)
POURED_OTHERWISE = (
    WantedSample("t2n", Decimal("0.5"), "a capsule", 2),
    WantedSample("h2s", Decimal(9), "much"),
    WantedSample(None, None, glasses=2),
)
SETS_OTHERWISE = (
    ("C", "3afc", "Cbb"),
    ("D", "3afc", "Dbb"),
    ("E", "3afc", "bbE"),
    ("F", "triangle", "bbF"),
    ("F", "triangle", "ffB"),
    ("G", "2afc", "bG"),
)


@pytest.fixture(autouse=True)
def _the_same_secrets(monkeypatch):
    """Links whose secrets only tell how many were made before them."""
    count = itertools.count()
    monkeypatch.setattr(ballot_links, "token_urlsafe", lambda size: f"secret-{next(count):04d}")


class Phone:
    """Asks the ballots of one desk."""

    def __init__(self, desk):
        self._app = Starlette(routes=ballot_routes(lambda: desk))

    def ask(self, path, **form):
        """Status, headers and body; a form is sent if there is one."""
        found = []
        waiting = self._ask(path, urlencode(form).encode())
        thread = threading.Thread(target=lambda: found.append(asyncio.run(waiting)))
        thread.start()
        thread.join()
        return found[0]

    async def _ask(self, path, body):
        path, _, query = path.partition("?")
        scope = {
            "type": "http", "method": "POST" if body else "GET", "path": path, "scheme": "http",
            "raw_path": path.encode(), "query_string": query.encode(), "root_path": "",
            "http_version": "1.1", "server": ("127.0.0.1", 80), "client": ("127.0.0.1", 5),
            "headers": [],
        }  # fmt: skip
        coming, sent = [{"type": "http.request", "body": body, "more_body": False}], []

        async def receive():
            return coming.pop() if coming else {"type": "http.disconnect"}

        async def send(message):
            sent.append(message)

        await self._app(scope, receive, send)
        body = b"".join(part.get("body", b"") for part in sent[1:])
        return sent[0]["status"], sorted(sent[0]["headers"]), body


def seen_at_a_table(desk, session_id):
    """Everything that phones are told while a session runs, and what becomes of their forms."""
    links = {name: f"/b/{secret}" for name, secret in secrets_of(desk, session_id).items()}
    phone, found = Phone(desk), []
    ada, bo = links[ADA], links[BO]
    facts = thursday.facts_of(desk, session_id)
    own = sorted(
        (g for g in facts.glasses if facts.names[g.person_id] == ADA), key=lambda g: g.position
    )
    others = [g for g in facts.glasses if facts.names[g.person_id] == BO]

    def look():
        for link in links.values():
            found.extend(phone.ask(f"{link}{rest}") for rest in ("", "/1", "/2", "/5", "/unfit"))

    look()
    for place, glass in enumerate(own, start=1):
        said = {"what": glass.codes[0]} if glass.parts else {"what": "diacetyl", "words": "odd"}
        found.append(phone.ask(f"{ada}/{place}", seen=0, sure="guess", **said))
        found.append(phone.ask(f"{ada}/{place}", seen=7, what=(glass.codes + ("dms",))[-1]))
    found += [
        phone.ask(f"{ada}/1", what="unobtainium", seen=0),
        phone.ask(f"{ada}/1", what="nothing", words="banana", seen=0),
        phone.ask(f"{ada}/99", what="nothing", seen=0),
        phone.ask(f"{bo}/1", what=own[0].codes[0], seen=0),
        phone.ask(f"{ada}/1?find=but"),
        phone.ask("/b/nobody"),
    ]
    spilled(desk, others[0].serving_id)
    nudge(desk, others[0].sitting_id, others[0].person_id)
    look()
    key = sheet_key(others[-1].sitting_id, others[-1].person_id)
    enter_answer(desk, session_id, key, others[-1].codes[0], "nothing")
    singles = [g for g in others if not g.parts]
    if len(singles) > 2:
        swapped(desk, singles[1].serving_id, singles[2].serving_id)
    found.append(phone.ask(f"{bo}/unfit", sure="yes"))
    found.append(phone.ask(f"{bo}/fit", sure="yes"))
    left(desk, own[0].sitting_id, own[0].person_id)
    look()
    third = next(g for g in facts.glasses if facts.names[g.person_id] not in (ADA, BO))
    absent(desk, third.sitting_id, third.person_id)
    for sitting in facts.sittings:
        sitting_over(desk, sitting.sitting_id)
    look()
    found.append(phone.ask(f"{bo}/2", what="nothing", seen=0))
    return found


def two_desks(folder, with_people):
    desks = []
    for name in ("one", "other"):
        path = folder / f"{name}.duckdb"
        shutil.copyfile(with_people.path, path)
        desk = open_desk(path)
        desk.today = lambda: thursday.TODAY
        desks.append(desk)
    return desks


def test_no_byte_tells_what_is_poured(tmp_path, with_people, monkeypatch):
    one, other = two_desks(tmp_path, with_people)
    here = thursday.planned(one, with_people.found, samples=POURED, strong_late=False)
    there = thursday.planned(other, with_people.found, samples=POURED_OTHERWISE, strong_late=False)
    codes = [
        sorted((g.person_id, g.position, g.blind_code) for g in thursday.facts_of(*at).glasses)
        for at in ((one, here), (other, there))
    ]
    assert codes[0] == codes[1]
    first = seen_at_a_table(one, here)
    monkeypatch.undo()
    _restart_secrets(monkeypatch)
    assert seen_at_a_table(other, there) == first
    assert len(first) > 150
    one.close()
    other.close()


def test_no_byte_tells_which_glass_of_a_set_differs(tmp_path, with_people, monkeypatch):
    one, other = two_desks(tmp_path, with_people)
    here = planned_sets.planned(one, with_people.found)
    first = seen_at_a_table(one, here)
    monkeypatch.undo()
    _restart_secrets(monkeypatch)
    monkeypatch.setattr(planned_sets, "SETS", SETS_OTHERWISE)
    monkeypatch.setattr(
        planned_sets,
        "SAMPLES",
        tuple(
            replace(sample, compound="h2s", level=Decimal(7)) if sample.compound else sample
            for sample in planned_sets.SAMPLES
        ),
    )
    there = planned_sets.planned(other, with_people.found)
    assert seen_at_a_table(other, there) == first
    statuses = {status for status, _, _ in first}
    assert statuses >= {200, 303, 404, 409, 422}
    one.close()
    other.close()


def _restart_secrets(monkeypatch):
    count = itertools.count()
    monkeypatch.setattr(ballot_links, "token_urlsafe", lambda size: f"secret-{next(count):04d}")


def test_the_two_tables_differ_once_they_are_revealed(tmp_path, with_people, monkeypatch):
    """So that the sameness above is no accident of pages that never differ."""
    pages = []
    for desk, samples in zip(
        two_desks(tmp_path, with_people), (POURED, POURED_OTHERWISE), strict=True
    ):
        monkeypatch.undo()
        _restart_secrets(monkeypatch)
        session_id = thursday.planned(desk, with_people.found, samples=samples)
        secrets = secrets_of(desk, session_id)
        thursday.answer_all(desk, session_id, {None: "nothing", "t2n": "dms"})
        thursday.close(desk, session_id)
        pages.append(Phone(desk).ask(f"/b/{secrets[ADA]}"))
        desk.close()
    assert pages[0] != pages[1]
    assert b"diacetyl" in pages[0][2].lower()
