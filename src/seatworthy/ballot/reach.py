"""The page that shows a phone that it reaches the tasting table's computer."""

import tomllib
from datetime import datetime
from functools import cache
from importlib.resources import files

from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import BaseRoute, Route

from seatworthy.ballot.drawing import HEADERS, templates
from seatworthy.ballot.look import style_address
from seatworthy.ballot.texts import language_of


def reach_routes() -> list[BaseRoute]:
    """The one address; it needs no link and tells nothing."""
    return [Route("/reach", _reach)]


def _reach(request: Request) -> Response:
    language = language_of(request.headers.get("accept-language", ""))
    page = (
        templates()
        .get_template("reach.html")
        .render(
            language=language,
            style_address=style_address(),
            texts=reach_texts(language),
            time=f"{datetime.now().astimezone():%H:%M:%S}",
        )
    )
    return HTMLResponse(page, headers=dict(HEADERS))


@cache
def reach_texts(language: str) -> dict[str, str]:
    """The sentences of the page in one language.

    Raises:
        FileNotFoundError: if there are none in that language.
    """
    file = files(__package__) / "texts" / f"reach_{language}.toml"
    return tomllib.loads(file.read_text("utf-8"))
