"""What another site's page asks for is refused before the framework looks at it."""

from typing import Final

from seatworthy.network.asgi import Message, Receive, Send, Server, asks, header, refuse
from seatworthy.network.refusals import Refusals

_SCHEMES: Final = {"ws": "http", "wss": "https"}
_READING: Final = ("GET", "HEAD", "OPTIONS")
_OWN_SITES: Final = ("same-origin", "none")


class OwnOrigins:
    """ASGI middleware: refuses what another site's page asks for.

    The framework would refuse it too, but only after asking a machine outside for this one's
    address. So that it never does, an origin that is ours is taken off the request here.

    Args:
        app: The server behind it.
        refusals: Where refusals are told.
    """

    def __init__(self, app: Server, refusals: Refusals) -> None:
        self._app, self._refusals = app, refusals

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        """Pass a request on if it names no origin, or the very one it is sent to."""
        if not asks(scope):
            await self._app(scope, receive, send)
        elif _is_own(scope) and _is_own_site(scope):
            headers = [pair for pair in scope.get("headers", []) if pair[0] != b"origin"]
            await self._app({**scope, "headers": headers}, receive, send)
        else:
            self._refusals.tell("another site's page", scope)
            await refuse(scope, send, 403, "Another site's page may not ask.")


def _is_own(scope: Message) -> bool:
    """Whether scheme, name and port are those of the request itself; "null" never is."""
    origins, hosts = header(scope, b"origin"), header(scope, b"host")
    scheme = scope.get("scheme", "http")
    own = [f"{_SCHEMES.get(scheme, scheme)}://{host}".lower() for host in hosts]
    return not origins or [origin.lower() for origin in origins] == own


def _is_own_site(scope: Message) -> bool:
    """Whether the browser, if it tells, says that what changes something comes from our own page."""
    if scope["type"] == "http" and scope.get("method", "GET") in _READING:
        return True
    return all(site.lower() in _OWN_SITES for site in header(scope, b"sec-fetch-site"))
