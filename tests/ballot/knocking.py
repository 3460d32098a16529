"""Asks the door something without a server; each knock runs in a thread with a loop of its own."""

import asyncio
import threading
from urllib.parse import urlencode

from starlette.applications import Starlette

from seatworthy.ballot.door import door_routes


class Door:
    """A door with one browser in front of it.

    Attributes:
        now: What its clock shows.
        cookie: What the browser keeps of it; "" for nothing.
    """

    def __init__(self, desk, **words):
        self.now, self.cookie, self._desk = 1_000.0, "", desk
        self._words = {"is_locked": True} | words
        self._app = None

    def get(self, path="/door", **words):
        """Look at a page: status, headers by name, text."""
        return self._ask("GET", path, b"", **words)

    def post(self, path="/door", client="192.0.2.7", **fields):
        """Send a form."""
        return self._ask("POST", path, urlencode(fields).encode(), client=client)

    def raw(self, body):
        """Send something that is no form."""
        return self._ask("POST", "/door", body)

    def many(self, forms, client="192.0.2.7"):
        """Send forms at once; their statuses."""
        return self._run(self._many([urlencode(form).encode() for form in forms], client))

    def _ask(self, method, path, body, client="192.0.2.7"):
        return self._run(self._one(method, path, body, client))

    def _run(self, waiting):
        found = []
        thread = threading.Thread(target=lambda: found.append(asyncio.run(waiting)))
        thread.start()
        thread.join()
        return found[0]

    async def _many(self, bodies, client):
        answers = await asyncio.gather(*(self._one("POST", "/door", b, client) for b in bodies))
        return [status for status, _, _ in answers]

    async def _one(self, method, path, body, client):
        if self._app is None:
            routes = door_routes(desk_of=lambda: self._desk, clock=lambda: self.now, **self._words)
            self._app = Starlette(routes=routes)
        path, _, query = path.partition("?")
        scope = {
            "type": "http", "method": method, "path": path, "raw_path": path.encode(),
            "query_string": query.encode(), "root_path": "", "scheme": "http",
            "http_version": "1.1", "server": ("127.0.0.1", 80), "client": (client, 50_000),
            "headers": [(b"cookie", self.cookie.encode("latin-1"))] if self.cookie else [],
        }  # fmt: skip
        coming, sent = [{"type": "http.request", "body": body, "more_body": False}], []

        async def receive():
            return coming.pop() if coming else {"type": "http.disconnect"}

        async def send(message):
            sent.append(message)

        await self._app(scope, receive, send)
        headers = {name.decode(): value.decode() for name, value in sent[0]["headers"]}
        if given := headers.get("set-cookie"):
            self.cookie = given.partition(";")[0]
        text = b"".join(part.get("body", b"") for part in sent[1:]).decode()
        return sent[0]["status"], headers, text
