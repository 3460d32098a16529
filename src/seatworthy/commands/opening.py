"""demo and open: the pages in a browser."""

import argparse
from pathlib import Path

from seatworthy.commands.command import Command, Said, desk_of, store_word
from seatworthy.commands.launcher import open_pages
from seatworthy.steps.demo import set_up_demo
from seatworthy.steps.desk import open_desk, store_path

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
            f"{brought.sessions} sessions, {brought.added} answers."
        )
    desk = open_desk(DEMO_STORE)
    try:
        return open_pages(DEMO_STORE, said.port, browser=not said.no_browser)
    finally:
        desk.close()


def _open(said: Said) -> int:
    path = store_path(said.store)
    is_new = not path.exists()
    desk = desk_of(said)  # held as long as the server runs, so that there is one owner
    if is_new:
        print(f"{path} is a new, empty store. Start with the shelf and the people.")
    try:
        return open_pages(store_path(said.store), said.port, browser=not said.no_browser)
    finally:
        desk.close()


DEMO = Command(
    "Set up an invented brewery in the folder seatworthy-demo (kept between runs) and open it.\n"
    "Its calendar is moved so that its last session was less than a week ago.",
    _page_words,
    _demo,
)
OPEN = Command(
    "Serve the pages of your store on this machine only, and open them in the browser; a store that\n"
    "is not there yet is made. Close with Ctrl+C.",
    _open_words,
    _open,
)
