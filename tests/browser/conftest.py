"""A real Chromium against a real server over the sample brewery; skipped where there is none."""

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from contextlib import contextmanager
from pathlib import Path

import pytest
from page_reader import Reader
from screens import SCREENS

from seatworthy.commands.opening import DEMO_STORE
from seatworthy.steps.demo import plan_today, set_up_demo
from seatworthy.steps.desk import open_desk

sync_api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")

REQUIRED = "SEATWORTHY_BROWSER_REQUIRED"  # set where a missing browser is a failure, not an excuse
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-dev-shm-usage",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


@pytest.fixture(scope="session")
def browser():
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        if os.environ.get(REQUIRED):
            pytest.fail("there is no chromium on this machine, and it is required here")
        pytest.skip("there is no chromium on this machine")
    with sync_api.sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=chromium, args=FLAGS)
        yield started
        started.close()


@contextmanager
def _served(folder):
    """Where a sample brewery of one's own is served, in a process of its own."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = [sys.executable, "-m", "seatworthy.cli", "demo", "--no-browser", "--port", str(port)]
    with (folder / "log").open("w") as log:
        server = subprocess.Popen(command, cwd=folder, stdout=log, stderr=subprocess.STDOUT)
    try:
        _wait_until_healthy(server, port, folder / "log")
        yield f"http://127.0.0.1:{port}"
    finally:
        server.terminate()
        server.wait(15)


def _without_releases(store):
    """The sample brewery, as the program finds it when it was started before."""
    set_up_demo(store)
    desk = open_desk(store)
    plan_today(desk)
    desk.close()


@pytest.fixture(scope="session")
def address(tmp_path_factory):
    """Where the sample brewery is served that tests only look at."""
    with _served(tmp_path_factory.mktemp("served")) as served:
        yield served


@pytest.fixture
def leader(browser, tmp_path):
    """A reader at a desk whose sample brewery may be changed; the releases take longest to make."""
    _without_releases(tmp_path / DEMO_STORE)
    with _served(tmp_path) as served:
        reader = Reader(browser, served, "desk", "light")
        yield reader
        reader.context.close()


@pytest.fixture(scope="session")
def readers(browser, address):
    """One reader for each screen and shade, who keeps the server's files between tests."""
    started = {
        (size, shade): Reader(browser, address, size, shade)
        for size in SCREENS
        for shade in ("light", "dark")
    }
    yield started
    for reader in started.values():
        reader.context.close()


@pytest.fixture(
    params=[(size, shade) for size in SCREENS for shade in ("light", "dark")], ids="-".join
)
def screen(request, readers):
    """A reader on one screen and shade."""
    return readers[request.param].fresh()


@pytest.fixture
def desk(readers):
    """A reader at a desk, on light."""
    return readers["desk", "light"].fresh()


@pytest.fixture(scope="session")
def axe():
    """The text of axe-core, whose file an environment variable names."""
    path = os.environ.get("SEATWORTHY_AXE")
    if not path:
        pytest.skip("SEATWORTHY_AXE does not name a file of axe-core")
    return Path(path).read_text(encoding="utf-8")


def _wait_until_healthy(server, port, log):
    for _ in range(
        1800
    ):  # a new sample brewery is set up first, which takes long on a busy machine
        if server.poll() is not None:
            pytest.fail(log.read_text())
        try:
            urllib.request.urlopen(f"http://127.0.0.1:{port}/_stcore/health", timeout=1).close()
        except OSError:
            time.sleep(0.1)
        else:
            return
    pytest.fail(f"the server did not answer: {log.read_text()}")
