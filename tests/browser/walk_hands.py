"""Those who walk through the whole job: the brewery that is served, its leader, and the phones."""

import io
import re
import socket
import subprocess
import sys
import time
from functools import cache
from pathlib import Path

from page_reader import Reader
from PIL import Image, ImageColor
from pypdf import PdfReader
from served_sessions import PASSPHRASE, Server

from seatworthy.charts.palette import COLOURS

DESK = {"viewport": {"width": 1100, "height": 860}}
PHONE = {
    "viewport": {"width": 390, "height": 760},
    "is_mobile": True,
    "has_touch": True,
    "device_scale_factor": 1.5,
}
SCROLL = """here => {
  here.scrollIntoView({block: 'start'});
  document.querySelector('[data-testid=stMain]').scrollBy(0, -72);  // the bar lies over the page
}"""
STEPS = (0.25, 0.5, 0.75)  # of a letter's edge, between its ink and the paper
PATIENCE_MS = 90_000  # for a page on a machine that has other work


class Brewery(Server):
    """The sample brewery behind a passphrase, so that phones may come in.

    Args:
        store: Its store, which is there.
    """

    words = ("--lan", "--address", "127.0.0.1")

    def __init__(self, store):
        self.folder, self.store, self.process = store.parent, store, None
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]

    def told(self, *words):
        """What a command says at the terminal; it succeeds."""
        command = [sys.executable, "-m", "seatworthy.cli", *map(str, words)]
        done = subprocess.run(
            command, cwd=self.folder, capture_output=True, text=True, timeout=300, check=False
        )
        assert done.returncode == 0, done.stderr
        return done.stdout

    def decisions(self):
        """Every decision as it stands in the record, its digest of the facts with it."""
        with self.desk_at_a_copy() as desk:
            return desk.store.rows("decisions")


class Leader(Reader):
    """The panel leader at a laptop, who passes the door and may take pictures on the way.

    Args:
        browser: Chromium.
        address: Of the brewery.
        pictures: Folder for pictures; None to take none.

    Attributes:
        been: Where each page was seen last, by its path, for those that are told what to show.
    """

    def __init__(self, browser, address, pictures=None):
        super().__init__(browser, address, "desk", "light", **DESK)
        self.pictures, self.been = pictures, {}
        self.page.goto(address)
        self.page.locator("input[type=password]").fill(PASSPHRASE)
        self.page.locator("button[type=submit]").click()
        self.settle()

    def settle(self):
        """Wait until the page is drawn; a click reaches the server a moment after it was made."""
        time.sleep(0.25)
        super().settle()
        path, _, query = self.page.url.removeprefix(self.address).strip("/").partition("?")
        if path and query:
            self.been[path] = f"{path}?{query}"

    def press(self, name, place=0):
        """Press a button, by its words or by how they begin."""
        self.page.get_by_role("button", name=name).nth(place).click()
        self.settle()

    def follow(self, name, to, place=0):
        """Click a link and wait for its page."""
        self.page.get_by_role("link", name=name).nth(place).click()
        self.page.wait_for_url(f"**/{to}", timeout=60_000)
        self.settle()

    def choose(self, name, typed):
        """Choose from a list by its first letters."""
        self.page.get_by_role("combobox", name=re.compile(name)).first.click()
        self.page.keyboard.type(typed)
        time.sleep(0.3)
        self.page.keyboard.press("Enter")
        self.settle()

    def says(self, pattern):
        """Wait until the sentence on top is the one that is meant."""
        top = self.page.locator("h1.answer")
        return awaited(lambda: top.count() and read(top), pattern)

    def told(self, pattern):
        """Wait until the page says this of something recorded."""
        told = self.page.locator(".told")
        return awaited(lambda: told.count() and read(told.last), pattern)

    def reads(self, pattern):
        """Wait until this is to be read anywhere on the page."""
        return awaited(self.whole, pattern)

    def whole(self):
        """All that is on the page."""
        return read(self.page.get_by_test_id("stMain"))

    def paper(self, name):
        """The text of a paper, each page for itself."""
        with self.page.expect_download(timeout=60_000) as taken:
            self.page.get_by_role("button", name=name, exact=True).click()
        return [page.extract_text() for page in PdfReader(taken.value.path()).pages]

    def look(self, name, at=None):
        """Keep a picture of the screen, scrolled to something if it is named."""
        keep_picture(self.pictures, name, self.page, at)


