"""Hostile ballots: forms as HTTP bodies, other people's links and glasses, before and after time."""

import asyncio
import re
import threading
from collections.abc import Awaitable, Callable, Coroutine
from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import Any, Final
from urllib.parse import quote, quote_plus, unquote

import fuzz_hostile as hostile
from fuzz_brewery import Brewery, copied
from fuzz_clear import fail, vague
from starlette.applications import Starlette

from seatworthy.ballot.routes import ballot_routes
from seatworthy.steps.ballot_views import OPEN, TALK, BallotGlass, BallotView
from seatworthy.steps.ballots import ballot

_STATUSES: Final = frozenset({200, 303, 400, 404, 405, 409, 410, 422})
_TRACE: Final = re.compile(r"Traceback|Error:|File \"|<module>|seatworthy\.")
_NOTICE: Final = re.compile(r'<p class="notice"[^>]*>(.*?)</p>', re.DOTALL)
_KINDS: Final = {
    "naming": {"words", "something", "nothing"}, "a_not_a": {"yes", "no"}, "intensity": {"rating"},
    "3afc": {"right", "wrong"},
}  # fmt: skip
_STORED: Final = ("answer", "phone_answer", "remark", "talk_answer")


@dataclass(frozen=True)
class Answered:
    """What came back: a status, headers by name, a text."""

    status: int
    headers: dict[str, str]
    text: str


class Ballots:
    """The field of ballots.

    Args:
        folder: Where a brewery may be kept.
    """

    name, share = "ballot", 2

    def __init__(self, folder: Path) -> None:
        self.brewery: Brewery = copied(folder, "ballots")
        routes = ballot_routes(lambda: self.brewery.desk)
        self.app, self.loop = Starlette(routes=routes), asyncio.new_event_loop()
        # A thread of its own: the one that asks may run another loop already.
        self.thread = threading.Thread(target=self.loop.run_forever, daemon=True)
        self.thread.start()
        self.tried = 0
        self.tables = [name for name in self.brewery.counts() if name in _STORED]

    def close(self) -> None:
        """Let the brewery go."""
        self._done(self.loop.shutdown_default_executor())
        self.loop.call_soon_threadsafe(self.loop.stop)
        self.thread.join()
        self.loop.close()
        self.brewery.desk.close()

    def attempt(self, draw: Random) -> bool:
        """Send one form, or look at one page; whether something was stored."""
        self.tried += 1
        session = draw.choice(("open", "open", "open", "open", "release", "closed", "early"))
        secrets = self.brewery.secrets[session]
        secret = secrets[draw.choice(sorted(secrets))]
        view = ballot(self.brewery.desk, secret)
        if draw.random() < 0.06:
            secret, view = _spoiled_secret(draw, secret), None
        if draw.random() < 0.12:
            return self.look(draw, secret)
        place, body = form(draw, view, self.codes(draw))
        return self.send(secret, place, body, view, is_counted=self.tried % 25 == 0)

    def codes(self, draw: Random) -> str:
        """A code of somebody's glass."""
        view = ballot(self.brewery.desk, draw.choice(sorted(self.brewery.secrets["open"].values())))
        return draw.choice([code for glass in view.glasses for code in glass.codes])

    def look(self, draw: Random, secret: str) -> bool:
        """Ask for a page with a hostile address."""
        rest = draw.choice(("", "/", f"/{draw.randint(0, 12)}", f"/{quote(hostile.text(draw)[:40], errors='replace')}",
                            "/unfit", "/1/2", "/../1"))  # fmt: skip
        asked = quote_plus(hostile.text(draw), errors="replace")
        query = draw.choice((f"find={asked}", f"kept={asked}", f"{asked}={asked}", "find=&find=x"))
        version = self.brewery.desk.version
        found = self._ask("GET", f"/b/{secret}{rest}", query, b"")
        check_page(found)
        if self.brewery.desk.version != version:
            fail("looking stored something")
        return False

    def send(
        self, secret: str, place: str, body: bytes, view: BallotView | None, *, is_counted: bool
    ) -> bool:
        """Send a form and judge what became of it."""
        before = self._stored()
        counts = self.brewery.counts() if is_counted else None
        found = self._ask("POST", f"/b/{secret}/{place}", "", body)
        check_page(found)
        after = self._stored()
        grown = {
            table: after[table] - before[table] for table in before if after[table] != before[table]
        }
        if not grown:
            if counts is not None and self.brewery.counts() != counts:
                fail("a form that wasn't kept stored something")
            return False
        self._check_kept(found, view, place, grown)
        return True

    def _check_kept(
        self, found: Answered, view: BallotView | None, place: str, grown: dict[str, int]
    ) -> None:
        if found.status != 303 or view is None or view.state not in (OPEN, TALK):
            fail(f"stored {grown}, said {found.status}, of {view and view.state}")
        meant = unquote(place).lstrip("0")
        glass = next((one for one in view.glasses if str(one.place) == meant), None)
        if glass is None or glass.state == "spilled":
            fail(f"stored {grown} for the place {place}")
        allowed = {"talk_answer": 1} if view.state == TALK else {"answer": 1, "phone_answer": 1}
        if {k: n for k, n in grown.items() if k != "remark"} != allowed or grown.get(
            "remark", 1
        ) > 1:
            fail(f"stored {grown} in {view.state}")
        if view.state == OPEN:
            self._check_row(glass)

    def _check_row(self, glass: BallotGlass) -> None:
        cursor = self.brewery.desk.store.cursor()
        serving, kind, words, rating = cursor.execute(
            "select serving_id, kind, words, rating from answer order by entry_no desc limit 1"
        ).fetchone()
        if serving != glass.serving_id:
            fail("another glass was answered")
        if kind not in _KINDS[glass.method] or (words is not None) != (kind == "words"):
            fail(f"{kind} with {words!r} to {glass.method}")
        if (rating is not None) != (kind == "rating") or (rating is not None and not (
            0 <= rating <= 10 and rating == int(rating)
        )):  # fmt: skip
            fail(f"rated {rating}")
        seen = (words or "").replace("\u200d", "").replace("\u200c", "")
        if len(words or "") > 120 or not seen.isprintable():
            fail(f"stored the words {words!r}")

    def _stored(self) -> dict[str, int]:
        cursor = self.brewery.desk.store.cursor()
        each = " union all ".join(f"select '{n}', count(*) from {n}" for n in self.tables)
        return dict(cursor.execute(each).fetchall())

    def _ask(self, method: str, path: str, query: str, body: bytes) -> Answered:
        return self._done(asked(self.app, method, path, query, body))

    def _done(self, work: Coroutine[Any, Any, Any]) -> Any:
        return asyncio.run_coroutine_threadsafe(work, self.loop).result()


