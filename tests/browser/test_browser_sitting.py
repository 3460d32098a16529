"""A sitting of eight with real pages: six on phones, two on paper, a server that dies in the middle.

Two phones are closed and taken up again, one person taps twice whatever they tap, and the leader, behind a
passphrase, sees who has answered. Every answer that was acknowledged must be there, none twice, and
nothing that a phone was sent may tell what is in the glasses.
"""

import re
import signal
from decimal import Decimal

import pytest
from served_sessions import sign_in, table_today

from seatworthy.sessions.wish import WantedSample
from seatworthy.steps.desk import open_desk
from seatworthy.steps.safekeeping import verify
from seatworthy.steps.session_facts import session_facts

pytestmark = pytest.mark.browser

SAMPLES = (
    WantedSample("diacetyl", Decimal("2.7"), "51 µl of stock Quill in 1 l", 2),
    WantedSample("dms", Decimal("3.3"), "61 µl of stock Quern in 1 l", 2),
    WantedSample(None, None, glasses=2),
)
GLASSES = 6
PHONE = {"viewport": {"width": 390, "height": 844}, "is_mobile": True, "has_touch": True}
# What each of the six says; a word of their own tells whose answer it is.
SAYS = ("Nothing added", "Diacetyl", "DMS", "Something, no name for it", None, "Diacetyl")
# Nothing a phone gets may hold these: levels, doses, what is planned for whom, how answers are kept.
KEY = ("2.7", "2,7", "3.3", "3,3", "Quill", "Quern", "51 µl", "serving", "sample", "duplicate",
       "House Pils", "Pale lagers", "Thursday night check")  # fmt: skip


@pytest.fixture
def table(tmp_path):
    """A served brewery with a session of eight today, and everybody's link."""
    served = table_today(tmp_path, SAMPLES)
    yield served
    served.stop()


class Taster:
    """One person's phone.

    Attributes:
        told: Everything the server sent to it: addresses asked, headers and bodies.
        kept: Glasses of which the phone was told that the answer is kept.
    """

    def __init__(self, browser, link):
        self._browser, self.link = browser, link
        self.told, self.kept = [], set()
        self.take_up()

    def take_up(self):
        """Open the link, in a browser that knows nothing of it."""
        self._context = self._browser.new_context(**PHONE)
        self.page = self._context.new_page()
        self.page.on("response", self._hear)
        self.page.goto(self.link)

    def close(self):
        """Put the phone away: nothing of it is kept."""
        self._context.close()

    def answer(self, place, says, *, twice=False):
        """Say something of a glass; whether the phone was told that it is kept."""
        self.page.goto(f"{self.link}/{place}")
        if says is None:
            self.page.locator("#words").fill(f"like place {place}")
        else:
            self.page.locator("span.name", has_text=re.compile(f"^{says}$")).click()
        self.page.get_by_text("Fairly", exact=True).click()
        send = self.page.get_by_role("button", name=re.compile("^Send glass"))
        if twice:
            send.dblclick()
        else:
            send.click()
        self.page.get_by_text("Kept:").wait_for()
        self.kept.add(place)

    def _hear(self, response):
        kind = response.headers.get("content-type", "")
        is_text = kind.startswith("text/html") and response.status != 303
        body = response.text() if is_text else ""
        self.told.append((response.url, str(response.headers), body))


def type_sheets(page, table, names):
    """Type six answers for each of these from paper."""
    page.goto(f"{table.address}/answers?session={table.session_id}")
    for name in names:
        page.get_by_role("link", name=re.compile(name)).first.click()
        page.locator("input.answer:visible").first.focus()
        for _ in range(GLASSES):
            page.keyboard.type("0")
            page.keyboard.press("Enter")
    page.locator(".finished", has_text="all are saved").wait_for(timeout=30_000)


def test_a_sitting_of_eight_loses_nothing_and_tells_nothing(browser, table):
    names = sorted(table.links)
    on_phones, on_paper = names[:6], names[6:]
    tasters = {name: Taster(browser, table.links[name]) for name in on_phones}
    leader = sign_in(browser, table)
    first, second, tapper = on_phones[:3]
    for place in (1, 2, 3):
        for name, taster in tasters.items():
            taster.answer(place, SAYS[place - 1], twice=name == tapper)
    leader.locator(".live-answer", has_text="18 of 48 answers are in").wait_for(timeout=20_000)
    for name in (first, second):
        tasters[name].close()
    table.process.send_signal(signal.SIGKILL)
    table.process.wait(15)
    table.start()
    for name in (first, second):
        tasters[name].take_up()
    for place in (4, 5, 6):
        for name, taster in tasters.items():
            taster.answer(place, SAYS[place - 1], twice=name == tapper)
    tasters[first].answer(1, "DMS")
    leader.context.close()
    leader = sign_in(browser, table)
    type_sheets(leader, table, on_paper)
    leader.goto(f"{table.address}/session?session={table.session_id}")
    leader.locator(".live-answer", has_text="All 48 answers are in").wait_for(timeout=20_000)
    for taster in tasters.values():
        taster.page.goto(taster.link)
        assert taster.page.get_by_text("waits").count() == 0
    _check_that_nothing_was_told(tasters, names)
    _close(leader)
    for taster in tasters.values():
        taster.page.goto(taster.link)
        assert "2.7×" in taster.page.content()
        taster.close()
    leader.context.close()
    table.stop()
    _check_the_store(table, tasters)


def _check_that_nothing_was_told(tasters, names):
    for name, taster in tasters.items():
        assert taster.kept == set(range(1, GLASSES + 1))
        others = [other for other in names if other != name]
        heard = "\n".join(" ".join(parts) for parts in taster.told)
        assert len(taster.told) > 3 * GLASSES
        for word in (*KEY, *others):
            assert word not in heard, word


def _close(leader):
    leader.get_by_role("button", name="Afternoon is over").click()
    leader.get_by_role("button", name="Close and reveal").click()
    leader.get_by_text("From then on every link shows its owner").wait_for()
    leader.get_by_role("button", name="Yes, close it now").click()
    leader.wait_for_url(re.compile("/reveal"), timeout=30_000)


def _check_the_store(table, tasters):
    desk = open_desk(table.store)
    verify(desk)
    facts = session_facts(desk, table.session_id)
    rows = desk.store.cursor().execute("select count(*) from answer").fetchone()
    assert rows == (49,)  # six by eight, and one that was changed
    for name in tasters:
        own = [g for g in facts.glasses if facts.names[g.person_id] == name]
        said = [g.said for g in sorted(own, key=lambda g: g.position)]
        wanted = ["nothing", "Diacetyl", "DMS", "something, no name", "like place 5", "Diacetyl"]
        if name == min(tasters):
            wanted[0] = "DMS"
        assert said == wanted
    desk.close()
