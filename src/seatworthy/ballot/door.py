"""The door of the pages: the leader's passphrase or the brewers' is typed here, and given back here."""

import asyncio
import re
import time
from collections.abc import Callable
from typing import Final
from urllib.parse import parse_qs

from starlette.concurrency import run_in_threadpool
from starlette.requests import ClientDisconnect, Request
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from seatworthy.ballot.door_tries import DoorTries
from seatworthy.ballot.drawing import HEADERS, sent_on, templates
from seatworthy.ballot.look import style_address
from seatworthy.errors import PanelError
from seatworthy.steps.brewer_passphrase import check_brewers_passphrase
from seatworthy.steps.desk import Desk, held_desk
from seatworthy.steps.leader_tickets import LASTS_S, TICKET_COOKIE, give_back, new_ticket, role_of
from seatworthy.steps.passphrase import check_passphrase, has_passphrase
from seatworthy.steps.roles import BREWER, LEADER, Role, is_brewers_page

_LONGEST_FORM: Final = 4_096
_CHECKED_AT_ONCE: Final = 2  # each takes 32 MiB
_MAY_QUEUE: Final = 10
_OWN_ADDRESS = re.compile(
    r"/(?![/\\])[!#-\[\]-~]*"
)  # of this server: no host, no quote, no backslash
_LONGEST_ADDRESS: Final = 2_000


def door_routes(
    *,
    is_locked: bool,
    is_encrypted: bool = False,
    desk_of: Callable[[], Desk] = held_desk,
    clock: Callable[[], float] = time.monotonic,
) -> list[BaseRoute]:
    """The addresses of the door.

    Args:
        is_locked: Whether the leader's pages ask for the passphrase; else the door leads to them.
        is_encrypted: Whether pages travel by TLS; then the ticket does too, always.
        desk_of: Gives the open desk.
        clock: Seconds that only grow, for what follows wrong tries.
    """
    if not is_locked:
        return [Route("/door", _to_pages, methods=["GET", "POST"])]
    door = _Door(desk_of, DoorTries(clock), is_encrypted)
    return [
        Route("/door", door.show),
        Route("/door", door.knock, methods=["POST"]),
        Route("/door/leave", door.leave, methods=["POST"]),
    ]


def _to_pages(_: Request) -> Response:
    return sent_on("/")


class _Door:
    def __init__(self, desk_of: Callable[[], Desk], tries: DoorTries, is_encrypted: bool) -> None:
        self._desk_of, self._tries, self._is_encrypted = desk_of, tries, is_encrypted
        self._checking = asyncio.Semaphore(_CHECKED_AT_ONCE)
        self._queued = 0

    def show(self, request: Request) -> Response:
        """The form, or for whoever is in the way on and the way out."""
        try:
            is_in = role_of(self._desk_of(), _ticket(request), time.time()) is not None
            is_set = has_passphrase(self._desk_of())
        except PanelError:
            return _busy()
        to = own_address(request.query_params.get("to", ""))
        said = "" if is_set else "No passphrase is set. Open Seatworthy anew with --new-passphrase."
        return _page("door_inside" if is_in else "door", to=to, said=said)

    async def knock(self, request: Request) -> Response:
        """Take a passphrase."""
        client = request.client.host if request.client else ""
        form = await _form(request)
        to = own_address(form.get("to", ""))
        if wait_s := self._tries.wait_s(client):
            again = {"Retry-After": str(int(wait_s) + 1)}
            said = f"Too many wrong passphrases. The next one is read in {_words(wait_s)}."
            return _page("door", 429, again, to=to, said=said)
        if self._queued >= _MAY_QUEUE:
            return _page(
                "door", 503, {"Retry-After": "5"}, to=to, said="Busy. Once more in a moment."
            )
        self._tries.begin(client)
        try:
            role = await self._role(form.get("passphrase", ""))
        except PanelError:
            return _busy()
        if role is None:
            return _page("door", 403, to=to, said="This is not the passphrase.")
        self._tries.right(client)
        return self._let_in(role, to)

    async def _role(self, passphrase: str) -> Role | None:
        self._queued += 1
        try:
            async with self._checking:
                return await run_in_threadpool(_whose, self._desk_of(), passphrase)
        finally:
            self._queued -= 1

    def _let_in(self, role: Role, to: str) -> Response:
        if role == BREWER and not is_brewers_page(to.partition("?")[0]):
            to = "/"  # somebody may have begun at a page of the leader's
        answer = RedirectResponse(to, 303, dict(HEADERS))
        answer.set_cookie(
            TICKET_COOKIE,
            new_ticket(self._desk_of(), time.time(), role),
            max_age=LASTS_S,
            path="/",
            secure=self._is_encrypted,
            httponly=True,
            samesite="lax",
        )
        return answer

    def leave(self, request: Request) -> Response:
        """Give the ticket back."""
        ticket = _ticket(request)
        try:
            if role_of(self._desk_of(), ticket, time.time()) is not None:
                give_back(ticket)
        except PanelError:
            return _busy()
        answer = sent_on("/door")
        answer.delete_cookie(TICKET_COOKIE, path="/", secure=self._is_encrypted, httponly=True)
        return answer


def closed_page() -> Response:
    """What a brewer reads at an address of the leader's, with a way on and a way out."""
    return _page("door_closed", 403)


def own_address(text: str) -> str:
    """An address of this server, as it was asked for before; "/" for anything else."""
    is_own = len(text) <= _LONGEST_ADDRESS and _OWN_ADDRESS.fullmatch(text)
    return text if is_own else "/"


def _whose(desk: Desk, passphrase: str) -> Role | None:
    if check_passphrase(desk, passphrase):
        return LEADER
    return BREWER if check_brewers_passphrase(desk, passphrase) else None


def _ticket(request: Request) -> str:
    return request.cookies.get(TICKET_COOKIE, "")


async def _form(request: Request) -> dict[str, str]:
    """The fields of a form, each once; empty for what is none."""
    body = bytearray()
    try:
        async for part in request.stream():
            body += part[: _LONGEST_FORM + 1 - len(body)]
        fields = parse_qs(body[:_LONGEST_FORM].decode("ascii"), max_num_fields=8)
    except (ClientDisconnect, ValueError):
        return {}
    return {name: values[0] for name, values in fields.items()}


def _page(
    template: str, status: int = 200, headers: dict[str, str] | None = None, **values: str
) -> Response:
    text = templates().get_template(f"{template}.html")
    page = text.render(language="en", style_address=style_address(), **values)
    return HTMLResponse(page, status, {**HEADERS, **(headers or {})})


def _busy() -> Response:
    return _page("door", 503, to="/", said="The record could not be read. Once more in a moment.")


def _words(seconds: float) -> str:
    if seconds < 90:
        return f"{int(seconds) + 1} seconds"
    return f"{int(seconds // 60) + 1} minutes"
