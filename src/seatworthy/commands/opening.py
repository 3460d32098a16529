"""demo and open: the pages in a browser."""

import argparse
import os
import shlex
import webbrowser
from pathlib import Path
from urllib.parse import urlsplit

from seatworthy.commands.asking_passphrase import settle_passphrase
from seatworthy.commands.command import (
    Command,
    Said,
    say_what_was_kept,
    store_word,
    warn_of_place,
)
from seatworthy.commands.errand import owner_of
from seatworthy.commands.explaining import check_free
from seatworthy.commands.lan import lan_words, listening
from seatworthy.commands.launcher import free_port, open_pages
from seatworthy.commands.note import Note
from seatworthy.commands.owning import taking_commands
from seatworthy.errors import StoreError
from seatworthy.network.settings import COMMAND_VARIABLE
from seatworthy.steps.demo import plan_today, set_up_demo
from seatworthy.steps.demo_release import hold_releases
from seatworthy.steps.desk import Desk, held_desk, let_go, store_path

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
    if (owner := owner_of(DEMO_STORE)) is not None:
        return _open_already(said, owner)
    check_free(DEMO_STORE)
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
    if (owner := owner_of(path)) is not None:
        return _open_already(said, owner)
    is_new = not path.exists()
    warn_of_place(path)
    check_free(path)
    desk = held_desk(path)
    say_what_was_kept(desk)
    if is_new:
        print(f"{path} is a new, empty store. Start with the shelf and the people.")
    return _serve(said, desk, ["open", *(["--store", said.store] if said.store else [])])


def _open_already(said: Said, owner: Note) -> int:
    """Lead to the pages that are open; what was asked besides can only be had by opening anew.

    Raises:
        StoreError: if something was asked besides.
    """
    others = {
        "--lan": said.lan and not owner.is_lan,
        f"--port {said.port}": said.port not in (None, urlsplit(owner.address).port),
        "--new-passphrase": said.new_passphrase,
    }
    here = f"open already, at {owner.address} (process {owner.process})"
    if asked := [word for word, is_other in others.items() if is_other]:
        message = (
            f"The store is {here}, without {asked[0]}. Stop it there (Ctrl+C), then say this again."
        )
        raise StoreError(message)
    print(f"It is {here}. Stop it there with Ctrl+C.", flush=True)
    if not said.no_browser:
        webbrowser.open(owner.address)
    return 0


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
        with taking_commands(desk, to.here(port), is_lan=to.is_lan):
            return open_pages(desk.store.path, port, browser=not said.no_browser, to=to)
    finally:
        let_go(desk)


DEMO = Command(
    "Set up an invented brewery in the folder seatworthy-demo (kept between runs) and open it.\n"
    "Its calendar is moved so that its last session was less than a week ago; one is planned for today.",
    _page_words,
    _demo,
    is_alone=True,
)
OPEN = Command(
    "Serve the pages of your store, and open them in the browser; a store that is not there yet is\n"
    "made. Only this machine reaches them, unless --lan lets phones in. Close with Ctrl+C.",
    _open_words,
    _open,
    is_alone=True,
)
