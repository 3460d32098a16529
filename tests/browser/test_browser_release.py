"""A release sitting in a real Chromium: planned, answered by phone, talked over, answered again, closed."""

import re
from datetime import time
from decimal import Decimal

import pytest
from served_sessions import DESK, Server

from seatworthy.steps.ballot_links import hand_out, links
from seatworthy.steps.batches import state_batch
from seatworthy.steps.desk import open_desk
from seatworthy.steps.panel import people_of_panel
from seatworthy.steps.planning import record_plan
from seatworthy.steps.release_wishes import ShortWish, release_wish, sitting_at

pytestmark = pytest.mark.browser

PHONE = {"viewport": {"width": 390, "height": 844}, "is_mobile": True, "has_touch": True}


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    """A brewery with a tank on record, and a release sitting of two people, today."""
    served = Server(tmp_path_factory.mktemp("release"), [])
    desk = open_desk(served.store)
    two = [person.person_id for person in people_of_panel(desk)][:2]
    tank = state_batch(desk, "Tank 12", "house pils")
    short = ShortWish(
        desk.today(), "Release, Tank 12", (sitting_at(desk.today(), time(9), "Early", two),), seed=3
    )
    check = ("dms", Decimal(3), "60 µl of stock S in 1 l")
    served.session_id = record_plan(desk, release_wish(desk, short, [tank], check=check))
    hand_out(desk, served.session_id)
    served.links = [f"{served.address}/b/{line.secret}" for line in links(desk, served.session_id)]
    desk.close()
    served.start()
    yield served
    served.stop()


def answered(phone, address, say):
    """Answer all three glasses one after the other, as a phone leads from one to the next."""
    phone.goto(f"{address}/1")
    for place in range(1, 4):
        phone.locator(f"input[name=what][value={say[place - 1]}]").check(force=True)
        phone.locator("form[method=post] button[type=submit]").last.click()
        phone.wait_for_load_state()


def test_the_walk_of_a_release_sitting(browser, server):
    desk = browser.new_context(**DESK).new_page()
    desk.goto(f"{server.address}/plan?kind=release")
    desk.get_by_role("heading", level=1).filter(has_text=re.compile(r"from 3\sjugs")).wait_for(
        timeout=90_000
    )
    phones = [browser.new_context(**PHONE).new_page() for _ in server.links]
    says = (("dms", "dms", "dms"), ("nothing", "nothing", "nothing"))
    for phone, link, say in zip(phones, server.links, says, strict=True):
        answered(phone, link, say)
        phone.get_by_role("heading", name=re.compile("All three are in")).wait_for()
    desk.goto(f"{server.address}/session?session={server.session_id}")
    desk.locator("h1", has_text="open the talk").wait_for(timeout=90_000)
    assert "Tank 12, House Pils" not in desk.locator(".stMain").inner_text()
    desk.get_by_role("button", name="Open the talk").click()
    desk.get_by_text("One of two called DMS before the talk").wait_for(timeout=60_000)

    phones[0].goto(server.links[0])
    phones[0].get_by_role("heading", name="The talk is open.").wait_for()
    answered(phones[0], server.links[0], ("nothing", "nothing", "nothing"))
    assert phones[0].get_by_text("before: DMS").count() == 3
    assert phones[0].get_by_text("now: as it should be").count() == 3

    desk.reload()
    desk.get_by_text(re.compile("After it .* finds it as it should be")).wait_for(timeout=60_000)
    desk.get_by_role("button", name="Early is over").click()
    desk.get_by_role("button", name="Close and reveal").click(timeout=60_000)
    desk.get_by_role("button", name="Yes, close it now").click(timeout=60_000)
    desk.get_by_role("heading", name="The beers").wait_for(timeout=90_000)
    assert desk.get_by_role("link", name="How sure are we?").first.is_visible()
