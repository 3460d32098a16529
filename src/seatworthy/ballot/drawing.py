"""A page: a template, its texts, and what every answer of a ballot tells the browser."""

from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Final

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.responses import HTMLResponse, RedirectResponse

from seatworthy.ballot.look import style_address
from seatworthy.ballot.wording import Wording

HEADERS: Final = MappingProxyType(
    {
        "Content-Security-Policy": (
            "default-src 'none'; style-src 'self'; font-src 'self'; img-src 'self' data:; "
            "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
        ),
        "Cache-Control": "no-store",
        "Referrer-Policy": "same-origin",  # with no-referrer a form names no origin and is refused
        "X-Content-Type-Options": "nosniff",
        "X-Frame-Options": "DENY",
        "X-Robots-Tag": "noindex",
    }
)


@cache
def templates() -> Environment:
    """The templates of this folder; whatever is put into one is escaped, whoever wrote it."""
    return Environment(
        loader=FileSystemLoader(Path(__file__).parent / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def drawn(template: str, words: Wording, status: int = 200, **values: object) -> HTMLResponse:
    """A page.

    Args:
        template: Name of the file without its ending.
        words: The language it is in.
        status: Of the answer.
        values: By the name under which the template knows them.
    """
    page = (
        templates()
        .get_template(f"{template}.html")
        .render(
            words=words,
            say=words.texts.say,
            language=words.texts.language,
            style_address=style_address(),
            **values,
        )
    )
    return HTMLResponse(page, status, dict(HEADERS))


def sent_on(address: str) -> RedirectResponse:
    """An answer that sends the phone to another page, which it then asks for."""
    return RedirectResponse(address, 303, dict(HEADERS))
