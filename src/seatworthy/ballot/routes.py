"""The addresses under a ballot's link: who asks for what, and which page answers."""

from collections.abc import Awaitable, Callable
from functools import partial
from typing import Final

from anyio import CapacityLimiter
from anyio.to_thread import run_sync
from starlette.requests import ClientDisconnect, Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import BaseRoute, Route

from seatworthy.ballot.drawing import sent_on
from seatworthy.ballot.forms import LONGEST_BODY, WORDS_LENGTH, BadForm, read_form
from seatworthy.ballot.look import LOOK_ROUTE, style_address, style_sheet
from seatworthy.ballot.pages import (
    Notice,
    address_of,
    busy_page,
    feedback_page,
    glass_page,
    gone_page,
    overview_page,
    unfit_page,
    words_of,
)
from seatworthy.ballot.texts import language_of
from seatworthy.errors import PanelError
from seatworthy.steps import ballot_feedback, ballots
from seatworthy.steps.ballot_views import (
    OPEN,
    REVEALED,
    TALK,
    BallotDone,
    BallotGlass,
    BallotView,
    FormAnswer,
    OwnAnswer,
)
from seatworthy.steps.desk import Desk, held_desk

_METHODS: Final = ("GET", "POST", "PUT", "PATCH", "DELETE", "OPTIONS")
# Many threads at once hinder one another more than they help; and readers never wait for writers.
_READERS: Final = 4
_WRITERS: Final = 3
_STATUS: Final = {"refused": 422, "meanwhile": 409, "closed": 409}


def ballot_routes(desk_of: Callable[[], Desk] = held_desk) -> list[BaseRoute]:
    """Every address that a ballot's link opens, and the style sheet.

    Args:
        desk_of: Gives the open desk.
    """
    ballot = _Ballot(desk_of)
    return [
        Route(f"{LOOK_ROUTE}/{{name}}", _look),
        Route("/b/{secret}", ballot.overview),
        Route("/b/{secret}/", ballot.overview),  # as some messengers write it
        Route("/b/{secret}/unfit", ballot.ask_unfit),
        Route("/b/{secret}/unfit", ballot.unfit, methods=["POST"]),
        Route("/b/{secret}/fit", ballot.fit, methods=["POST"]),
        Route("/b/{secret}/{place}", ballot.glass),
        Route("/b/{secret}/{place}", ballot.send, methods=["POST"]),
        Route("/b", _nothing, methods=_METHODS),
        Route("/b/{rest:path}", _nothing, methods=_METHODS),
    ]


def _look(request: Request) -> Response:
    if request.url.path != style_address():
        return PlainTextResponse("", 404)
    kept = {"Cache-Control": "public, max-age=31536000, immutable"}
    return Response(
        style_sheet(), media_type="text/css", headers={**kept, "X-Content-Type-Options": "nosniff"}
    )


def _nothing(request: Request) -> Response:
    return gone_page(_language(request))


def _language(request: Request) -> str:
    return language_of(request.headers.get("accept-language", ""))


_Page = Callable[[Request], Response]
_AwaitedPage = Callable[[Request], Awaitable[Response]]


def _in_thread(page: _Page, limiter: CapacityLimiter) -> _AwaitedPage:
    async def awaited(request: Request) -> Response:
        return await run_sync(page, request, limiter=limiter)

    return awaited


