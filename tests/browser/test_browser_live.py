"""The leader's page while phones answer, in a real Chromium: it keeps itself up to date, and quiet."""

import re
from dataclasses import replace
from datetime import datetime
from datetime import time as clock
from decimal import Decimal

import pytest
from pypdf import PdfReader
from served_sessions import Server

from seatworthy.sessions.wish import WantedSample, WantedSitting
from seatworthy.steps.desk import open_desk
from seatworthy.steps.panel import people_of_panel
from seatworthy.steps.planning import first_wish, record_plan

pytestmark = pytest.mark.browser

SAMPLES = (
    WantedSample("diacetyl", Decimal(3), "50 µl of stock D in 1 l"),
    WantedSample(None, None),
)
PHONE = {"viewport": {"width": 390, "height": 844}, "is_mobile": True, "has_touch": True}


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    """A brewery with two glasses for each of three people, today."""
    served = Server(tmp_path_factory.mktemp("live"), [])
    desk = open_desk(served.store)
    three = tuple(person.person_id for person in people_of_panel(desk))[:3]
    sitting = WantedSitting("Afternoon", datetime.combine(desk.today(), clock(14)), three)
    today = replace(
        first_wish(desk),
        session_on=desk.today(),
        sittings=(sitting,),
        samples=SAMPLES,
        spares=0,
        seed=7,
    )
    served.session_id = record_plan(desk, today)
    desk.close()
    served.start()
    yield served
    served.stop()


@pytest.fixture
def people(browser):
    """Opens a page for one more person, each in a browser of their own."""
    contexts = []

    def open_page(address, **screen):
        contexts.append(browser.new_context(**screen))
        page = contexts[-1].new_page()
        page.goto(address)
        return page

    yield open_page
    for context in contexts:
        context.close()


def leader(people, server):
    page = people(f"{server.address}/session?session={server.session_id}")
    page.locator(".foot").wait_for(timeout=30_000)
    return page


def addresses(page, folder):
    """Everybody's address, as it stands on their card."""
    with page.expect_download() as download:
        page.get_by_role("button", name="Cards with the links").click()
    download.value.save_as(folder / "cards.pdf")
    text = PdfReader(folder / "cards.pdf").pages[0].extract_text()
    return re.findall(r"http://127\.0\.0\.1:\d+/b/[\w-]{22}", text)


def live(page, words):
    page.locator(".live-answer", has_text=words).wait_for(timeout=15_000)


def send(phone, address, place):
    """Say "nothing" of a glass."""
    phone.goto(f"{address}/{place}")
    phone.locator("input[name=what][value=nothing]").check(force=True)
    phone.locator("form[method=post] button[type=submit]").last.click()
    phone.wait_for_load_state()


def test_answers_from_phones_come_in_while_the_leader_types(people, server, tmp_path):
    page = leader(people, server)
    page.get_by_role("button", name="Make the links").click()
    page.get_by_text("Made 3 links.").wait_for()
    assert page.locator("img.qr").count() == 0
    for name in ("Ada Moran", "Bo Larsen", "Carmen Ruiz"):
        page.get_by_role("button", name=re.compile("^(First|Next) person")).click()
        page.locator("figcaption", has_text=name).wait_for()
        assert page.locator("img.qr").count() == 1
    # 33 mm and more where a laptop's 1440 px are 286 mm wide; the white around takes 8 of 37 modules.
    assert page.locator("img.qr").first.bounding_box()["width"] * 29 / 37 >= 33 * 1440 / 286
    ada, bo, _ = addresses(page, tmp_path)
    live(page, "0 of 6 answers are in; Ada, Bo and Carmen have not opened theirs.")
    page.get_by_text("A jug was wrong").click()
    reason = page.get_by_label("Why").first
    reason.fill("half a reason")
    phone = people(ada, **PHONE)
    send(phone, ada, 1)
    live(page, "1 of 6 answers are in; Bo and Carmen have not opened theirs.")
    send(phone, ada, 2)
    live(page, "2 of 6 answers are in")
    assert "2 of 6 answers are in" in page.locator("h1.answer").inner_text().replace("\xa0", " ")
    assert reason.input_value() == "half a reason"
    assert reason.evaluate("field => field === document.activeElement")
    other = people(bo, **PHONE)
    page.locator(f".st-key-nudge_{server.session_id}").get_by_text("Bo Larsen").click()
    page.get_by_text("with the next page that it loads").wait_for()
    other.reload()
    assert re.search("leader.*wait", other.locator("main").inner_text(), re.IGNORECASE)
    assert reason.input_value() == "half a reason"
    second = leader(people, server)
    second.get_by_role("button", name="Afternoon is over").click()
    second.get_by_role("button", name="Close and reveal").click()
    second.get_by_role("button", name="Close with 4 glasses unanswered").click()
    page.get_by_text("See what came of it").wait_for(timeout=15_000)
    page.locator(".live-answer").wait_for(state="detached", timeout=15_000)