def awaited(words_of, pattern, within_s=60):
    """Wait until some words hold a pattern; they are told if they never do.

    Args:
        words_of: Reads the words as they are now; none are falsy.
        pattern: A regular expression.
        within_s: How long to wait, which a busy machine may need.
    """
    end = time.monotonic() + within_s
    while True:
        words = words_of() or ""
        if re.search(pattern, words):
            return words
        assert time.monotonic() < end, f"“{pattern}” is not in “{words}”"
        time.sleep(0.1)


def read(place):
    """What a person reads, without the blanks that only keep words together."""
    return place.inner_text().replace("\N{NO-BREAK SPACE}", " ").replace("\N{WORD JOINER}", "")


def keep_picture(folder, name, page, at=None):
    """Keep a small picture of what a page shows; nothing without a folder."""
    if folder is None:
        return
    page.mouse.move(0, 0)
    if at is not None:
        page.locator(at).first.evaluate(SCROLL)
        page.wait_for_timeout(300)
    shot = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
    small = shot.quantize(palette=few_colours(), dither=Image.Dither.NONE).convert("RGB")
    small.save(Path(folder) / f"{name}.webp", lossless=True, quality=100, method=6)


@cache
def few_colours():
    """A palette of the inks of the light pages and of the steps between them and the paper."""
    inks = {name: ImageColor.getrgb(code) for name, code in COLOURS["light"].items()}
    colours = {*inks.values(), (255, 255, 255)}
    for name in ("ink", "ink3", "bottle", "amber"):
        for step in STEPS:
            pairs = zip(inks[name], inks["paper"], strict=True)
            colours.add(tuple(round(step * ink + (1 - step) * paper) for ink, paper in pairs))
    palette = Image.new("P", (1, 1))
    palette.putpalette([part for colour in sorted(colours) for part in colour])
    return palette


class Phones:
    """Everybody's phone, each in a browser of its own, all open at the same time.

    Args:
        browser: Chromium.
        address: Of the brewery.
        links: Address of each person's ballot, by name.
    """

    def __init__(self, browser, address, links):
        self.links = links
        self.readers = {name: Reader(browser, address, "phone", "light", **PHONE) for name in links}

    def page(self, name):
        """What somebody's phone shows."""
        return self.readers[name].page

    def open_all(self):
        """Everybody opens their ballot and goes on to their next glass."""
        for name, link in self.links.items():
            self.page(name).goto(link)
            self.tap(name, ".go a")

    def code(self, name):
        """The code of the glass on somebody's screen; "" where there is none."""
        shown = self.page(name).locator("h1.codes b")
        return shown.inner_text() if shown.count() else ""

    def say(self, name, said):
        """Say one thing of the glass on the screen, "" for nothing, and send it."""
        page = self.page(name)
        if said:
            word = page.locator(".name", has_text=re.compile(f"^{said}$"))
            page.locator(".names label.tile").filter(has=word).tap()
        else:
            page.locator("label[for=what-nothing]").tap()
        self.tap(name, "form[method=post] button[type=submit]")

    def tap(self, name, what):
        """Tap what leads to another page."""
        page = self.page(name)
        with page.expect_navigation(timeout=PATIENCE_MS):
            page.locator(what).last.tap()

    def look(self, name, pictures, picture):
        """Keep a picture of what somebody's phone shows."""
        keep_picture(pictures, picture, self.page(name))

    def heading(self, name):
        """The sentence on top of somebody's screen."""
        return read(self.page(name).locator("h1").first)

    def close(self):
        """Put them all away; none asked for anything outside or complained."""
        for reader in self.readers.values():
            assert reader.outside == []
            assert reader.complaints == []
            reader.context.close()


def links_on(cards):
    """Whose link leads where, as it stands on the printed cards."""
    text = "\n".join(cards)
    names = re.findall(r"^(.+)\n\w+day \d+", text, re.MULTILINE)
    links = re.findall(r"http://127\.0\.0\.1:\d+/b/[\w-]{22}", text)
    return dict(zip(names, links, strict=True))


def key_of(pages):
    """What is in the glass of each code, as the printed key says: a compound's name, or ""."""
    rows = re.findall(r"^(\d{3})\n.+\n[A-Z]\n(.+)$", "\n".join(pages), re.MULTILINE)
    return {code: "" if what == "nothing added" else what.partition(",")[0] for code, what in rows}
