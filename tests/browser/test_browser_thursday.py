"""A whole Thursday on an empty store, in one browser: shelf, people, plan, papers, table, close."""

import re
import socket
import subprocess
import sys
import time
import urllib.request
from contextlib import suppress
from datetime import date

import pytest
from pypdf import PdfReader

sync_api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")

pytestmark = pytest.mark.browser

NAMES = ("Ada Moran", "Bo Larsen", "Carmen Ruiz", "Dilek Aksoy", "Emil Novak", "Fenna de Wit",
         "Goran Petrić", "Hana Sato", "Łukasz Wrona")  # fmt: skip
JUGS = (
    ("diac", "3", True, "50 µl of stock D in 1 l"),
    ("dms", "3", False, "60 µl of stock S in 1 l"),
    ("acetald", "2.5", False, "2 ml of stock A in 1 l"),
    ("pap", "4", False, "one capsule in 1 l"),
)
SETTLED = """() => {
  const app = document.querySelector('[data-testid="stApp"]');
  return app && app.dataset.testScriptState === 'notRunning' && document.querySelector('.foot')
    && !document.querySelector('[data-testid="stSkeleton"], [data-stale="true"]');
}"""
EVERYTHING_IN = "document.querySelector('h1.answer')?.innerText.startsWith('Every answer is in')"


class _Leader:
    """The panel leader at a laptop."""

    def __init__(self, page, address):
        self.page, self.address = page, address

    def open(self, path):
        self.page.goto(f"{self.address}/{path}")
        self.settle()

    def settle(self):
        time.sleep(0.3)  # a click reaches the server a moment after it was made
        self.page.wait_for_function(SETTLED, timeout=60_000)
        assert self.page.get_by_test_id("stException").count() == 0

    def click(self, role, name, *, exact=True):
        self.page.get_by_role(role, name=name, exact=exact).first.click()
        self.settle()

    def pick(self, text):
        self.page.get_by_test_id("stButtonGroup").get_by_text(text, exact=True).first.click()
        self.settle()

    def fill(self, name, text, place=0):
        field = self.page.get_by_role("textbox", name=name, exact=True).nth(place)
        field.fill(text)
        field.press("Tab")
        self.settle()

    def choose(self, name, typed, place=0):
        self._open(self.page.get_by_role("combobox", name=name, exact=True).nth(place))
        self.page.keyboard.type(typed)
        time.sleep(0.3)
        self.page.keyboard.press("Enter")
        self.settle()

    def _open(self, box, tries=5):
        """Open a list; a run of the page that ends just then closes it again."""
        for _ in range(tries):
            box.click()
            with suppress(sync_api.TimeoutError):
                return self.page.get_by_role("option").first.wait_for(timeout=3_000)
            self.settle()
        return pytest.fail(f"the list of {box} does not stay open")

    def told(self):
        return self.page.locator(".told").first.inner_text()

    def sentence(self):
        return self.page.locator("h1.answer").inner_text().replace("\N{NO-BREAK SPACE}", " ")

    def paper(self, name):
        with self.page.expect_download(timeout=60_000) as taken:
            self.page.get_by_role("button", name=name, exact=True).click()
        return PdfReader(taken.value.path())


@pytest.fixture
def leader(browser, tmp_path):
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = [sys.executable, "-m", "seatworthy.cli", "open", "--no-browser", "--port", str(port)]
    with (tmp_path / "log").open("w") as log:
        server = subprocess.Popen(command, cwd=tmp_path, stdout=log, stderr=subprocess.STDOUT)
    address = f"http://127.0.0.1:{port}"
    try:
        _wait_until_healthy(server, address, tmp_path / "log")
        context = browser.new_context(viewport={"width": 1440, "height": 1600})
        yield _Leader(context.new_page(), address)
        context.close()
    finally:
        server.terminate()
        server.wait(15)


def _wait_until_healthy(server, address, log):
    for _ in range(300):
        assert server.poll() is None, log.read_text()
        try:
            urllib.request.urlopen(f"{address}/_stcore/health", timeout=1).close()
        except OSError:
            time.sleep(0.1)
        else:
            return
    pytest.fail(log.read_text())


