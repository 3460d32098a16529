"""How much may be sent with a request, and how long that may take."""

import asyncio
from typing import Final

from seatworthy.network.asgi import Message, Receive, Send, Server, header, refuse
from seatworthy.network.paths import UPLOADS
from seatworthy.network.refusals import Refusals

FORM_BYTES: Final = 16 * 1024
UPLOAD_BYTES: Final = (
    51 * 2**20
)  # as much as the frame takes itself: 50 MiB, and one for its wrapping
ARRIVES_S: Final = 15.0
UPLOAD_ARRIVES_S: Final = 300.0
_READING: Final = ("GET", "HEAD", "OPTIONS")


class _TooMuch(Exception):
    """More was sent than may be."""


class _TooSlow(Exception):
    """What was announced did not come."""


class Bodies:
    """ASGI middleware: cuts off what is too long or does not arrive.

    A form is read whole before anything looks at it. A file that is brought in passes through piece
    by piece; its own page has the last word on its size.

    Args:
        app: The server behind it.
        refusals: Where refusals are told.
        arrives_s: Seconds in which a form, or the next piece of a file, must arrive.
        upload_arrives_s: Seconds in which a whole file must.
    """

    def __init__(
        self,
        app: Server,
        refusals: Refusals,
        arrives_s: float = ARRIVES_S,
        upload_arrives_s: float = UPLOAD_ARRIVES_S,
    ) -> None:
        self._app, self._refusals = app, refusals
        self._arrives_s, self._upload_arrives_s = arrives_s, upload_arrives_s

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        """Pass a request on with what it brings, if that is little and comes soon enough."""
        if scope["type"] != "http" or not _brings_something(scope):
            await self._app(scope, receive, send)
            return
        started = False

        async def noting(message: Message) -> None:
            nonlocal started
            started = True
            await send(message)

        try:
            await self._app(scope, await self._checked(scope, receive), noting)
        except _TooMuch:
            self._refusals.tell("too long", scope)
            if not started:
                await refuse(scope, send, 413, "This is more than may be sent here.")
        except _TooSlow:
            self._refusals.tell("too slow", scope)
            if not started:
                await refuse(scope, send, 408, "What was to be sent did not arrive in time.")

    async def _checked(self, scope: Message, receive: Receive) -> Receive:
        is_upload = scope["path"].startswith(UPLOADS)
        limit = UPLOAD_BYTES if is_upload else FORM_BYTES
        if any(not _is_within(n, limit) for n in header(scope, b"content-length")):
            raise _TooMuch
        pieces = _Pieces(receive, limit, self._arrives_s)
        if is_upload:
            pieces.due_in(self._upload_arrives_s)
            return pieces.next
        pieces.due_in(self._arrives_s)
        return await pieces.whole()


class _Pieces:
    """What comes with one request.

    Args:
        receive: Where it comes from.
        limit: Bytes that may come.
        patience_s: Seconds for which one piece is waited for.
    """

    def __init__(self, receive: Receive, limit: int, patience_s: float) -> None:
        self._receive, self._left, self._patience_s = receive, limit, patience_s
        self._due, self._has_all = 0.0, False

    def due_in(self, seconds: float) -> None:
        """State in how many seconds from now everything must have come."""
        self._due = asyncio.get_running_loop().time() + seconds

    async def next(self) -> Message:
        """The next piece; once all have come, what the server says of the connection.

        Raises:
            _TooMuch: if more comes than may.
            _TooSlow: if it does not come in time.
        """
        if self._has_all:
            return await self._receive()
        left_s = self._due - asyncio.get_running_loop().time()
        try:
            message = await asyncio.wait_for(self._receive(), min(self._patience_s, max(left_s, 0)))
        except TimeoutError:
            raise _TooSlow from None
        self._left -= len(message.get("body", b""))
        if self._left < 0:
            raise _TooMuch
        self._has_all = not message.get("more_body", False)
        return message

    async def whole(self) -> Receive:
        """Wait for everything, and hand it over in one piece."""
        body, message = b"", await self.next()
        while message["type"] == "http.request":
            body += message.get("body", b"")
            if self._has_all:
                message = {"type": "http.request", "body": body, "more_body": False}
                break
            message = await self.next()
        waiting = [message]

        async def receive() -> Message:
            return waiting.pop() if waiting else await self._receive()

        return receive


def _brings_something(scope: Message) -> bool:
    lengths = header(scope, b"content-length")
    if header(scope, b"transfer-encoding"):
        return True
    return lengths not in ([], ["0"]) if scope["method"] in _READING else lengths != ["0"]


def _is_within(length: str, limit: int) -> bool:
    return length.isdecimal() and len(length) <= len(str(limit)) and int(length) <= limit
