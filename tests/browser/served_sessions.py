"""A brewery with planned sessions of nine people, served in a process of its own."""

import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from contextlib import contextmanager
from dataclasses import replace
from datetime import date, datetime, timedelta
from datetime import time as clock

from seatworthy.sessions.wish import WantedSitting
from seatworthy.steps.ballot_links import hand_out, links
from seatworthy.steps.bring_in import bring_in_shelf
from seatworthy.steps.desk import open_desk
from seatworthy.steps.panel import add_people, people_of_panel
from seatworthy.steps.passphrase import set_passphrase
from seatworthy.steps.planning import first_wish, record_plan
from seatworthy.steps.sheets import sheets

NAMES = ("Ada Moran", "Bo Larsen", "Carmen Ruiz", "Dilek Aksoy", "Emil Novak", "Fenna de Wit",
         "Goran Petrić", "Hana Sato", "Łukasz Wrona")  # fmt: skip
SHELF = """
[brewery]
name = "Millrace Brewery"
time_zone = "Europe/Dublin"
[beer_families.pale_lager]
label = "Pale lagers"
[[base_beers]]
label = "House Pils"
family = "pale_lager"
abv = 4.8
[[working_thresholds]]
compound = "diacetyl"
value = 60
unit = "ug/L"
from = 2025-01-01
[[working_thresholds]]
compound = "dms"
value = 32
unit = "ug/L"
from = 2025-01-01
"""
PASSPHRASE = "three dry glasses"
DESK = {"viewport": {"width": 1440, "height": 900}}
AHEAD = 350  # days over which the sessions are spread, so that their codes never rest together


class Server:
    """The program at a store with a session for each test, started once.

    Attributes:
        waiting: Sessions that no test has had yet, each with the samples it pours.
        words: Further words of the command that serves it.
    """

    words = ()

    def __init__(self, folder, pours):
        self.folder, self.store = folder, folder / "panel.duckdb"
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self.process = None
        desk = open_desk(self.store)
        self.waiting = list(zip(pours, plans(desk, folder, pours), strict=True))
        desk.close()

    @property
    def address(self):
        """Where it is served."""
        return f"http://127.0.0.1:{self.port}"

    def start(self):
        """Start it, unless it runs."""
        if self.process is not None and self.process.poll() is None:
            return
        command = [sys.executable, "-m", "seatworthy.cli", "open", "--store", str(self.store),
                   "--no-browser", "--port", str(self.port), *self.words]  # fmt: skip
        with (self.folder / "log").open("w") as log:
            self.process = subprocess.Popen(command, stdout=log, stderr=subprocess.STDOUT)
        for _ in range(300):
            assert self.process.poll() is None, (self.folder / "log").read_text()
            try:
                urllib.request.urlopen(f"{self.address}/_stcore/health", timeout=1).close()
            except OSError:
                time.sleep(0.1)
            else:
                return
        raise AssertionError((self.folder / "log").read_text())

    def stop(self):
        """Stop it, if it runs."""
        if self.process is not None:
            self.process.terminate()
            self.process.wait(15)
            self.process = None

    def session_of(self, samples):
        """A session that pours these samples and that nobody has had."""
        found = next(one for one in self.waiting if one[0] is samples)
        self.waiting.remove(found)
        return found[1]

    @contextmanager
    def desk_at_a_copy(self):
        """A desk at a copy of what is in the store's files at this moment."""
        copy = self.folder / "copy.duckdb"
        for ending in ("", ".wal"):
            file = self.store.with_name(self.store.name + ending)
            if file.exists():
                shutil.copyfile(file, copy.with_name(copy.name + ending))
        desk = open_desk(copy)
        try:
            yield desk
        finally:
            desk.close()
            copy.unlink()


def table_today(folder, samples, people=8):
    """A server behind a passphrase with a session of today, and everybody's link by name.

    Args:
        folder: Where its store lies.
        samples: What is poured.
        people: How many of the nine come.
    """
    served = Server(folder, [])
    served.words = ("--lan", "--address", "127.0.0.1")
    desk = open_desk(served.store)
    who = tuple(person.person_id for person in people_of_panel(desk))[:people]
    sitting = WantedSitting("Afternoon", datetime.combine(desk.today(), clock(14)), who)
    wish = replace(
        first_wish(desk), session_on=desk.today(), label="Thursday night check",
        sittings=(sitting,), samples=samples, spares=0, seed=11,
    )  # fmt: skip
    served.session_id = record_plan(desk, wish)
    hand_out(desk, served.session_id)
    served.links = {
        line.name: f"{served.address}/b/{line.secret}" for line in links(desk, served.session_id)
    }
    set_passphrase(desk, PASSPHRASE)
    desk.close()
    served.start()
    return served


def sign_in(browser, table, **screen):
    """The leader's page of the session, after the passphrase."""
    page = browser.new_context(**(screen or DESK)).new_page()
    page.goto(f"{table.address}/session?session={table.session_id}")
    assert "/door" in page.url
    page.locator("input[type=password]").fill(PASSPHRASE)
    page.locator("button[type=submit]").click()
    page.locator(".foot").wait_for(timeout=30_000)
    assert f"session={table.session_id}" in page.url
    return page


class Brewery:
    """One test's session at the served brewery.

    Attributes:
        server: Serves it.
        session_id: The session.
    """

    def __init__(self, server, session_id):
        self.server, self.session_id = server, session_id
        with server.desk_at_a_copy() as desk:
            self.answers_before = _answers(desk)

    @property
    def address(self):
        """Where it is served."""
        return self.server.address

    def on_record(self):
        """What is on record, sheet by sheet, and how many answers this test has put there."""
        with self.server.desk_at_a_copy() as desk:
            said = [tuple(row.said for row in view.rows) for view in sheets(desk, self.session_id)]
            return said, _answers(desk) - self.answers_before


def _answers(desk):
    return desk.store.rows("record_size")[0]["answers"]


def plans(desk, folder, pours):
    """Put nine people at a brewery and plan a session of each pour; their ids."""
    path = folder / "shelf.toml"
    path.write_text(SHELF, encoding="utf-8")
    bring_in_shelf(desk, path)
    add_people(desk, NAMES, since_on=None)
    people = tuple(person.person_id for person in people_of_panel(desk))
    tomorrow = date.today() + timedelta(days=1)
    days = [tomorrow + timedelta(days=n * AHEAD // len(pours)) for n in range(len(pours))]
    return [
        record_plan(desk, _wish(desk, day, people, samples))
        for day, samples in zip(days, pours, strict=True)
    ]


def _wish(desk, day, people, samples):
    return replace(
        first_wish(desk),
        session_on=day,
        sittings=(WantedSitting("Sitting 1", datetime.combine(day, clock(14)), people),),
        samples=samples,
        seed=7,
    )
