"""What every answer of the server tells the browser it may and may not do."""

import re
from base64 import b64encode
from collections.abc import Awaitable, Callable, MutableMapping
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any, Final
from urllib.parse import urlsplit

import streamlit

OWN_HOSTS: Final = ["127.0.0.1", "localhost"]

_Message = MutableMapping[str, Any]
_Receive = Callable[[], Awaitable[_Message]]
_Send = Callable[[_Message], Awaitable[None]]
_Server = Callable[[_Message, _Receive, _Send], Awaitable[None]]


class SecurityHeaders:
    """ASGI middleware: the headers below on every answer.

    Args:
        app: The server behind it.
    """

    def __init__(self, app: _Server) -> None:
        self._app = app

    async def __call__(self, scope: _Message, receive: _Receive, send: _Send) -> None:
        """Pass a request on and add the headers when its answer starts."""

        async def send_with_headers(message: _Message) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = [*message.get("headers", []), *_headers()]
            await send(message)

        await self._app(scope, receive, send_with_headers)


class OwnOrigins:
    """ASGI middleware: refuses what another site's page asks for, before the framework looks at it.

    The framework would refuse it too, but only after asking a machine outside for this one's address.

    Args:
        app: The server behind it.
    """

    def __init__(self, app: _Server) -> None:
        self._app = app

    async def __call__(self, scope: _Message, receive: _Receive, send: _Send) -> None:
        """Pass a request on if it names no origin, or one of our own hosts."""
        origins = [value for name, value in scope.get("headers", []) if name == b"origin"]
        if all(urlsplit(origin.decode("latin-1")).hostname in OWN_HOSTS for origin in origins):
            await self._app(scope, receive, send)
        elif scope["type"] == "websocket":
            await send({"type": "websocket.close", "code": 1008})
        else:
            await send({"type": "http.response.start", "status": 403, "headers": []})
            await send({"type": "http.response.body", "body": b"Another site's page may not ask."})


def content_policy() -> str:
    """Where a page may take things from: this server, and pictures written in the page.

    Charts compile their expressions, which needs ``unsafe-eval``; the frame writes its styles into
    the page and loads our own component, the answer grid, from a ``blob:``, which only a script
    that runs already can make. Scripts that stand in a page run only if they are the frame's own,
    known by digest.
    """
    scripts = " ".join(["'self'", "'unsafe-eval'", "blob:", *_own_script_digests()])
    return "; ".join(
        [
            "default-src 'self'",
            f"script-src {scripts}",
            "style-src 'self' 'unsafe-inline'",
            "img-src 'self' data: blob:",
            "font-src 'self' data:",
            "connect-src 'self'",
            "worker-src 'self' blob:",
            "object-src 'none'",
            "base-uri 'self'",
            "form-action 'self'",
            "frame-ancestors 'none'",
        ]
    )


@cache
def _headers() -> list[tuple[bytes, bytes]]:
    return [
        (b"content-security-policy", content_policy().encode("ascii")),
        (b"x-content-type-options", b"nosniff"),
        (b"x-frame-options", b"DENY"),
        (b"referrer-policy", b"no-referrer"),
    ]


def _own_script_digests() -> list[str]:
    shell = (Path(streamlit.__file__).parent / "static" / "index.html").read_text(encoding="utf-8")
    scripts = re.findall(r"<script>(.*?)</script>", shell, flags=re.DOTALL)
    return [f"'sha256-{b64encode(sha256(s.encode()).digest()).decode()}'" for s in scripts]
