"""Addresses: which are plain, and which stand open without the leader's passphrase."""

import re
from typing import Final

from seatworthy.network.asgi import Message, Receive, Send, Server, asks, refuse
from seatworthy.network.refusals import Refusals
from seatworthy.steps.roles import BREWERS_PAGES, is_brewers_page

BALLOTS: Final = "/b/"
DOOR: Final = "/door"
LEAVE: Final = "/door/leave"
REACH: Final = "/reach"
UPLOADS: Final = "/_stcore/upload_file/"
_HEALTH = "/_stcore/health"
_FRAMES: Final = ("/_stcore/host-config", _HEALTH)  # what a page asks for before it is live
_BREWERS_SERVICES: Final = frozenset(
    # Below a page's own address too, since the frame looks for them there first.
    {"/favicon.png", *_FRAMES, *(f"/{page}{one}" for page in BREWERS_PAGES for one in _FRAMES)}
)
_LIVE: Final = "/_stcore/stream"
_READING: Final = ("GET", "HEAD")
_OPEN = frozenset({DOOR, LEAVE, REACH, _HEALTH})
_OPEN_BELOW = (BALLOTS, "/ballot-look/", "/fonts/")
_SERVICES = ("/_stcore/", "/media/", "/component/", "/static/")
_PLAIN = re.compile(r"/|(?:/(?!\.)[A-Za-z0-9_~@+=,:!.-]+(?<!\.))+/?")
_LONGEST: Final = 1_000


class PlainPaths:
    """ASGI middleware: refuses an address that is written in any but the plainest way.

    Ours need no escapes, no dots at either end of a part, no doubled or turned slashes; with those
    out of the way an address means the same to every layer that reads it.

    Args:
        app: The server behind it.
        refusals: Where refusals are told.
    """

    def __init__(self, app: Server, refusals: Refusals) -> None:
        self._app, self._refusals = app, refusals

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        """Pass a request on if its address is plain."""
        if not asks(scope) or is_plain(scope):
            await self._app(scope, receive, send)
            return
        self._refusals.tell("odd address", scope)
        await refuse(scope, send, 400, "There is no such address here.")


def is_plain(scope: Message) -> bool:
    """Whether an address is written in the plainest way."""
    path = scope.get("path", "")
    raw = scope.get("raw_path") or path.encode("utf-8", "surrogatepass")
    as_sent = raw.partition(b"?")[0] == path.encode("utf-8", "surrogatepass")
    return as_sent and len(path) <= _LONGEST and _PLAIN.fullmatch(path) is not None


def is_ballot(path: str) -> bool:
    """Whether an address belongs to a ballot."""
    return path.startswith(BALLOTS)


def is_open(path: str) -> bool:
    """Whether an address stands open to everybody on the network."""
    return path in _OPEN or path.startswith(_OPEN_BELOW)


def is_for_brewers(scope: Message) -> bool:
    """Whether a brewer's ticket opens an address: their pages, and what the frame of a page needs."""
    path = scope["path"]
    if scope["type"] == "websocket":
        return path == _LIVE
    is_listed = is_brewers_page(path) or path in _BREWERS_SERVICES or path.startswith("/static/")
    return scope["method"] in _READING and is_listed


def is_page(path: str) -> bool:
    """Whether an address may be a page, and not one of the things a page is made of."""
    return not path.startswith(_SERVICES)
