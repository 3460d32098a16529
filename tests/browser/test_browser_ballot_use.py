"""Ballots, the door and the reach page in use: by keyboard alone, at 200 %, and as axe sees them."""

import json
import re
from decimal import Decimal

import pytest
from screens import SCREENS
from served_sessions import sign_in, table_today

from seatworthy.sessions.wish import WantedSample

pytestmark = pytest.mark.browser

# One glass of each kind that a ballot may hold, and blanks for them.
SAMPLES = (
    WantedSample("diacetyl", Decimal(3), "50 µl of stock D in 1 l"),
    WantedSample("dms", Decimal(3), "", 1, "intensity", "dms"),
    WantedSample("dms", Decimal(3), "", 1, "a_not_a", "dms"),
    WantedSample("diacetyl", Decimal(2), method="triangle"),
    WantedSample(None, None),
    WantedSample(None, None, "", 1, "a_not_a", "dms"),
)
ZOOMED = {"viewport": {"width": 195, "height": 422}}  # a phone of 390 px at 200 %


@pytest.fixture(scope="module")
def table(tmp_path_factory):
    """A sitting of three, with a link for each."""
    served = table_today(tmp_path_factory.mktemp("used"), SAMPLES, people=3)
    yield served
    served.stop()


@pytest.fixture
def phone(browser):
    """Opens pages on one more phone."""
    contexts = []

    def open_page(address, **screen):
        contexts.append(browser.new_context(**(screen or SCREENS["phone"])))
        page = contexts[-1].new_page()
        page.goto(address)
        return page

    yield open_page
    for context in contexts:
        context.close()


def every_address(table):
    link = next(iter(table.links.values()))
    own = [link, *(f"{link}/{place}" for place in range(1, 7)), f"{link}/unfit", f"{link}x"]
    return [*own, f"{table.address}/door", f"{table.address}/reach"]


def test_a_glass_is_answered_by_keyboard_alone(phone, table):
    link = table.links[min(table.links)]
    page = phone(link, viewport={"width": 390, "height": 844})
    naming = _place_of(page, link, "What do you notice?")
    page.goto(f"{link}/{naming}")
    for _ in range(40):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.name") == "what":
            break
    page.keyboard.press("Space")
    assert page.locator("input[name=what]:checked").count() == 1
    page.keyboard.press("ArrowDown")
    chosen = page.locator("input[name=what]:checked").get_attribute("value")
    assert chosen != "nothing"
    page.keyboard.press("Enter")
    page.get_by_text("Kept:").wait_for()
    page.goto(f"{link}/{naming}")
    assert page.locator("input[name=what]:checked").get_attribute("value") == chosen


def _place_of(page, link, question):
    for place in range(1, 7):
        page.goto(f"{link}/{place}")
        if page.get_by_text(question).count():
            return place
    raise AssertionError(question)


def test_nothing_runs_beside_the_page_at_twice_its_size(phone, table):
    page = phone(table.links[min(table.links)], **ZOOMED)
    for address in every_address(table):
        page.goto(address)
        wide = page.evaluate("document.documentElement.scrollWidth")
        assert wide <= 195, address


def test_everything_that_is_tapped_is_large_enough(phone, table):
    """48 px, as the brewery asks; WCAG 2.2 asks for 24 (2.5.8)."""
    page = phone(table.links[min(table.links)])
    for address in every_address(table):
        page.goto(address)
        low = page.evaluate(
            "() => [...document.querySelectorAll('button, label:has(input), a, input:not([type=hidden]"
            ":not([type=radio]))')].filter(e => e.getBoundingClientRect().height < 47.5"
            " && !e.closest('p.fine') && !e.closest('label:has(input)')?.offsetHeight"
            ").map(e => e.outerHTML.slice(0, 90))"
        )
        assert low == [], address


@pytest.mark.parametrize("shade", ["light", "dark"])
def test_axe_finds_nothing_serious_on_what_phones_are_shown(phone, table, axe, shade):
    page = phone(table.address + "/reach", **SCREENS["phone"], color_scheme=shade)
    for address in every_address(table):
        page.goto(address)
        assert serious(page, axe) == [], address


@pytest.mark.parametrize("shade", ["light", "dark"])
@pytest.mark.parametrize("size", list(SCREENS))
def test_axe_finds_nothing_serious_on_the_leaders_pages_of_ballots(
    browser, table, axe, shade, size
):
    page = sign_in(browser, table, **SCREENS[size], color_scheme=shade)
    for path in (f"session?session={table.session_id}", "phones", "people"):
        page.goto(f"{table.address}/{path}")
        page.locator(".foot").wait_for(timeout=30_000)
        page.wait_for_timeout(1500)
        assert serious(page, axe) == [], path
    page.context.close()


def serious(page, axe):
    """What axe calls serious or critical, as rule and place."""
    # By the debugger's way in, since the policy of a ballot lets no script of a page run.
    session = page.context.new_cdp_session(page)
    session.send("Page.setBypassCSP", {"enabled": True})
    page.reload()
    if page.url.rstrip("/").rsplit("/", 1)[-1].startswith(("session", "phones", "people")):
        page.locator(".foot").wait_for(timeout=30_000)
        page.wait_for_timeout(800)
    page.evaluate(axe)
    found = json.loads(page.evaluate("async () => JSON.stringify(await axe.run())"))
    session.send("Page.setBypassCSP", {"enabled": False})
    session.detach()
    assert len(found["passes"]) > 5  # so that it looked at something
    return [
        (fault["id"], node["target"], re.sub(r"\s+", " ", node["html"])[:120])
        for fault in found["violations"]
        if fault["impact"] in ("serious", "critical")
        for node in fault["nodes"]
    ]