async def asked(app: Any, method: str, path: str, query: str, body: bytes) -> Answered:
    """Ask an application something, without a server."""
    scope = {
        "type": "http", "method": method, "path": unquote(path), "raw_path": path.encode("utf-8", "replace"),
        "query_string": query.encode("ascii", "replace"), "root_path": "", "scheme": "http",
        "http_version": "1.1", "server": ("127.0.0.1", 80), "client": ("192.0.2.7", 50_000),
        "headers": [(b"content-type", b"application/x-www-form-urlencoded")],
    }  # fmt: skip
    half = len(body) // 2
    coming = [{"type": "http.request", "body": body[half:], "more_body": False},
              {"type": "http.request", "body": body[:half], "more_body": True}]  # fmt: skip
    sent: list[dict[str, Any]] = []

    async def receive() -> dict[str, Any]:
        return coming.pop() if coming else {"type": "http.disconnect"}

    async def send(message: dict[str, Any]) -> None:
        sent.append(message)

    waiting: Callable[..., Awaitable[None]] = app
    await waiting(scope, receive, send)
    headers = {name.decode(): value.decode("latin-1") for name, value in sent[0]["headers"]}
    text = b"".join(part.get("body", b"") for part in sent[1:]).decode()
    return Answered(sent[0]["status"], headers, text)


