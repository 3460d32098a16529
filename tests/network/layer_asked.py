"""Asks a layer something, without a server; what it answers and what got through to the inside."""

import asyncio
import threading
from dataclasses import dataclass, field


@dataclass
class Answer:
    """What came of it."""

    sent: list = field(default_factory=list)
    reached: list = field(default_factory=list)
    brought: bytes = b""

    @property
    def status(self):
        """Of the answer; None for a live page."""
        return self.sent[0].get("status") if self.sent else None

    @property
    def closed_with(self):
        """Code with which a live page was closed."""
        return self.sent[0].get("code") if self.sent else None

    @property
    def headers(self):
        """Of the answer, by name."""
        return {name.decode(): value.decode() for name, value in self.sent[0]["headers"]}

    @property
    def text(self):
        """The answer's body."""
        return b"".join(part.get("body", b"") for part in self.sent[1:]).decode()


def scope_of(path="/", *, kind="http", method="GET", client="192.0.2.7", **words):
    """A request from a phone; `headers` as a dictionary, or as pairs where names repeat."""
    headers = words.pop("headers", {})
    pairs = headers.items() if isinstance(headers, dict) else headers
    path, _, query = path.partition("?")
    scope = {
        "type": kind,
        "method": method,
        "scheme": "http" if kind == "http" else "ws",
        "path": path,
        "raw_path": path.encode("utf-8", "surrogatepass"),
        "query_string": query.encode(),
        "client": (client, 50_000),
        "headers": [(name.encode(), value.encode("latin-1")) for name, value in pairs],
    }
    return scope | words


def run(waiting):
    """Finish something that waits, in a thread: a browser test's event loop may be running here."""
    found = []

    def finish():
        try:
            found.append(asyncio.run(waiting))
        except BaseException as error:  # noqa: BLE001 - handed on below
            found.append(error)

    thread = threading.Thread(target=finish)
    thread.start()
    thread.join()
    if isinstance(found[0], BaseException):
        raise found[0]
    return found[0]


async def answer_of(make, scope, *, brings=(), inside_says=200):
    """Ask a layer made around a plain server.

    Args:
        make: Makes the layer around a server.
        scope: What is asked.
        brings: Messages of the body; `None` where nothing comes any more.
        inside_says: Status that the server inside answers.
    """
    got, coming = Answer(), list(brings)

    async def inside(scope, receive, send):
        got.reached.append(scope)
        if scope["type"] == "http" and coming_or_sent(scope):
            more = True
            while more:
                message = await receive()
                got.brought += message.get("body", b"")
                more = message.get("more_body", False)
        if scope["type"] == "http":
            await send({"type": "http.response.start", "status": inside_says, "headers": []})
            await send({"type": "http.response.body", "body": b"inside"})

    def coming_or_sent(scope):
        return scope["method"] in ("POST", "PUT")

    async def receive():
        if not coming:
            return {"type": "http.request", "body": b"", "more_body": False}
        if coming[0] is None:
            await asyncio.sleep(3600)
        return coming.pop(0)

    async def send(message):
        got.sent.append(message)

    await make(inside)(scope, receive, send)
    return got


def asked(make, scope, **words):
    """`answer_of`, finished."""
    return run(answer_of(make, scope, **words))
