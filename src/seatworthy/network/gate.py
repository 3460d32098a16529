"""On a network, everything but ballots and the door needs a ticket, and a brewer's opens little."""

from collections.abc import Callable
from typing import Final
from urllib.parse import quote

from seatworthy.ballot.door import closed_page
from seatworthy.network.asgi import Message, Receive, Send, Server, asks, header, refuse
from seatworthy.network.paths import DOOR, is_for_brewers, is_open, is_page
from seatworthy.network.refusals import Refusals
from seatworthy.steps.leader_tickets import TICKET_COOKIE

_NO_TICKET: Final = 4401
_CLOSED_TO_BREWERS: Final = 4403
_PROTOCOLS: Final = b"sec-websocket-protocol"
_COOKIES_READ: Final = 8  # a browser sends one of a name; who sends many has something else in mind


class Gate:
    """ASGI middleware: lets nobody but the leader, and brewers to their own, past the open addresses.

    Args:
        app: The server behind it.
        is_leader: Whether a ticket is the leader's.
        refusals: Where refusals are told.
        is_brewer: Whether a ticket is a brewer's.
    """

    def __init__(
        self,
        app: Server,
        is_leader: Callable[[str], bool],
        refusals: Refusals,
        is_brewer: Callable[[str], bool] = lambda _: False,
    ) -> None:
        self._app, self._refusals = app, refusals
        self._is_leader, self._is_brewer = is_leader, is_brewer

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        """Pass a request on if its address is open, or the leader's ticket comes with it."""
        if not asks(scope):
            await self._app(scope, receive, send)
        elif self._may_pass(scope):
            await self._app(scope, self._while_it_may(scope, receive, self._may_pass), send)
        elif self._is_brewers(scope):
            await self._for_brewer(scope, receive, send)
        elif _wants_page(scope):
            to = quote(_asked(scope), safe="")
            headers = [(b"location", f"{DOOR}?to={to}".encode("ascii"))]
            await refuse(scope, send, 303, "The passphrase first.", headers)
        else:
            self._refusals.tell("no ticket", scope)
            await refuse(scope, send, 401, "This needs the leader's passphrase.", code=_NO_TICKET)

    async def _for_brewer(self, scope: Message, receive: Receive, send: Send) -> None:
        """Pass on what is listed for brewers; what isn't is closed, whatever it is."""
        if not is_for_brewers(scope):
            self._refusals.tell("a brewer's ticket", scope)
            if _wants_page(scope):
                await closed_page()(scope, receive, send)
            else:
                await refuse(scope, send, 403, "This is the leader's.", code=_CLOSED_TO_BREWERS)
            return
        scope = _without_earlier_session(scope)
        await self._app(scope, self._while_it_may(scope, receive, self._is_brewers), send)

    def _while_it_may(
        self, scope: Message, receive: Receive, may_pass: Callable[[Message], bool]
    ) -> Receive:
        """A live page stays open for hours: it ends with what is said next once its ticket has."""
        if scope["type"] != "websocket":
            return receive

        async def receive_or_end() -> Message:
            message = await receive()
            if may_pass(scope):
                return message
            return {"type": "websocket.disconnect", "code": _NO_TICKET}

        return receive_or_end

    def _may_pass(self, scope: Message) -> bool:
        if scope["type"] == "http" and is_open(scope["path"]):
            return True
        return any(self._is_leader(ticket) for ticket in _tickets(scope))

    def _is_brewers(self, scope: Message) -> bool:
        return any(self._is_brewer(ticket) for ticket in _tickets(scope))


def _without_earlier_session(scope: Message) -> Message:
    """The same request, unable to take up a page that this browser, or another, had open before.

    A live page says in its third protocol which session it goes on with. It might be the leader's,
    and what was clicked there would be done before its page asks whose ticket this is.
    """
    said = b",".join(value for name, value in scope.get("headers", []) if name == _PROTOCOLS)
    headers = [pair for pair in scope.get("headers", []) if pair[0] != _PROTOCOLS]
    if said:
        headers.append((_PROTOCOLS, b",".join(said.split(b",")[:2])))
    return {**scope, "headers": headers}


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
