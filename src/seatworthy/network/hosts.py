"""Only requests that call the server by one of its names are passed on."""

import re
from collections.abc import Sequence

from seatworthy.network.asgi import Message, Receive, Send, Server, asks, header, refuse
from seatworthy.network.refusals import Refusals

_HOST = re.compile(r"(\[[0-9a-f:.]+\]|[a-z0-9.-]+)(?::[0-9]{1,5})?")


class KnownHosts:
    """ASGI middleware: refuses a request under a strange name, or under none or two.

    A page elsewhere may have its own name point to this machine; the browser then sends that name.

    Args:
        app: The server behind it.
        hosts: Our names and addresses, without port, in lower case.
        refusals: Where refusals are told.
    """

    def __init__(self, app: Server, hosts: Sequence[str], refusals: Refusals) -> None:
        self._app, self._hosts, self._refusals = app, frozenset(hosts), refusals

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        """Pass a request on if it calls us by one of our names."""
        if not asks(scope) or self._knows(header(scope, b"host")):
            await self._app(scope, receive, send)
            return
        self._refusals.tell("strange host", scope)
        await refuse(scope, send, 400, "This is not the address of this server.")

    def _knows(self, named: list[str]) -> bool:
        found = _HOST.fullmatch(named[0].lower()) if len(named) == 1 else None
        return found is not None and found[1].strip("[]") in self._hosts