class _Ballot:
    """The pages of the ballots at one desk.

    Args:
        desk_of: Gives the open desk.
    """

    def __init__(self, desk_of: Callable[[], Desk]) -> None:
        self._desk_of = desk_of
        self._readers, self._writers = CapacityLimiter(_READERS), CapacityLimiter(_WRITERS)

    def reading(self, page: _Page) -> _AwaitedPage:
        """A page that only looks, in one of the readers' threads."""
        return _in_thread(page, self._readers)

    def writing(self, page: _Page) -> _AwaitedPage:
        """A page that records something, in one of the writers' threads."""
        return _in_thread(page, self._writers)

    def overview(self, request: Request) -> Response:
        """Where somebody stands; after the reveal, their own glasses."""
        return self._with_view(request, lambda view, secret: self._overview(request, view, secret))

    def _overview(self, request: Request, view: BallotView, secret: str) -> Response:
        if view.state != REVEALED:
            return overview_page(view, secret, _kept(request, view))
        feedback = ballot_feedback.own_feedback(self._desk_of(), secret)
        return feedback_page(feedback, view.names) if feedback else _nothing(request)

    def ask_unfit(self, request: Request) -> Response:
        """Ask whether somebody really does not taste today."""

        def page(view: BallotView, secret: str) -> Response:
            return unfit_page(view, secret) if view.state == OPEN else sent_on(address_of(secret))

        return self._with_view(request, page)

    def unfit(self, request: Request) -> Response:
        """Note that somebody does not taste today."""
        return self._says(request, ballots.not_fit)

    def fit(self, request: Request) -> Response:
        """Take that back."""
        return self._says(request, ballots.fit_after_all)

    def glass(self, request: Request) -> Response:
        """One glass with its form."""

        def page(view: BallotView, secret: str) -> Response:
            glass = _at(view, _place(request))
            if glass is None or not _takes_a_form(view, glass):
                return sent_on(address_of(secret))
            find = request.query_params.get("find", "")
            return glass_page(view, glass, secret, find=find, kept=_kept(request, view))

        return self._with_view(request, page)

    async def send(self, request: Request) -> Response:
        """Take a form; its body is awaited here, so that a slow phone holds no thread."""
        body = bytearray()
        try:
            async for part in request.stream():
                body += part[: LONGEST_BODY + 1 - len(body)]
        except ClientDisconnect:
            return PlainTextResponse("", 400)
        send = partial(self._send, body=bytes(body))
        return await self.writing(send)(request)

    def _send(self, request: Request, body: bytes) -> Response:
        secret, place = request.path_params["secret"], _place(request)
        form = None
        try:
            form = read_form(body)
            done = ballots.answer(self._desk_of(), secret, place, form)
        except BadForm:
            return self._with_view(request, lambda view, _: _came_back(
                BallotDone("refused", "unreadable", view), secret, place, FormAnswer()
            ))  # fmt: skip
        except PanelError:
            return busy_page(_language(request), address_of(secret, place), form)
        if done is None:
            return _nothing(request)
        if done.outcome in ("kept", "known"):
            return sent_on(_next_address(done.view, secret, place))
        return _came_back(done, secret, place, form)

    def _says(self, request: Request, say: Callable[[Desk, str], BallotView | None]) -> Response:
        secret = request.path_params["secret"]
        try:
            view = say(self._desk_of(), secret)
        except PanelError:
            return busy_page(_language(request), address_of(secret))
        return _nothing(request) if view is None else sent_on(address_of(secret))

    def _with_view(self, request: Request, page: Callable[[BallotView, str], Response]) -> Response:
        secret = request.path_params["secret"]
        try:
            view = ballots.ballot(self._desk_of(), secret)
            return _nothing(request) if view is None else page(view, secret)
        except PanelError:
            return busy_page(_language(request), address_of(secret))


def _place(request: Request) -> int:
    """The place that an address names; 0, which no glass has, for anything else."""
    text = request.path_params["place"]
    return int(text) if text.isascii() and text.isdigit() and len(text) < 5 else 0


def _at(view: BallotView, place: int) -> BallotGlass | None:
    return next((glass for glass in view.glasses if glass.place == place), None)


def _kept(request: Request, view: BallotView) -> BallotGlass | None:
    """The answered glass that the address says was stored just now."""
    kept = request.query_params.get("kept", "")
    return next((g for g in view.glasses if g.answer is not None and str(g.place) == kept), None)


def _takes_a_form(view: BallotView, glass: BallotGlass) -> bool:
    """Whether something may be said of a glass now; after the talk only where it was before."""
    return view.state == OPEN or (view.state == TALK and glass.answer is not None)


def _next_address(view: BallotView, secret: str, place: int) -> str:
    """The next glass that waits, after this one and then from the start; else the overview."""
    waiting = view.waits_after if view.state == TALK else view.waiting
    after = [glass for glass in waiting if glass.place > place] or list(waiting)
    return f"{address_of(secret, after[0].place if after else '')}?kept={place}"


def _came_back(done: BallotDone, secret: str, place: int, form: FormAnswer) -> Response:
    """The page that says why a form was not stored, with all that was in it."""
    view, glass = done.view, _at(done.view, place)
    words = words_of(view)
    if done.outcome == "refused":
        text = words.texts.say(f"refused.{done.fault}", most=WORDS_LENGTH)
    elif done.outcome == "meanwhile":
        text = words.texts.say("refused.meanwhile", said=words.said(_said_last(view, glass)))
    else:
        text = words.texts.say("refused.closed", said=words.sent(form))
    notice = Notice(text, 503 if done.fault == "no_room" else _STATUS[done.outcome])
    if glass is None or not _takes_a_form(view, glass) or form.is_after != (view.state == TALK):
        return overview_page(view, secret, notice=notice)
    return glass_page(view, glass, secret, form=form, notice=notice)


def _said_last(view: BallotView, glass: BallotGlass | None) -> OwnAnswer | None:
    """What is on record of a glass: since the talk, where that is open."""
    if glass is None:
        return None
    return glass.after if view.state == TALK else glass.answer