def check_page(found: Answered) -> None:
    """Raise where a page is none of ours, tells of the program, or refuses without a clear word."""
    if found.status not in _STATUSES:
        fail(f"answered with {found.status}: {found.text[:300]}")
    if _TRACE.search(found.text) or re.search(
        r"<script|<img|javascript:", found.text, re.IGNORECASE
    ):
        fail(f"a page with {found.text[:300]!r}")
    if found.status in (409, 422):
        notice = _NOTICE.search(found.text)
        if notice is None:
            fail(f"{found.status} without a word: {found.text[:300]}")
        told = re.sub(r"<[^>]*>|&[#\w]+;", "x", notice[1])
        sentence = "".join(letter if letter.isprintable() else "?" for letter in told)
        if wrong := vague(sentence[-400:]):
            fail(wrong)


def _spoiled_secret(draw: Random, secret: str) -> str:
    return draw.choice((secret[:-1], secret + "A", secret.swapcase(), "x", "..", "%00", "a" * 5000,
                        quote(hostile.text(draw)[:30] or "x", safe="", errors="replace")))  # fmt: skip


def form(draw: Random, view: BallotView | None, code: str) -> tuple[str, bytes]:
    """A place and a form's body, good ones among them."""
    glasses = view.glasses if view else ()
    glass = draw.choice(glasses) if glasses else None
    place = str(glass.place) if glass and draw.random() < 0.9 else draw.choice(
        ("0", "-1", "99", "1e1", "００１", "01", "x", "9999", "10000", "%31", "1.0"))  # fmt: skip
    fields = _good_fields(draw, glass, view)
    for _ in range(draw.choice((0, 1, 1, 2, 4))):
        _spoil(draw, fields, code)
    draw.shuffle(fields)
    body = "&".join(f"{quote_plus(name)}={_sent(draw, value)}" for name, value in fields).encode()
    if draw.random() < 0.08:
        body = hostile.damaged(draw, body)
    if draw.random() < 0.01:
        body += b"&words=" + b"y" * draw.choice((10_000, 17_000, 70_000))
    return place, body


def _good_fields(
    draw: Random, glass: BallotGlass | None, view: BallotView | None
) -> list[tuple[str, str]]:
    if glass is None or view is None:
        return [("what", "nothing"), ("seen", "0")]
    is_after = view.state == TALK
    fields = [("seen", str(glass.afters if is_after else glass.answers))]
    if is_after or draw.random() < 0.02:
        fields.append(("when", "after"))
    if glass.codes and glass.method == "3afc":
        return [*fields, ("what", draw.choice(glass.codes))]
    if glass.method == "intensity":
        return [*fields, ("rating", str(draw.randint(0, 10)))]
    if glass.method == "a_not_a":
        return [*fields, ("what", draw.choice(("yes", "no")))]
    what = draw.choice(("nothing", "something", "diacetyl", "dms", ""))
    words = draw.choice(("banana", "butter", "wet paper")) if what == "" else ""
    return [
        *fields,
        ("what", what),
        ("words", words),
        ("sure", draw.choice(("guess", "certain", ""))),
    ]


def _spoil(draw: Random, fields: list[tuple[str, str]], code: str) -> None:
    name = draw.choice(
        ("what", "words", "rating", "sure", "seen", "when", "unknown", "what", "words")
    )
    value = draw.choice(
        (
            hostile.text(draw),
            hostile.number(draw),
            code,
            "1e9",
            "11",
            "10.0",
            "٣",
            "",
            "something",
            "nothing",
            "diacetyl",
            "furfural",
            "no such",
            "1",
            "after",
        )
    )
    at = next((n for n, field in enumerate(fields) if field[0] == name), None)
    if at is None or draw.random() < 0.2:
        fields.append((name, value))
    elif draw.random() < 0.25:
        del fields[at]
    else:
        fields[at] = (name, value)


def _sent(draw: Random, value: str) -> str:
    if draw.random() < 0.05:
        return draw.choice(("%", "%zz", "%ff%fe", "%00", "%ed%a0%80", "+" * 200, "%0d%0a"))
    return quote_plus(value.encode("utf-8", "surrogatepass"))
