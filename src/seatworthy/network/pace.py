"""How often one machine may ask, and how much at once: far above what any page or phone needs."""

import time
from collections import Counter, OrderedDict
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Final, Self

from seatworthy.network.asgi import (
    Message,
    Receive,
    Send,
    Server,
    asks,
    client_of,
    is_own_machine,
    refuse,
)
from seatworthy.network.paths import BALLOTS, is_ballot
from seatworthy.network.refusals import Refusals

_REMEMBERED: Final = 2_000  # machines, and as many links
_READING: Final = ("GET", "HEAD")


@dataclass(frozen=True)
class Allowance:
    """What one machine, and all together, may ask.

    A leader's page asks about 120 times when it first opens; a phone 6 times, and twelve phones may
    share one address.

    Attributes:
        at_once: Requests of one machine in one go.
        per_second: Requests by which that fills up again.
        running: Requests of one machine that wait for their answer.
        running_in_all: The same of everybody.
        sockets: Live pages of one machine.
        sockets_in_all: The same of everybody.
    """

    at_once: int = 600
    per_second: float = 40.0
    running: int = 96
    running_in_all: int = 400
    sockets: int = 32
    sockets_in_all: int = 200

    def own(self, times: int = 10) -> Self:
        """What the server's own machine may ask, which nobody else can use up."""
        return type(self)(
            self.at_once * times,
            self.per_second * times,
            self.running * times,
            self.running_in_all * times,
            self.sockets * times,
            self.sockets_in_all * times,
        )


# What may be sent under one ballot's link: a table's answers at once, then one every two seconds. Each
# is kept for good, so whoever holds a link could fill the record and hold up the others with it.
OF_ONE_LINK: Final = Allowance(at_once=60, per_second=0.5)


class Pace:
    """ASGI middleware: refuses a machine that asks too often, or too much at once.

    It also refuses what is sent too often under one ballot's link, whatever machine sends it.

    Args:
        app: The server behind it.
        refusals: Where refusals are told.
        allowance: Of every other machine; this one may ask ten times as much.
        clock: Seconds that only grow.
    """

    def __init__(
        self,
        app: Server,
        refusals: Refusals,
        allowance: Allowance | None = None,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._app, self._refusals, self._clock = app, refusals, clock
        self._others = allowance or Allowance()
        self._left: OrderedDict[str, tuple[float, float]] = OrderedDict()
        self._left_of_links: OrderedDict[str, tuple[float, float]] = OrderedDict()
        self._running: Counter[tuple[str, str]] = Counter()

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        """Pass a request on if its machine may ask it now."""
        if not asks(scope):
            await self._app(scope, receive, send)
            return
        client, kind = client_of(scope), scope["type"]
        allowed = self._others.own() if is_own_machine(client) else self._others
        wait = self._wait(self._left, client, allowed) or self._wait_of_link(scope)
        if wait > 0:
            self._refusals.tell("too many requests", scope)
            again = [(b"retry-after", str(int(wait) + 1).encode("ascii"))]
            await refuse(scope, send, 429, "Too many requests. Wait a moment.", again)
        elif not self._has_room(client, kind, allowed):
            self._refusals.tell("too much at once", scope)
            await refuse(
                scope, send, 503, "Too much at once. Wait a moment.", [(b"retry-after", b"2")]
            )
        else:
            with self._counted(client, kind):
                await self._app(scope, receive, send)

    def _wait(
        self, kept: OrderedDict[str, tuple[float, float]], key: str, allowed: Allowance
    ) -> float:
        """Seconds until one more request is due; 0 takes it from the allowance."""
        now = self._clock()
        left, then = kept.pop(key, (float(allowed.at_once), now))
        left = min(left + (now - then) * allowed.per_second, allowed.at_once)
        is_due = left >= 1
        kept[key] = (left - is_due, now)
        while len(kept) > _REMEMBERED:
            kept.popitem(last=False)
        return 0 if is_due else (1 - left) / allowed.per_second

    def _wait_of_link(self, scope: Message) -> float:
        """The same of what is sent under one ballot's link."""
        path = scope.get("path", "")
        if not is_ballot(path) or scope.get("method", "GET") in _READING:
            return 0
        link = path.removeprefix(BALLOTS).partition("/")[0]
        return self._wait(self._left_of_links, link, OF_ONE_LINK)

    def _has_room(self, client: str, kind: str, allowed: Allowance) -> bool:
        is_socket = kind == "websocket"
        own = allowed.sockets if is_socket else allowed.running
        in_all = allowed.sockets_in_all if is_socket else allowed.running_in_all
        return self._running[client, kind] < own and self._running["*", kind] < in_all

    @contextmanager
    def _counted(self, client: str, kind: str) -> Iterator[None]:
        keys = [(client, kind), ("*", kind)]
        self._running.update(keys)
        try:
            yield
        finally:
            self._running.subtract(keys)
            for key in keys:
                if not self._running[key]:
                    del self._running[key]