def test_a_whole_thursday_from_an_empty_store_to_a_changed_board(leader):
    leader.open("")
    assert leader.sentence().startswith("No glasses yet.")
    stock_the_shelf(leader)
    put_people_on_the_panel(leader)
    plan_two_sittings(leader)
    codes = read_the_papers_back(leader)
    spilled = note_what_happens_at_the_table(leader)
    assert spilled in codes
    enter_every_answer(leader)
    correct_one(leader)
    close_and_reveal(leader)
    read_feedback(leader)
    leader.open("")
    assert leader.sentence().startswith("Nobody can sit for the pale lagers yet")
    assert leader.page.locator("th.who").count() == len(NAMES)


def open_first_cell(page):
    """Open the first cell of the table for typing; a table still being drawn takes no clicks."""
    cell = page.locator("#portal textarea, #portal input").first
    for _ in range(20):
        grid = page.locator('[data-testid="stDataFrame"] canvas').first.bounding_box()
        page.mouse.dblclick(grid["x"] + 310, grid["y"] + 35 + 17)
        time.sleep(1)
        if cell.is_visible():
            break
    return cell


def stock_the_shelf(leader):
    leader.open("shelf")
    leader.fill("Name", "Millrace Brewery")
    leader.choose("Time zone", "dublin")
    leader.click("button", "Record the brewery")
    leader.fill("Name of the first base beer", "House Pils")
    leader.choose("Beer family", "Pale lagers")
    leader.fill("% ABV", "4.8")
    leader.click("button", "Put it on the shelf")
    leader.open("shelf?part=thresholds")
    cell = open_first_cell(leader.page)
    for value in ("100", "8", None, "60", "32"):  # papery, acetaldehyde, -, diacetyl, DMS
        if value is None:
            leader.page.keyboard.press("ArrowDown")
            continue
        if not cell.is_visible():
            leader.page.keyboard.press("Enter")
        cell.fill(value)
        leader.page.keyboard.press("Enter")
        cell.wait_for(state="detached")
        time.sleep(0.5)
    leader.settle()
    leader.click("button", "Record 4 thresholds")
    assert "diacetyl 60 µg/l" in leader.told()


def put_people_on_the_panel(leader):
    leader.open("people")
    leader.page.get_by_label("Names, one a line").fill("\n".join(NAMES))
    leader.click("button", "Put them on the panel")
    assert leader.sentence() == "Nine on the panel."


def plan_two_sittings(leader):
    page = leader.page
    leader.open("plan")
    page.get_by_test_id("stDateInput").first.get_by_role("spinbutton").first.click()
    page.keyboard.type(f"{date.today():%Y%m%d}")
    page.keyboard.press("Tab")
    leader.settle()
    leader.pick("2")
    leader.fill("Sitting", "Early", 0)
    leader.fill("Sitting", "Late", 1)
    people = page.get_by_test_id("stMultiSelect")
    people.nth(0).get_by_role("combobox").click()
    for _ in NAMES[5:]:
        page.keyboard.press("Backspace")
        time.sleep(0.2)
    page.keyboard.press("Escape")
    leader.settle()
    late = people.nth(1).get_by_role("combobox")
    late.click()
    for name in NAMES[5:]:
        late.fill(name.split()[0])
        time.sleep(0.3)
        page.keyboard.press("Enter")
        time.sleep(0.3)
    page.keyboard.press("Escape")
    leader.settle()
    for place, (compound, level, is_twice, addition) in enumerate(JUGS, start=1):
        leader.click("button", "Add a jug")
        leader.choose("Compound", compound, place)
        page.get_by_label("Level (×)").nth(place).fill(level)
        page.get_by_label("Level (×)").nth(place).press("Tab")
        leader.settle()
        if is_twice:
            page.get_by_text("twice", exact=True).nth(place).click()
            leader.settle()
        leader.fill("What will be added", addition, place)
    leader.click("button", "Add a blank")
    assert leader.sentence() == "Nine people at two sittings, 72 glasses from 6 jugs."
    page.get_by_role("button", name="Record this plan").click()
    page.wait_for_url("**/session?session=*")
    leader.settle()


