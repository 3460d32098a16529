"""Connections over which no whole request comes are closed; the server itself would wait for ever."""

import asyncio
from typing import Any, Final

from uvicorn.protocols.http.h11_impl import H11Protocol

from seatworthy.network.asgi import is_own_machine

REQUEST_ARRIVES_S: Final = 15.0
CONNECTIONS: Final = 800
CONNECTIONS_OF_ONE: Final = 128


class PatientProtocol(H11Protocol):
    """The server's own HTTP, with an end to its patience and to the number of its connections."""

    _giving_up: asyncio.TimerHandle | None = None

    def connection_made(self, transport: Any) -> None:  # noqa: ANN401 - as in the class above
        """Greet a connection, unless there are too many."""
        super().connection_made(transport)
        if self._is_one_too_many():
            transport.abort()
        else:
            self._wait_for_request()

    def data_received(self, data: bytes) -> None:
        """Take what comes, and wait on if it is not a whole request yet."""
        super().data_received(data)
        is_handed_on = self.transport.get_protocol() is not self  # it is a live page from now on
        if self._is_answering() or is_handed_on:
            self._stop_waiting()
        elif self._giving_up is None:
            self._wait_for_request()

    def send_400_response(self, msg: str) -> None:
        """Refuse what is no HTTP; in the middle of a request there is nothing left to say."""
        if self._is_answering():
            self.cycle.disconnected = True
            self.cycle.message_event.set()
            self.transport.abort()
        else:
            super().send_400_response(msg)

    def connection_lost(self, exc: Exception | None) -> None:
        """Forget a connection."""
        self._stop_waiting()
        super().connection_lost(exc)

    def _is_answering(self) -> bool:
        return self.cycle is not None and not self.cycle.response_complete

    def _is_one_too_many(self) -> bool:
        if len(self.connections) > CONNECTIONS:
            return True
        client = self.client[0] if self.client else ""
        others = [other.client[0] for other in self.connections if other.client]
        return not is_own_machine(client) and others.count(client) > CONNECTIONS_OF_ONE

    def _wait_for_request(self) -> None:
        self._giving_up = self.loop.call_later(REQUEST_ARRIVES_S, self.transport.abort)

    def _stop_waiting(self) -> None:
        if self._giving_up is not None:
            self._giving_up.cancel()
            self._giving_up = None
