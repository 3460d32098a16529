"""demo and open: the pages in a browser."""

import argparse
import os
import shlex
import sys
from pathlib import Path

from seatworthy.commands.asking_passphrase import settle_passphrase
from seatworthy.commands.command import Command, Said, store_word
from seatworthy.commands.lan import lan_words, listening
from seatworthy.commands.launcher import free_port, open_pages
from seatworthy.network.settings import COMMAND_VARIABLE
from seatworthy.steps.demo import plan_today, set_up_demo
from seatworthy.steps.demo_release import hold_releases
from seatworthy.steps.desk import Desk, held_desk, let_go, store_path
from seatworthy.steps.safekeeping import folder_warning

DEMO_STORE = Path("seatworthy-demo") / "panel.duckdb"


def _page_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--port",
        type=_port,
        metavar="N",
        help="port to serve on (default: the first free from 8501)",
    )
    parser.add_argument(
        "--no-browser", action="store_true", help="print the address, open no browser"
    )
    lan_words(parser)


def _port(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= 65535:
        message = f"“{text}” is not a port from 1 to 65535"
        raise argparse.ArgumentTypeError(message)
    return int(text)


def _open_words(parser: argparse.ArgumentParser) -> None:
    store_word(parser)
    _page_words(parser)


def _demo(said: Said) -> int:
    brought = set_up_demo(DEMO_STORE)
    if brought is not None:
        print(
            f"An invented brewery was set up in {DEMO_STORE}: {len(brought.new_people)} panellists, "
            f"{brought.sessions} sessions, {brought.added} answers; this morning's release sitting "
            "waits to be weighed, and one more session is planned for today."
        )
    desk = held_desk(DEMO_STORE)
    if brought is not None:
        hold_releases(desk)
        plan_today(desk)
    return _serve(said, desk, ["demo"])


def _open(said: Said) -> int:
    path = store_path(said.store)
    is_new = not path.exists()
    if warning := folder_warning(path):
        print(warning, file=sys.stderr)
    desk = held_desk(path)
    if is_new:
        print(f"{path} is a new, empty store. Start with the shelf and the people.")
    return _serve(said, desk, ["open", *(["--store", said.store] if said.store else [])])


def _serve(said: Said, desk: Desk, words: list[str]) -> int:
    """Serve the pages; the desk is held as long as that lasts, so that there is one owner.

    Args:
        said: The words of the command.
        desk: The open store.
        words: The command and its store, as it is typed again.
    """
    port_words = ["--port", str(said.port)] if said.port else []
    os.environ[COMMAND_VARIABLE] = shlex.join(["seatworthy", *words, *port_words, "--lan"])
    try:
        to = listening(said)
        port = free_port(to.address, said.port)
        if to.is_lan:
            settle_passphrase(desk, new=said.new_passphrase)
        return open_pages(desk.store.path, port, browser=not said.no_browser, to=to)
    finally:
        let_go(desk)


DEMO = Command(
    "Set up an invented brewery in the folder seatworthy-demo (kept between runs) and open it.\n"
    "Its calendar is moved so that its last session was less than a week ago; one is planned for today.",
    _page_words,
    _demo,
)
OPEN = Command(
    "Serve the pages of your store, and open them in the browser; a store that is not there yet is\n"
    "made. Only this machine reaches them, unless --lan lets phones in. Close with Ctrl+C.",
    _open_words,
    _open,
)