def read_the_papers_back(leader):
    """Check all four papers against one another; the codes on the ballots."""
    ballots = leader.paper("Ballots")
    pages = [page.extract_text() for page in ballots.pages]
    assert len(pages) == len(NAMES) + 2  # and a spare order for each sitting
    assert all(any(name in page for page in pages) for name in NAMES)
    codes = re.findall(r"\b[1-9]\d\d\b", "\n".join(pages))
    assert len(set(codes)) == len(codes) == 88
    assert not any("3×" in page or "stock" in page for page in pages)
    key = "\n".join(page.extract_text() for page in leader.paper("Key").pages)
    assert set(codes) <= set(re.findall(r"\b\d{3}\b", key))
    assert "Diacetyl, 3×" in key
    pouring = "\n".join(page.extract_text() for page in leader.paper("Pouring sheet").pages)
    assert set(codes) <= set(re.findall(r"\b\d{3}\b", pouring))
    assert "Diacetyl" not in pouring
    preparation = leader.paper("Preparation list").pages[0].extract_text()
    assert "50 µl of stock D in 1 l" in preparation
    return set(codes)


def note_what_happens_at_the_table(leader):
    """Two clicks each: Bo comes late, and one of Ada's glasses is spilled; its code."""
    leader.pick("Came late")
    leader.pick("Bo Larsen")
    assert leader.told() == "Bo Larsen came late; the glasses stand as planned."
    leader.pick("Glass spilled")
    code = leader.page.get_by_role("radio", name=re.compile(r"^\d{3}$")).first.inner_text()
    leader.click("radio", code)
    assert leader.told() == f"Glass {code} of Ada Moran was spilled; no answer is waited for."
    return code


def enter_every_answer(leader):
    """Type 71 answers by keyboard, with a wrong code and a misspelt name on the way."""
    page = leader.page
    page.get_by_role("link", name="Enter the answers from paper").click()
    page.wait_for_url("**/answers?*")
    leader.settle()
    page.locator("input.answer:visible").first.wait_for()
    page.keyboard.press("Shift+Tab")
    page.keyboard.type("999")
    page.locator(".note", has_text="999 is not on this sheet").wait_for()
    page.keyboard.press("Escape")
    page.locator("input.answer:visible").first.focus()
    page.keyboard.type("diacetil")
    page.keyboard.press("Enter")
    page.locator(".note", has_text="Nearest: Diacetyl").wait_for()
    page.keyboard.press("Escape")
    for said in (["dia", "dms", "0", "acetal", "pap", "?", "dia", "0"] * 9)[:71]:
        page.keyboard.type(said)
        page.keyboard.press("Enter")
    page.wait_for_function(EVERYTHING_IN, timeout=60_000)


def correct_one(leader):
    leader.settle()
    leader.page.get_by_text("Correct an answer").click()
    leader.choose("Glass", "")
    leader.fill("What the sheet really says", "geosmin")
    leader.fill("Why", "misread the sheet")
    leader.choose("Who says so", "Ada")
    leader.click("button", "Correct it")
    assert "was corrected to “geosmin”" in leader.told()


def close_and_reveal(leader):
    leader.page.get_by_role("link", name="To the session").click()
    leader.page.wait_for_url("**/session?*")
    leader.settle()
    leader.click("button", "Early is over")
    assert leader.page.get_by_role("button", name="Close and reveal").is_disabled()
    leader.click("button", "Late is over")
    leader.page.get_by_role("button", name="Close and reveal").click()
    leader.page.wait_for_url("**/reveal?*", timeout=60_000)
    leader.page.locator("h1.answer").wait_for(timeout=60_000)
    leader.settle()
    assert "71 answers came in" in leader.page.locator(".lead").inner_text()


def read_feedback(leader):
    """Everybody's pages in one file, and one of them on screen: nobody else's name is on it."""
    pages = leader.paper("Everybody's feedback, a page each").pages
    assert len(pages) == len(NAMES)
    leader.page.get_by_role("link", name="Carmen Ruiz").first.click()
    leader.page.wait_for_url("**/feedback?*")
    leader.settle()
    assert "of eight right." in leader.sentence()
    carmen = next(page.extract_text() for page in pages if "Carmen Ruiz" in page.extract_text())
    assert not any(name in carmen for name in NAMES if name != "Carmen Ruiz")
