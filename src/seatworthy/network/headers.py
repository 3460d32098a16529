"""What every answer of the server tells the browser it may and may not do."""

import re
from base64 import b64encode
from functools import cache
from hashlib import sha256
from importlib.util import find_spec
from pathlib import Path

from seatworthy.network.asgi import Headers, Message, Receive, Send, Server


class SecurityHeaders:
    """ASGI middleware: the headers below on every answer that does not say its own.

    Args:
        app: The server behind it.
    """

    def __init__(self, app: Server) -> None:
        self._app = app

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        """Pass a request on and add the headers when its answer starts."""

        async def send_with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                own = list(message.get("headers", []))
                said = {name.lower() for name, _ in own}
                message["headers"] = own + [pair for pair in _headers() if pair[0] not in said]
            await send(message)

        await self._app(scope, receive, send_with_headers)


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


# No word that binds a browser to https: the same address may be opened without a certificate
# next week, and a phone would then refuse it.
@cache
def _headers() -> Headers:
    return [
        (b"content-security-policy", content_policy().encode("ascii")),
        (b"x-content-type-options", b"nosniff"),
        (b"x-frame-options", b"DENY"),
        (b"referrer-policy", b"no-referrer"),
    ]


def _own_script_digests() -> list[str]:
    shell = (_frame_folder() / "static" / "index.html").read_text(encoding="utf-8")
    scripts = re.findall(r"<script>(.*?)</script>", shell, flags=re.DOTALL)
    return [f"'sha256-{b64encode(sha256(s.encode()).digest()).decode()}'" for s in scripts]


def _frame_folder() -> Path:
    found = find_spec("streamlit")
    if found is None or found.origin is None:
        message = "the pages' frame is not installed"
        raise ValueError(message)
    return Path(found.origin).parent
