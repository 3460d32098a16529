"""On a network, everything but ballots and the door needs the leader's ticket."""

from collections.abc import Callable
from typing import Final
from urllib.parse import quote

from seatworthy.network.asgi import Message, Receive, Send, Server, asks, header, refuse
from seatworthy.network.paths import DOOR, is_open, is_page
from seatworthy.network.refusals import Refusals
from seatworthy.steps.leader_tickets import TICKET_COOKIE

_NO_TICKET: Final = 4401
_COOKIES_READ: Final = 8  # a browser sends one of a name; who sends many has something else in mind


class Gate:
    """ASGI middleware: lets nobody but the leader past the open addresses.

    Args:
        app: The server behind it.
        is_leader: Whether a ticket is the leader's.
        refusals: Where refusals are told.
    """

    def __init__(self, app: Server, is_leader: Callable[[str], bool], refusals: Refusals) -> None:
        self._app, self._is_leader, self._refusals = app, is_leader, refusals

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        """Pass a request on if its address is open, or the leader's ticket comes with it."""
        if not asks(scope):
            await self._app(scope, receive, send)
        elif self._may_pass(scope):
            await self._app(scope, self._still_leader(scope, receive), send)
        elif _wants_page(scope):
            to = quote(_asked(scope), safe="")
            headers = [(b"location", f"{DOOR}?to={to}".encode("ascii"))]
            await refuse(scope, send, 303, "The passphrase first.", headers)
        else:
            self._refusals.tell("no ticket", scope)
            await refuse(scope, send, 401, "This needs the leader's passphrase.", code=_NO_TICKET)

    def _still_leader(self, scope: Message, receive: Receive) -> Receive:
        """A live page stays open for hours: it ends with what is said next once its ticket has."""
        if scope["type"] != "websocket":
            return receive

        async def receive_or_end() -> Message:
            message = await receive()
            if self._may_pass(scope):
                return message
            return {"type": "websocket.disconnect", "code": _NO_TICKET}

        return receive_or_end

    def _may_pass(self, scope: Message) -> bool:
        if scope["type"] == "http" and is_open(scope["path"]):
            return True
        return any(self._is_leader(ticket) for ticket in _tickets(scope))


def _tickets(scope: Message) -> list[str]:
    pairs = [
        pair.strip().partition("=") for line in header(scope, b"cookie") for pair in line.split(";")
    ]
    return [value for name, _, value in pairs if name == TICKET_COOKIE][:_COOKIES_READ]


def _wants_page(scope: Message) -> bool:
    """Whether a person typed the address or followed a link to it."""
    if scope["type"] != "http" or scope["method"] not in ("GET", "HEAD"):
        return False
    accepted = ",".join(header(scope, b"accept"))
    return is_page(scope["path"]) and ("text/html" in accepted or scope["path"] == "/")


def _asked(scope: Message) -> str:
    query = scope.get("query_string", b"").decode("latin-1")
    return f"{scope['path']}?{query}" if query else str(scope["path"])
