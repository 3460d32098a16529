"""Whoever tries links that open nothing is answered ever more slowly; a link that holds never waits."""

import asyncio
import time
from collections import OrderedDict, deque
from collections.abc import Awaitable, Callable
from typing import Final

from seatworthy.network.asgi import Message, Receive, Send, Server, client_of, refuse
from seatworthy.network.paths import is_ballot
from seatworthy.network.refusals import Refusals

MISSES_OF_ONE: Final = 20  # in a minute, before the first wait
MISSES_IN_ALL: Final = 200
LONGEST_WAIT_S: Final = 3.0
WAITING_OF_ONE: Final = 16
WAITING_IN_ALL: Final = 48
_FIRST_WAIT_S = 0.1
_DOUBLES_EVERY = 10  # misses
_MINUTE_S = 60.0
_REMEMBERED = 1_000  # machines


class GuessGuard:
    """ASGI middleware: slows down guesses at ballots' links.

    The server answers first and the guard looks at its answer, so that only a miss ever waits. What
    keeps a link from being guessed is its length (128 bits); this keeps guesses from being a load.

    Args:
        app: The server behind it.
        refusals: Where refusals are told.
        clock: Seconds that only grow.
        sleep: Waits so many seconds.
    """

    def __init__(
        self,
        app: Server,
        refusals: Refusals,
        clock: Callable[[], float] = time.monotonic,
        sleep: Callable[[float], Awaitable[None]] = asyncio.sleep,
    ) -> None:
        self._app, self._refusals = app, refusals
        self._clock, self._sleep = clock, sleep
        self._own: OrderedDict[str, deque[float]] = OrderedDict()
        self._all: deque[float] = deque(maxlen=MISSES_IN_ALL * 4)
        self._waiting: dict[str, int] = {}

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        """Pass a request on, and hold its answer back if it is one miss too many."""
        if scope["type"] != "http" or not is_ballot(scope["path"]):
            await self._app(scope, receive, send)
            return
        is_dropped = False

        async def send_later(message: Message) -> None:
            nonlocal is_dropped
            if message["type"] == "http.response.start" and message["status"] == 404:
                is_dropped = not await self._waited(scope)
                if is_dropped:
                    again = [(b"retry-after", b"60")]
                    await refuse(scope, send, 429, "Too many links that open nothing.", again)
            if not is_dropped:
                await send(message)

        await self._app(scope, receive, send_later)

    async def _waited(self, scope: Message) -> bool:
        """Wait as long as this miss must; False if too many wait already."""
        client = client_of(scope)
        wait_s = self._counted(client)
        if wait_s == 0:
            return True
        self._refusals.tell("links that open nothing", scope)
        waiting = self._waiting.get(client, 0)
        if waiting >= WAITING_OF_ONE or sum(self._waiting.values()) >= WAITING_IN_ALL:
            return False
        self._waiting[client] = waiting + 1
        try:
            await self._sleep(wait_s)
        finally:
            self._waiting[client] -= 1
            if not self._waiting[client]:
                del self._waiting[client]
        return True

    def _counted(self, client: str) -> float:
        """Count a miss, and say how many seconds it waits."""
        now = self._clock()
        own = self._own.setdefault(client, deque(maxlen=MISSES_OF_ONE * 5))
        self._own.move_to_end(client)
        while len(self._own) > _REMEMBERED:
            self._own.popitem(last=False)
        for misses in (own, self._all):
            misses.append(now)
            while now - misses[0] > _MINUTE_S:
                misses.popleft()
        return max(_wait(len(own) - MISSES_OF_ONE), _wait((len(self._all) - MISSES_IN_ALL) / 10))


def _wait(too_many: float) -> float:
    if too_many <= 0:
        return 0.0
    return float(min(_FIRST_WAIT_S * 2 ** (too_many / _DOUBLES_EVERY), LONGEST_WAIT_S))
