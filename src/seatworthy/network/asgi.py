"""The words of ASGI that every layer uses: messages, headers, and a refusal."""

from collections.abc import Awaitable, Callable, MutableMapping
from typing import Any, Final

Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
Server = Callable[[Message, Receive, Send], Awaitable[None]]
Headers = list[tuple[bytes, bytes]]

LOOPBACK: Final = frozenset({"127.0.0.1", "::1"})
_CLOSED_BY_POLICY = 1008
_TEXT = (b"content-type", b"text/plain; charset=utf-8")


def header(scope: Message, name: bytes) -> list[str]:
    """Every value of a header, in the order sent; `name` in lower case."""
    found = [value for key, value in scope.get("headers", []) if key == name]
    return [value.decode("latin-1") for value in found]


def client_of(scope: Message) -> str:
    """Address of the machine that asks; "" where the server cannot tell."""
    client = scope.get("client")
    return str(client[0]) if client else ""


def is_own_machine(client: str) -> bool:
    """Whether a request comes from the machine the server runs on, by its loopback."""
    return client in LOOPBACK


def asks(scope: Message) -> bool:
    """Whether this is somebody asking, and not the server's own start and stop."""
    return scope["type"] in ("http", "websocket")


async def refuse(
    scope: Message,
    send: Send,
    status: int,
    text: str,
    headers: Headers | None = None,
    code: int = _CLOSED_BY_POLICY,
) -> None:
    """Answer with a sentence and end the connection, without reading what else is sent.

    Args:
        scope: Of the request; a websocket is closed before it opens.
        send: Where the answer goes.
        status: Of the answer.
        text: One sentence for whoever asked; nothing of the request may stand in it.
        headers: Besides the usual.
        code: With which a websocket is closed.
    """
    if scope["type"] == "websocket":
        await send({"type": "websocket.close", "code": code})
        return
    body = text.encode("utf-8")
    usual = [
        _TEXT,
        (b"content-length", str(len(body)).encode("ascii")),
        (b"cache-control", b"no-store"),
        (b"connection", b"close"),
    ]
    sent = [*usual, *(headers or [])]
    await send({"type": "http.response.start", "status": status, "headers": sent})
    await send({"type": "http.response.body", "body": body})
